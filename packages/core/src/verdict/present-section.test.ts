import { describe, expect, test } from 'vitest';
import {
  boxesOverlap,
  type Drawing,
  drawPlan,
  drawSection,
  drawSectionDetail,
  findTextBoxes,
  type Shape,
  sectionDepths,
  temperatureColour,
} from '../drawing/index.js';
import { type Build, newBuild } from '../records/index.js';
import { presentPlan } from './present-plan.js';
import { presentSection } from './present-section.js';
import type { SectionReading } from './section-parts.js';

const outline = (x_mm: number, y_mm: number, length_mm: number, width_mm: number) => ({
  x_mm,
  y_mm,
  length_mm,
  width_mm,
});

/** An invented device; its thicknesses are those of the sums below. */
function makeBuild(more: Partial<Build> = {}): Build {
  return {
    ...newBuild('r2', 'Recorder'),
    designAmbient: { ambient_C: 32 },
    device: {
      name: 'Recorder',
      length_mm: 148,
      width_mm: 58,
      frontShell_mm: 1.8,
      frontGap_mm: 2.4,
      board: { ...outline(6, 5, 136, 48), thickness_mm: 1.2 },
      bay_mm: 13.7,
      backShell_mm: 1.8,
    },
    newPack: {
      name: 'two-cell pouch',
      series: 2,
      parallel: 1,
      energy_Wh: 38,
      outline: outline(10, 6, 125, 46),
      thickness_mm: 9.9,
    },
    zones: [
      { id: 'radio', name: 'radio', ...outline(20, 34, 20, 16), height_mm: 1, load_W: 0.5 },
      { id: 'cpu', name: 'processor', ...outline(52, 22, 14, 16), height_mm: 2.2, load_W: 3 },
    ],
    probes: [
      { id: 'z1', name: 'processor', place: 'zone', zone: 'cpu' },
      { id: 'z2', name: 'radio', place: 'zone', zone: 'radio' },
      { id: 'c1', name: 'cell 1', place: 'cell', cell: 1 },
      { id: 'c2', name: 'cell 2', place: 'cell', cell: 2 },
      { id: 'a', name: 'ambient', place: 'ambient' },
    ],
    setups: [
      { id: 'bare', name: 'bare', layers: [] },
      {
        id: 'gap',
        name: 'plate + gap',
        layers: [
          { material: 'polyimide', name: 'polyimide film', thickness_mm: 0.06 },
          {
            material: 'aluminium',
            name: 'aluminium plate',
            thickness_mm: 0.5,
            outline: outline(16, 8, 110, 42),
          },
          {
            material: 'aluminium',
            name: 'spacer strips',
            thickness_mm: 0.5,
            outline: outline(20, 10, 100, 38),
            strips: { count: 5, width_mm: 3 },
          },
          { material: 'tape', name: 'tape', thickness_mm: 0.04 },
        ],
      },
      {
        id: 'thick',
        name: 'thick',
        layers: Array.from({ length: 20 }, (_, index) => ({
          material: 'foam' as const,
          name: `foam of a very long name ${index}`,
          thickness_mm: 0.2,
        })),
      },
    ],
    ...more,
  };
}

const readings: SectionReading[] = [
  { probe: 'z1', level_C: 63.4, u_K: 0.9 },
  { probe: 'z2', level_C: 55.1, u_K: 0.5 },
  { probe: 'c1', level_C: 52.9, u_K: 0.4, sub: '7.1 K below limit', shortSub: '7.1 K below' },
  { probe: 'c2', level_C: 51.3, u_K: 0.4, sub: '8.7 K below limit', shortSub: '8.7 K below' },
];

function viewOf(build: Build, setup: string, read: readonly SectionReading[] = readings) {
  const { section, missing } = presentSection(build, setup, read);
  if (section === null) throw new Error(missing.join(', '));
  return section.view;
}

function walk(shapes: readonly Shape[]): Shape[] {
  return shapes.flatMap((shape) => [shape, ...walk(shape.children ?? [])]);
}

const boxOf = ({ attrs }: Shape) => {
  const [x, y, width, height] = ['x', 'y', 'width', 'height'].map((key) => Number(attrs[key]));
  return { left: x ?? 0, right: (x ?? 0) + (width ?? 0), top: y ?? 0, bottom: (y ?? 0) + (height ?? 0) };
};

function expectLegible(drawing: Drawing): void {
  const boxes = findTextBoxes(drawing.shapes);
  for (const [index, box] of boxes.entries()) {
    expect(box.left, box.words).toBeGreaterThanOrEqual(-0.5);
    expect(box.right, box.words).toBeLessThanOrEqual(drawing.width + 0.5);
    expect(box.top, box.words).toBeGreaterThanOrEqual(-0.5);
    expect(box.bottom, box.words).toBeLessThanOrEqual(drawing.height + 0.5);
    for (const other of boxes.slice(index + 1))
      expect(boxesOverlap(box, other, -0.5), `"${box.words}" over "${other.words}"`).toBe(false);
  }
  expect(JSON.stringify(drawing.shapes)).not.toMatch(/NaN|null|Infinity/);
}

/** Chips cover neither each other nor any ring, which is what they name. */
function expectChipsApart(drawing: Drawing): void {
  const shapes = walk(drawing.shapes);
  const chips = shapes.filter((shape) => shape.attrs['class'] === 'chip').map(boxOf);
  const rings = shapes
    .filter((shape) => shape.attrs['class'] === 'pt')
    .map(({ attrs }) => [Number(attrs['cx']), Number(attrs['cy'])] as const);
  for (const [index, chip] of chips.entries()) {
    for (const other of chips.slice(index + 1)) expect(boxesOverlap(chip, other)).toBe(false);
    for (const [x, y] of rings)
      expect(boxesOverlap(chip, { left: x - 4, right: x + 4, top: y - 4, bottom: y + 4 })).toBe(false);
  }
}

describe('the stack of a section', () => {
  // Derived here: thicknesses add. 1.8 + 2.4 + 1.2 + 13.7 + 1.8 = 20.9 mm.
  test('adds up to the thickness of the device, whatever the set-up', () => {
    for (const setup of ['bare', 'gap']) {
      const view = viewOf(makeBuild(), setup);
      expect(view.rows.reduce((sum, row) => sum + row.thickness_mm, 0)).toBeCloseTo(20.9, 9);
      expect(sectionDepths(view).total).toBeCloseTo(20.9, 9);
    }
  });

  // 13.7 - 2.2 - 9.9 = 1.6 mm; the layers take 0.06 + 0.5 + 0.5 + 0.04 = 1.1 mm of it.
  test('leaves for swelling what the bay has over', () => {
    expect(viewOf(makeBuild(), 'bare').reserve_mm).toBeCloseTo(1.6, 9);
    expect(viewOf(makeBuild(), 'gap').reserve_mm).toBeCloseTo(0.5, 9);
  });

  // 20 layers of 0.2 mm are 4.0 mm, 2.4 mm more than there is.
  test('says so when a set-up is thicker than the bay', () => {
    const view = viewOf(makeBuild(), 'thick');
    expect(view.reserve_mm).toBeCloseTo(-2.4, 9);
    const row = view.rows.find((each) => each.name === 'too thick by');
    expect(row?.thickness_mm).toBeCloseTo(2.4, 9);
    expect(view.rows.some((each) => each.name === 'swelling reserve')).toBe(false);
    for (const width of [912, 656, 350]) {
      const drawing = drawSection(view, width);
      expect(findTextBoxes(drawing.shapes).map((box) => box.words)).toContain('2.4 mm too thick for the bay');
      expect(walk(drawing.shapes).some((shape) => shape.attrs['class'] === 'lim')).toBe(true);
    }
  });

  test('puts each row at the depth of its layer, in order', () => {
    for (const setup of ['bare', 'gap', 'thick']) {
      const { rows, ...view } = viewOf(makeBuild(), setup);
      const depths = rows.filter((row) => row.name !== 'too thick by').map((row) => row.middle_mm);
      expect([...depths].sort((one, other) => one - other)).toEqual(depths);
      expect(rows.at(-1)?.middle_mm).toBeCloseTo(20.9 - 0.9, 9);
      expect(view.cells).toEqual(['cell 1 · 19 Wh', 'cell 2 · 19 Wh']);
    }
  });

  test('is named in words for those who do not see it, with layers and readings', () => {
    const { label } = viewOf(makeBuild(), 'gap');
    for (const words of [
      '20.9 mm',
      'aluminium plate 0.5',
      'swelling reserve 0.5',
      'cell 1 52.9 ± 0.4 °C',
      '7.1 K below limit',
      'processor',
    ])
      expect(label).toContain(words);
  });
});

describe('the cut', () => {
  test('goes through the zone that was measured hottest, else through the one with most power', () => {
    const build = makeBuild();
    expect(presentSection(build, 'bare').section?.cut).toBe('A–A, through processor');
    const radio = [{ probe: 'z2', level_C: 70, u_K: 0.5 }];
    expect(presentSection(build, 'bare', radio).section?.cut).toBe('A–A, through radio');
    // The cut at the middle of the radio, y 42, misses the processor, which ends at y 38.
    expect(viewOf(build, 'bare', radio).zones.map((zone) => zone.isCut)).toEqual([true, false]);
    expect(presentPlan(build, 'bare', radio).plan?.cut_mm).toBe(42);
  });

  test('goes through the middle of the pack where there is no zone', () => {
    expect(presentSection(makeBuild({ zones: [], probes: [] }), 'bare').section?.cut).toBe(
      'A–A, through the middle of the pack',
    );
    expect(presentPlan(makeBuild({ zones: [], probes: [] }), 'bare').plan?.cut_mm).toBe(29);
  });
});

describe('what is missing', () => {
  test('is named, and nothing is drawn in its place', () => {
    expect(presentSection(makeBuild({ device: undefined }), 'bare')).toEqual({
      section: null,
      missing: ['the device: its length, width and thicknesses'],
    });
    const { section, missing } = presentSection(
      makeBuild({ newPack: { name: 'p', series: 1, parallel: 1 } }),
      'bare',
    );
    expect(section).toBeNull();
    expect(missing).toEqual(['the new pack’s outline', 'the new pack’s thickness']);
    expect(presentPlan(makeBuild({ newPack: undefined }), 'bare').missing).toEqual(['the new pack']);
    expect(presentSection(makeBuild(), 'no such set-up').missing).toEqual(['a set-up']);
  });
});

const manyZones = makeBuild({
  zones: Array.from({ length: 5 }, (_, index) => ({
    id: `q${index}`,
    name: `zone ${index}`,
    ...outline(14 + index * 25, 20, 12, 14),
    height_mm: 0.5 + 0.4 * index,
  })),
  probes: [
    ...Array.from({ length: 5 }, (_, index) => ({
      id: `z${index}`,
      name: `zone ${index}`,
      place: 'zone' as const,
      zone: `q${index}`,
    })),
    ...Array.from({ length: 6 }, (_, index) => ({
      id: `c${index}`,
      name: `cell ${index}`,
      place: 'cell' as const,
      cell: index + 1,
    })),
    { id: 's1', name: 'shell', place: 'shell' as const, x_mm: 70 },
  ],
  newPack: { name: 'six cells', series: 6, parallel: 1, outline: outline(10, 6, 125, 46), thickness_mm: 9.9 },
});
const manyReadings: SectionReading[] = manyZones.probes.map((probe, index) => ({
  probe: probe.id,
  level_C: 45 + index,
  u_K: 0.3,
  sub: '12.0 K below limit',
  shortSub: '12.0 K below',
}));

const cases: [string, Build, string, readonly SectionReading[]][] = [
  ['two cells and a shield', makeBuild(), 'gap', readings],
  ['no readings', makeBuild(), 'bare', []],
  ['more layers than fit', makeBuild(), 'thick', readings],
  ['five zones and six cells', manyZones, 'gap', manyReadings],
  [
    'one block and no zone',
    makeBuild({
      zones: [],
      probes: [{ id: 'c1', name: 'pack', place: 'cell' }],
      newPack: { name: 'one', series: 1, parallel: 2, outline: outline(10, 6, 125, 46), thickness_mm: 9.9 },
    }),
    'bare',
    [{ probe: 'c1', level_C: 40, u_K: null }],
  ],
  [
    'a thin pack in a long device',
    makeBuild({
      device: {
        ...makeBuild().device,
        name: 'd',
        length_mm: 300,
        width_mm: 200,
        frontShell_mm: 1,
        frontGap_mm: 0,
        board: { ...outline(0, 0, 300, 200), thickness_mm: 0.8 },
        bay_mm: 6,
        backShell_mm: 1,
      },
      newPack: { name: 'thin', series: 20, parallel: 1, outline: outline(10, 6, 280, 90), thickness_mm: 2.5 },
    }),
    'gap',
    readings,
  ],
  [
    'a short, thick device',
    makeBuild({
      device: {
        name: 'd',
        length_mm: 50,
        width_mm: 40,
        frontShell_mm: 3,
        frontGap_mm: 4,
        board: { ...outline(0, 0, 50, 40), thickness_mm: 1.6 },
        bay_mm: 40,
        backShell_mm: 3,
      },
    }),
    'gap',
    readings,
  ],
];

describe.each([912, 656, 480, 350, 320])('in %i px', (width) => {
  test.each(cases)(
    'a section of %s has its texts inside, apart, and its chips clear',
    (_, build, setup, read) => {
      const drawing = drawSection(viewOf(build, setup, read), width);
      expectLegible(drawing);
      expectChipsApart(drawing);
      expect(drawing.stretch).toBeGreaterThanOrEqual(1);
    },
  );

  test.each(cases)('a plan of %s has its texts inside and apart', (_, build, setup, read) => {
    const { plan } = presentPlan(build, setup, read);
    if (plan === null) throw new Error('The build has all a plan needs.');
    expectLegible(drawPlan(plan, width));
  });
});

describe.each([255, 210, 160])('a detail in %i px', (width) => {
  test.each(cases)('of %s is legible', (_, build, setup, read) => {
    const drawing = drawSectionDetail(viewOf(build, setup, read), width);
    expectLegible(drawing);
    expectChipsApart(drawing);
  });

  test('has the scale of the other set-ups of the device', () => {
    const [one, other] = ['bare', 'gap'].map((setup) => drawSectionDetail(viewOf(makeBuild(), setup), width));
    expect(one?.stretch).toBe(other?.stretch);
    expect(one?.height).toBe(other?.height);
  });
});

test('a section is to scale: the pack is as long as its share of the device, stretched as it says', () => {
  const drawing = drawSection(viewOf(makeBuild(), 'bare'), 912);
  const cells = walk(drawing.shapes)
    .filter((shape) => shape.attrs['class'] === 'ce')
    .map(boxOf);
  const board = walk(drawing.shapes)
    .filter((shape) => shape.attrs['class'] === 'bd')
    .map(boxOf)[0];
  if (board === undefined) throw new Error('The board is drawn.');
  const perMillimetre = (board.right - board.left) / 136;
  expect((cells[1]?.right ?? 0) - (cells[0]?.left ?? 0)).toBeCloseTo(125 * perMillimetre, 0);
  expect((cells[0]?.bottom ?? 0) - (cells[0]?.top ?? 0)).toBeCloseTo(
    9.9 * perMillimetre * drawing.stretch,
    0,
  );
  expect(drawing.stretch).toBe(3);
});

test('a phone gets a section stretched twice as much, and no column', () => {
  const drawing = drawSection(viewOf(makeBuild(), 'gap'), 350);
  expect(drawing.stretch).toBe(6);
  expect(findTextBoxes(drawing.shapes).map((box) => box.words)).not.toContain('aluminium plate');
});

test('a film thinner than a pixel is still a line one can see', () => {
  const film = walk(drawSection(viewOf(makeBuild(), 'gap'), 350).shapes).find(
    (shape) => shape.attrs['class'] === 'fm',
  );
  // 0.06 mm at this scale would be 0.8 px.
  expect(Number(film?.attrs['height'])).toBeGreaterThanOrEqual(1.6);
});

test('leaders of the column do not cross, and names keep apart', () => {
  const drawing = drawSection(viewOf(makeBuild(), 'thick'), 656);
  const ends = walk(drawing.shapes)
    .map((shape) => /^M[\d.]+ ([\d.]+)h6L[\d.]+ ([\d.]+)h6$/.exec(String(shape.attrs['d'] ?? '')))
    .filter((match) => match !== null)
    .map((match) => [Number(match[1]), Number(match[2])] as const)
    .sort((one, other) => one[1] - other[1]);
  expect(ends.length).toBe(viewOf(makeBuild(), 'thick').rows.length);
  // The negative reserve reaches back over the end of the pack; all others follow one another in depth.
  for (let index = 1; index < ends.length - 2; index += 1)
    expect(ends[index]?.[0]).toBeGreaterThanOrEqual((ends[index - 1]?.[0] ?? 0) - 0.11);
});

test('a chip carries the colour of its temperature', () => {
  const view = viewOf(makeBuild(), 'gap');
  const fills = walk(drawSection(view, 912).shapes).map((shape) => shape.attrs['fill']);
  for (const { level_C } of readings) expect(fills).toContain(temperatureColour(level_C, view.anchors));
});
