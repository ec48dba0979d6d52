/** Shields that do not cover everything: no closed form, so the reference is another program's grids, extrapolated. */
import { describe, expect, test } from 'vitest';
import { assembleNetwork, gapConductivity, prepareSolver } from '../../src/heat/index.js';
import { type Cell, conducting, divide, filmsOn, perCell, stack } from './grids.js';

type Axes = readonly [kx: number, ky: number, kz: number];
interface Layer {
  readonly thickness_mm: number;
  readonly cells: number;
  readonly k: Axes | ((x_mm: number, y_mm: number) => Axes);
}

const solid = (k: number): Axes => [k, k, k];
/** Air of 0.027 W/mK between faces of these emissivities, radiation linearised at 40 °C, as a layer. */
function air(thickness_mm: number, one: number, other: number): Axes {
  const gap = gapConductivity({ thickness_mm, emissivities: [one, other], k_W_per_mK: 0.027 }, 40);
  return [gap.kInPlane_W_per_mK, gap.kInPlane_W_per_mK, gap.kThrough_W_per_mK];
}
const layer = (thickness_mm: number, k: Layer['k'], cells = 4): Layer => ({ thickness_mm, cells, k });

/** Shell, gap and board above the source, a sheet of next to nothing that is heated, shield, then pack, gap and shell. */
function device(shield: readonly Layer[]): readonly Layer[] {
  const shell = layer(2, solid(0.2));
  return [
    shell,
    layer(2, air(2, 0.9, 0.9)),
    layer(1, [10, 10, 0.35], 6),
    layer(1e-3, [10, 10, 0.35], 1),
    ...shield,
    layer(5, [27, 27, 0.5], 8),
    layer(0.3, air(0.3, 0.9, 0.9), 2),
    shell,
  ];
}

/** 90 mm by 60 mm, 1.5 W uniform on 12 mm by 12 mm at (30, 30), films of 10 W/m2K above and below, room at 25 °C. */
function readPack(layers: readonly Layer[], cell_mm: number) {
  const sizes = layers.flatMap(({ thickness_mm, cells }) =>
    Array.from({ length: cells }, () => thickness_mm / cells / 1000),
  );
  const owners = layers.flatMap((each, index) => Array.from({ length: each.cells }, () => index));
  const grid = { x_m: divide(0.09, 90 / cell_mm), y_m: divide(0.06, 60 / cell_mm), z_m: stack(sizes) };
  const at = ({ k, x, y }: Cell): Axes => {
    const { k: axes } = layers[owners[k]!]!;
    return typeof axes === 'function' ? axes(1000 * x, 1000 * y) : axes;
  };
  const conductivity = conducting(grid, at);
  const network = assembleNetwork(grid, conductivity, filmsOn({ front: 10, back: 10 }));
  const heated = owners.indexOf(3);
  const under = ({ x, y }: Cell) => Math.abs(1000 * x - 30) < 6 && Math.abs(1000 * y - 30) < 6;
  const source_W = perCell(grid, (cell) =>
    cell.k === heated && under(cell) ? (1.5 * cell_mm * cell_mm) / 144 : 0,
  );
  const answer = prepareSolver(network).solve(source_W, { tolerance: 1e-9 });
  if (!answer.ok) throw new Error(answer.reason.kind);
  const { rise_K } = answer.value;
  const pack = owners.indexOf(layers.length - 3);
  const nz = owners.length;
  const nx = grid.x_m.length - 1;
  /** The face above a cell, from the heat through half of each of the two cells that meet there. */
  const topOf = (c: number) => {
    const share = (place: number) => (2 * conductivity.kz[place]!) / sizes[place % nz]!;
    const [above, below] = [share(c - 1), share(c)];
    return (above * rise_K[c - 1]! + below * rise_K[c]!) / (above + below);
  };
  const columns = Array.from({ length: rise_K.length / nz }, (_, i) => topOf(pack + nz * i));
  const [i, j] = [30 / cell_mm, 30 / cell_mm];
  const around = [i - 1, i].flatMap((a) => [j - 1, j].map((b) => columns[a + nx * b]!));
  return {
    mean_C: 25 + columns.reduce((sum, value) => sum + value) / columns.length,
    under_C: 25 + around.reduce((sum, value) => sum + value) / 4,
    corner_C: 25 + columns[nx - 1]!,
  };
}

const floating = [
  layer(0.75, air(0.75, 0.9, 0.08)),
  layer(0.5, solid(222), 2),
  layer(0.75, air(0.75, 0.08, 0.9)),
];

// The case without strips has an exact series, 42.071409, 42.244825 and 41.79614 °C: what the grid and these readings are good to.
test('a floating plate that covers everything is what the exact series says', () => {
  const { mean_C, under_C, corner_C } = readPack(device(floating), 1);
  expect(Math.abs(mean_C - 42.071409)).toBeLessThan(2e-3); // the heated sheet of a micrometre
  expect(Math.abs(under_C - 42.244825)).toBeLessThan(0.01);
  expect(Math.abs(corner_C - 41.79614)).toBeLessThan(0.01);
});

describe('with an independent program, grids of 1 and 0.5 mm by conjugate gradients, extrapolated, good to 0.02 K', () => {
  const strips = layer(0.75, (_, y_mm) => (y_mm < 5 || y_mm > 55 ? solid(0.2) : air(0.75, 0.08, 0.9)));

  test('two strips of plastic under a plate', () => {
    const { mean_C, under_C, corner_C } = readPack(device([...floating.slice(0, 2), strips]), 1);
    expect(Math.abs(mean_C - 42.664)).toBeLessThan(0.02);
    expect(Math.abs(under_C - 42.683)).toBeLessThan(0.02);
    expect(Math.abs(corner_C - 42.605)).toBeLessThan(0.02);
  });

  test('the same by area, which overstates them', () => {
    const [kx, ky, kz] = air(0.75, 0.08, 0.9);
    const weigh = (k: number) => (5 * k + 0.2) / 6;
    const even = layer(0.75, [weigh(kx), weigh(ky), weigh(kz)]);
    const { mean_C, under_C, corner_C } = readPack(device([...floating.slice(0, 2), even]), 1);
    expect(Math.abs(mean_C - 42.783)).toBeLessThan(0.02);
    expect(Math.abs(under_C - 43.055)).toBeLessThan(0.02);
    expect(Math.abs(corner_C - 42.369)).toBeLessThan(0.02);
  });

  test('a plate over part of the pack', () => {
    const onPlate = (x: number, y: number) => x < 60 && y > 10 && y < 50;
    const open: Axes = [0.027, 0.027, 0.038397]; // what 2 mm of air between plastic faces pass
    const over: Axes = [0.027, 0.027, 0.027801]; // and 1.45 mm with a bright face
    const { mean_C, under_C, corner_C } = readPack(
      device([
        layer(1.45, (x, y) => (onPlate(x, y) ? over : open), 6),
        layer(0.5, (x, y) => (onPlate(x, y) ? solid(222) : open), 2),
        layer(0.05, (x, y) => (onPlate(x, y) ? solid(0.18) : open), 1),
      ]),
      1,
    );
    expect(Math.abs(mean_C - 42.192)).toBeLessThan(0.02);
    expect(Math.abs(under_C - 42.932)).toBeLessThan(0.03); // the grid errs by 0.01 K here
    expect(Math.abs(corner_C - 41.049)).toBeLessThan(0.02);
  });
});
