import { describe, expect, test } from 'vitest';
import { circulatesIn, leavesSoaked } from '../../src/heat/calibrate/beyond.js';
import {
  applyReading,
  coarsen,
  type DeviceField,
  DeviceSolver,
  type GridWish,
  gapConductivity,
  makeDeviceModel,
  placeOfProbe,
  readingAt,
  soakGrid,
} from '../../src/heat/index.js';
import { BadInputError, celsiusFromKelvin } from '../../src/measure/index.js';
import type { Build, Setup } from '../../src/records/index.js';
import { smallDevice, smallSetups } from './small-device.js';

const ambient_C = 25;
const power_W = new Map([
  ['chip', 1],
  ['coil', 0.5],
]);

function solve(
  build: Build,
  setup: Setup,
  change: { factors?: [string, number][]; power_W?: Map<string, number>; grid?: GridWish } = {},
): { solver: DeviceSolver; field: DeviceField } {
  const solver = new DeviceSolver(makeDeviceModel(build, setup, { grid: change.grid ?? soakGrid }));
  const solved = solver.solve(
    { factors: new Map(change.factors ?? []), power_W: change.power_W ?? power_W, ambient_C },
    { within_K: 1e-4 },
  );
  if (!solved.ok) throw new Error(solved.reason.kind);
  return { solver, field: solved.value };
}

function readAll(build: Build, { solver, field }: { solver: DeviceSolver; field: DeviceField }) {
  return Object.fromEntries(
    build.probes.flatMap((probe) => {
      const place = placeOfProbe(build, probe);
      if (place === null) return [];
      const reading = readingAt(solver.model.grid, solver.model.laid, probe, place);
      return reading === null ? [] : [[probe.id, applyReading(reading, field.rise_K)]];
    }),
  ) as Record<string, number>;
}

describe('a device at rest', () => {
  test.each(Object.values(smallSetups))('$name: what goes in comes out', (setup) => {
    const { field } = solve(smallDevice(), setup);
    // The law of energy; the rest is what the solver leaves of the residual.
    expect(field.balance.out_W).toBeCloseTo(1.5, 4);
    expect(field.balance.in_W).toBeCloseTo(1.5, 12);
  });

  test('no place is colder than the room, and the warmest is where heat is made', () => {
    const { solver, field } = solve(smallDevice(), smallSetups.plate);
    expect(Math.min(...field.rise_K)).toBeGreaterThan(0);
    const warmest = field.rise_K.indexOf(Math.max(...field.rise_K));
    const part = solver.model.laid.parts[solver.model.partOf[warmest] as number];
    expect(['chip', 'coil']).toContain(part?.heat);
  });

  test('a device that conducts without end is at one temperature: heat over films', () => {
    const build = smallDevice();
    const conducting = [
      'in-plane:board',
      'through:board',
      'zones',
      'in-plane:pouch-cell',
      'through:pouch-cell',
      'front-gap',
      'bay',
      'reserve',
      'seat',
    ].map((id): [string, number] => [id, 1e5]);
    const setup: Setup = { id: 'bare', name: 'bare', layers: [] };
    const metal: Build = {
      ...build,
      device: { ...(build.device as NonNullable<Build['device']>), shellMaterial: 'copper' },
    };
    const { field } = solve(metal, setup, { factors: conducting });
    const [length, width, thick] = [0.08, 0.05, 0.0142];
    const f = field.films;
    const shed_W_per_K =
      length * width * (f.front.h_W_per_m2K + f.back.h_W_per_m2K) +
      thick * width * (f.west.h_W_per_m2K + f.east.h_W_per_m2K) +
      thick * length * (f.south.h_W_per_m2K + f.north.h_W_per_m2K);
    // The copper shell itself still has a gradient of some hundredths of a kelvin.
    for (const rise of [field.rise_K[0] as number, Math.max(...field.rise_K)])
      expect(Math.abs(rise / (1.5 / shed_W_per_K) - 1)).toBeLessThan(0.02);
  });

  test('mirrored, it has mirrored temperatures', () => {
    const build = smallDevice();
    const flip = <T extends { x_mm: number; length_mm: number }>(part: T): T => ({
      ...part,
      x_mm: 80 - part.x_mm - part.length_mm,
    });
    const device = build.device as NonNullable<Build['device']>;
    const mirrored: Build = {
      ...build,
      device: { ...device, board: flip(device.board) },
      newPack: {
        ...(build.newPack as NonNullable<Build['newPack']>),
        outline: flip({ x_mm: 10, y_mm: 5, length_mm: 60, width_mm: 40 }),
      },
      zones: build.zones.map(flip),
      probes: build.probes.map((probe) =>
        probe.x_mm === undefined ? probe : { ...probe, x_mm: 80 - probe.x_mm },
      ),
    };
    const here = readAll(build, solve(build, smallSetups.bare));
    const there = readAll(mirrored, solve(mirrored, smallSetups.bare));
    for (const probe of ['z', 'c', 'e', 's']) expect(there[probe]).toBeCloseTo(here[probe] as number, 2);
  });

  test('gaps conduct and radiate as the closed form says', () => {
    const build = smallDevice();
    const { solver, field } = solve(build, smallSetups.strips);
    const { gaps } = solver.model;
    const made = solver.networks.make({ factors: new Map(), power_W, ambient_C }, field.rise_K);
    expect(gaps.count).toBeGreaterThan(100);
    let checked = 0;
    for (let gap = 0; gap < gaps.count; gap += 37) {
      const [first, last] = [gaps.first[gap] as number, gaps.last[gap] as number];
      const thickness_mm = 1000 * (gaps.thickness_m[gap] as number);
      const mean_C =
        ambient_C + ((field.rise_K[first - 1] as number) + (field.rise_K[last + 1] as number)) / 2;
      // One face black and the other with the effective emissivity is the same exchange.
      const closed = gapConductivity(
        { thickness_mm, emissivities: [1, gaps.emissivity[gap] as number] },
        mean_C,
      );
      if (last > first) {
        const inside = made.network.up_W_per_K[first] as number;
        const nz = solver.model.nz;
        const [k, column] = [first % nz, Math.floor(first / nz)];
        const size = (edges: Float64Array, at: number) => (edges[at + 1] as number) - (edges[at] as number);
        const { grid, nx } = solver.model;
        const area = size(grid.x_m, column % nx) * size(grid.y_m, Math.floor(column / nx));
        const between = (size(grid.z_m, k) + size(grid.z_m, k + 1)) / 2;
        expect((inside * between) / area / closed.kThrough_W_per_mK).toBeCloseTo(1, 6);
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(5);
  });

  test('a cloth under it warms all of it', () => {
    const build = smallDevice();
    const device = build.device as NonNullable<Build['device']>;
    const onCloth: Build = { ...build, device: { ...device, surroundings: { back: 'cloth' } } };
    const free = readAll(build, solve(build, smallSetups.bare));
    const covered = readAll(onCloth, solve(onCloth, smallSetups.bare));
    for (const probe of ['z', 'c', 'e', 's'])
      expect((covered[probe] as number) - (free[probe] as number)).toBeGreaterThan(1);
  });

  test('a warm hand drives heat in: with no power the device takes the hand’s warmth', () => {
    const build = smallDevice();
    const device = build.device as NonNullable<Build['device']>;
    const held: Build = { ...build, device: { ...device, surroundings: { back: 'hand' } } };
    const { field } = solve(held, smallSetups.bare, { power_W: new Map([['chip', 0]]) });
    // A palm at 34 °C in a room at 25 °C: everything lies between the two.
    expect(Math.max(...field.rise_K)).toBeLessThan(celsiusFromKelvin(273.15 + 34) - ambient_C);
    expect(Math.min(...field.rise_K)).toBeGreaterThan(0);
  });

  test('the difference of two grids tells the order of the error of the finer one', () => {
    const build = smallDevice();
    const at = (grid: GridWish) => readAll(build, solve(build, smallSetups.plate, { grid }));
    const fine: GridWish = { cell_mm: 1.5, zoneCell_mm: 1, depth_mm: 1 };
    const [rough, usual, best] = [at(coarsen(soakGrid)), at(soakGrid), at(fine)];
    for (const probe of ['c', 'e', 's'])
      expect(Math.abs((usual[probe] as number) - (best[probe] as number))).toBeLessThan(
        Math.abs((rough[probe] as number) - (usual[probe] as number)) + 0.1,
      );
  });

  test('it can be stopped', () => {
    const solver = new DeviceSolver(makeDeviceModel(smallDevice(), smallSetups.bare));
    const stopped = solver.solve({ factors: new Map(), power_W, ambient_C }, { isCancelled: () => true });
    expect(stopped).toEqual({ ok: false, reason: { kind: 'cancelled' } });
  });
});

describe('a probe', () => {
  test('reads a field that is straight along every axis exactly at its place, on the face it is stuck to', () => {
    const build = smallDevice();
    const { grid, laid, nx, nz, partOf } = makeDeviceModel(build, smallSetups.plate, { grid: soakGrid });
    const middle = (edges: Float64Array, at: number) =>
      500 * ((edges[at] as number) + (edges[at + 1] as number));
    const field = Float64Array.from(partOf, (_, cell) => {
      const column = Math.floor(cell / nz);
      return (
        3 * middle(grid.x_m, column % nx) -
        2 * middle(grid.y_m, Math.floor(column / nx)) +
        5 * middle(grid.z_m, cell % nz)
      );
    });
    const zoneTop = laid.depths.boardBack + 1.5;
    // Places as the records give them; depths by the drawing.
    for (const [id, x_mm, y_mm, z_mm] of [
      ['c', 36, 21, laid.depths.pack],
      ['e', 64, 40, laid.depths.pack],
      ['s', 36, 21, laid.thickness_mm],
      ['z', 36, 21, zoneTop],
    ] as const) {
      const probe = build.probes.find((each) => each.id === id) as Build['probes'][number];
      const place = placeOfProbe(build, probe);
      const reading = place === null ? null : readingAt(grid, laid, probe, place);
      if (reading === null) throw new Error(`${id} reads nothing`);
      expect(applyReading(reading, field), id).toBeCloseTo(3 * x_mm - 2 * y_mm + 5 * z_mm, 6);
    }
  });
});

describe('records that cannot be', () => {
  const faultsOf = (build: Build, setup: Setup = smallSetups.bare) => {
    try {
      makeDeviceModel(build, setup);
    } catch (error) {
      if (error instanceof BadInputError) return error.faults;
      throw error;
    }
    return [];
  };
  const build = smallDevice();
  const zone = build.zones[0] as Build['zones'][number];

  test.each([
    [
      'two zones in one place',
      { zones: [zone, { ...zone, id: 'twin', name: 'twin' }] },
      /overlaps the zone twin/,
    ],
    ['a zone off the board', { zones: [{ ...zone, x_mm: 70 }] }, /outside the board/],
    ['no zone', { zones: [] }, /no heat has a place/],
    ['no device', { device: undefined }, /device is not entered/],
    ['no pack', { newPack: undefined }, /outline or thickness is not entered/],
    [
      'a shell of nothing known',
      { device: { ...build.device, shellMaterial: 'unobtainium' } as Build['device'] },
      /no material unobtainium/,
    ],
  ])('%s is refused before anything is solved', (_, change, words) => {
    const faults = faultsOf({ ...build, ...change } as Build);
    expect(faults.map(({ what }) => what).join(' ')).toMatch(words);
    for (const fault of faults) expect(fault.remedy).not.toBe('');
  });

  test.each([
    ['too thick for the bay', [{ material: 'foam', name: 'foam', thickness_mm: 3 }], /too thick for the bay/],
    [
      'strips that overlap',
      [{ material: 'paper', name: 'strips', thickness_mm: 0.5, strips: { count: 20, width_mm: 4 } }],
      /overlap on 60 mm/,
    ],
    [
      'a layer of no stated material',
      [{ material: 'other', name: 'mystery', thickness_mm: 0.2 }],
      /not stated/,
    ],
    [
      'graphite thicker than any sold',
      [{ material: 'graphite', name: 'g', thickness_mm: 0.5 }],
      /not in the table/,
    ],
  ])('a set-up %s is refused by name', (_, layers, words) => {
    const faults = faultsOf(build, { id: 'odd', name: 'odd', layers } as Setup);
    expect(faults.map(({ what }) => what).join(' ')).toMatch(words);
    expect(faults[0]?.where).toContain('odd');
  });

  test('a grid beyond all memory is refused before it is laid', () => {
    const huge: GridWish = { cell_mm: 0.02, zoneCell_mm: 0.02, depth_mm: 0.02 };
    expect(() => makeDeviceModel(build, smallSetups.bare, { grid: huge })).toThrow(/number of cells/);
  });
});

describe('what leaves the range that was checked', () => {
  test('is a material no soak has seen, or a thickness beyond those that were', () => {
    const build = smallDevice();
    const soaked = new Set(['bare', 'plate', 'strips']);
    const thick: Setup = {
      id: 'thick',
      name: 'thick',
      layers: [
        { material: 'polyimide', name: 'film', thickness_mm: 0.1 },
        { material: 'aluminium', name: 'plate', thickness_mm: 0.8 },
        { material: 'foam', name: 'foam', thickness_mm: 1 },
      ],
    };
    expect(leavesSoaked(build, thick, soaked)).toEqual([
      'aluminium of 0.80 mm; soaked were 0.50 mm',
      'no set-up with foam was soaked',
    ]);
    expect(leavesSoaked(build, smallSetups.strips, soaked)).toEqual([]);
    expect(leavesSoaked(build, smallSetups.strips, new Set(['bare', 'plate']))).toEqual([
      'no set-up with strips of paper was soaked',
    ]);
  });

  test('is air that would circulate, where a gap is thick and warm below', () => {
    const build = smallDevice();
    const device = build.device as NonNullable<Build['device']>;
    const roomy: Build = { ...build, device: { ...device, bay_mm: 26 } };
    const { solver, field } = solve(roomy, smallSetups.bare);
    // 19 mm of air behind the pack: the published limit at 5 K is 16 mm, and more is warmer.
    expect(circulatesIn(solver.model, field.rise_K, ambient_C).join(' ')).toContain(
      'Air would circulate in gaps',
    );
    const usual = solve(build, smallSetups.bare);
    expect(circulatesIn(usual.solver.model, usual.field.rise_K, ambient_C)).toEqual([]);
  });
});
