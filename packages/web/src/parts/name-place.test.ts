import { expect, test } from 'vitest';
import { nameFaults, namePlace } from './name-place.js';

const records = {
  zones: [
    {
      id: 'converter',
      name: 'power converter',
      x_mm: 1,
      y_mm: 1,
      length_mm: 2,
      width_mm: 2,
      height_mm: 1,
    },
  ],
  setups: [
    { id: 'bare', name: 'bare', layers: [] },
    {
      id: 'plate',
      name: 'plate',
      layers: [{ material: 'polyimide' as const, name: 'polyimide film', thickness_mm: 0.06 }],
    },
  ],
};

test.each([
  ['zones.converter', 'Zone power converter'],
  ['setups.bare', 'Set-up bare'],
  ['setups.plate.layers[0]', 'Set-up plate, layer 1, polyimide film'],
  ['setups.plate.layers[0].thickness_mm', 'Set-up plate, layer 1, polyimide film'],
  ['newPack.outline', 'Outline of the new pack'],
  ['zones.gone', null],
  ['heat', null],
])('%s is called %s', (where, name) => {
  expect(namePlace(records, where)).toBe(name);
});

test('a fault keeps what it says, and a place that is in no record', () => {
  const said = { what: 'It reaches outside the board.', remedy: 'Check its place and size.' };
  expect(
    nameFaults(records, [
      { where: 'zones.converter', ...said },
      { where: 'heat', ...said },
    ]),
  ).toEqual([
    { where: 'Zone power converter:', ...said },
    { where: 'heat', ...said },
  ]);
});
