import { checkBuild, newBuild, type Setup } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { addTo } from '../build/change-build.js';
import {
  addLayer,
  changeFinish,
  changeLayer,
  changeMaterial,
  changeStrips,
  type Draft,
  finishesOf,
  gradesOf,
  hasOtherFaces,
  insetOf,
  isChanged,
  moveLayer,
  nameOfDraft,
  recordOf,
  removeLayer,
  restartDraft,
  startDraft,
  wishOf,
  withInset,
} from './draft.js';

const pack = { x_mm: 13, y_mm: 4, length_mm: 118, width_mm: 50 };
const plate: Setup = {
  id: 'plate',
  name: 'plate',
  layers: [
    { material: 'polyimide', name: 'polyimide film', thickness_mm: 0.06 },
    {
      material: 'aluminium',
      name: 'aluminium plate',
      thickness_mm: 0.5,
      outline: { x_mm: 17, y_mm: 8, length_mm: 110, width_mm: 42 },
    },
  ],
};
const build = {
  ...newBuild('b', 'B'),
  setups: [{ id: 'bare', name: 'bare', layers: [] }, plate],
  designAmbient: { ambient_C: 32 },
};
const start = startDraft(build, 'plate');
const thicker = (draft: Draft) => changeLayer(draft, 1, (layer) => ({ ...layer, thickness_mm: 0.8 }));

describe('a draft', () => {
  test('starts as its set-up, on the worst day, with the faces of the runs and their load', () => {
    expect(start.layers).toEqual(plate.layers);
    expect(start.ambient_C).toBe(32);
    expect(isChanged(build, start)).toBe(false);
    const wish = wishOf(build, start);
    expect(wish.surroundings).toBeUndefined();
    expect(wish.use).toEqual({ charging: false, load_W: null });
    expect(wish.grid).toBeUndefined();
  });

  test('leaves the set-up of the build as it is', () => {
    const before = JSON.stringify(build);
    thicker(start);
    addLayer(start, 'air');
    withInset(plate.layers[1] as Setup['layers'][number], pack, 6);
    expect(JSON.stringify(build)).toBe(before);
  });

  test('asks for other faces only where they are not those of the runs', () => {
    const onCloth = { ...start, surroundings: { ...start.surroundings, back: 'cloth' as const } };
    expect(hasOtherFaces(build, onCloth)).toBe(true);
    expect(wishOf(build, onCloth).surroundings?.back).toBe('cloth');
    expect(hasOtherFaces(build, start)).toBe(false);
  });

  test('is named for what is different about it', () => {
    expect(nameOfDraft(build, start)).toBe('plate');
    expect(nameOfDraft(build, thicker(start))).toBe('plate with aluminium plate 0.8 mm');
    expect(nameOfDraft(build, removeLayer(start, 0))).toBe('plate with no polyimide film');
    expect(nameOfDraft(build, addLayer(thicker(start), 'air'))).toBe(
      'plate with aluminium plate 0.8 mm and air gap 0.3 mm',
    );
    const striped = changeLayer(start, 1, (layer) => changeStrips(layer, { count: 5, width_mm: 4 }));
    expect(nameOfDraft(build, striped)).toBe('plate with aluminium plate 0.5 mm in 5 strips of 4 mm');
  });

  test('becomes a record that the build takes, under an id of its own', () => {
    const kept = addTo(build, 'setups', recordOf(build, thicker(start)));
    const checked = checkBuild(JSON.parse(JSON.stringify(kept)));
    expect(checked.setups).toHaveLength(3);
    expect(checked.setups[2]?.id).toBe('plate-with-aluminium-plate-0-8-mm');
    expect(checked.setups[2]?.layers[1]?.thickness_mm).toBe(0.8);
  });

  test('laid anew keeps room and view', () => {
    const moved = { ...thicker(start), ambient_C: 40, plane: 'board' as const };
    const again = restartDraft(build, moved, 'bare');
    expect(again).toMatchObject({ from: 'bare', layers: [], ambient_C: 40, plane: 'board' });
  });

  test('moves a layer within the stack and nowhere else', () => {
    expect(moveLayer(start, 0, 1).layers.map(({ material }) => material)).toEqual(['aluminium', 'polyimide']);
    expect(moveLayer(start, 0, 2)).toBe(start);
    expect(moveLayer(start, 0, -1)).toBe(start);
  });
});

describe('a layer', () => {
  const sheet = plate.layers[1] as Setup['layers'][number];

  test('lies inside the pack’s edge by what its outline says, the same all round', () => {
    expect(insetOf(sheet, pack)).toBe(4);
    expect(insetOf(plate.layers[0] as typeof sheet, pack)).toBe(0);
    expect(insetOf({ ...sheet, outline: { ...pack, x_mm: 20 } }, pack)).toBeNull();
    for (const inset of [0, 0.5, 4, 7.3]) expect(insetOf(withInset(sheet, pack, inset), pack)).toBe(inset);
  });

  test('of another material leaves grade, finish and data sheet of the old one behind', () => {
    const copper = changeMaterial(
      { ...sheet, grade: 'aluminium-1050', finish: 'anodised', k_W_per_mK: 222 },
      'copper',
    );
    expect(copper).toEqual({ ...sheet, material: 'copper', name: 'copper sheet' });
  });

  test('of “other” starts with a grade: without one nothing would be known of it', () => {
    const added = addLayer(start, 'other').layers.at(-1);
    expect(added?.grade).toBeDefined();
    expect(gradesOf(added as typeof sheet).map(([id]) => id)).toContain(added?.grade);
  });

  test('offers the grades and finishes of the table, and no choice where there is none', () => {
    expect(gradesOf(sheet).map(([id]) => id)).toEqual(
      expect.arrayContaining(['aluminium-1050', 'aluminium-5052']),
    );
    expect(finishesOf(sheet).map(([finish]) => finish)).toEqual(['bare', 'oxidised', 'anodised', 'painted']);
    expect(finishesOf({ ...sheet, material: 'air' })).toEqual([]);
    expect(changeFinish({ ...sheet, finish: 'painted' }, undefined)).toEqual(sheet);
  });
});
