import { describe, expect, test } from 'vitest';
import {
  bisect,
  column,
  conducting,
  countsOf,
  divide,
  filmsAll,
  filmsOn,
  perCell,
  stack,
} from '../../../test/heat/grids.js';
import { makeNoise } from '../../numerics/index.js';
import {
  assembleNetwork,
  type CellConductivity,
  type FaceFilms,
  faceSinks_W_per_K,
  type HeatGrid,
  type HeatNetwork,
  iterateSolve,
  prepareSolver,
} from '../index.js';

/** Tight enough that what is left is rounding; a test of exactness then needs no other tolerance than 1e-9. */
const tolerance = 1e-12;

function solve(network: HeatNetwork, source_W: Float64Array): Float64Array {
  const answer = prepareSolver(network).solve(source_W, { tolerance });
  if (!answer.ok) throw new Error(`No field: ${JSON.stringify(answer.reason)}`);
  return answer.value.rise_K;
}

function rises(grid: HeatGrid, k: CellConductivity, films: FaceFilms, source_W: Float64Array): Float64Array {
  return solve(assembleNetwork(grid, k, films), source_W);
}

describe('one dimension', () => {
  // [INCROPERA-07] problem 1.9 prints 19 600 W: glass of 5 mm and 1.4 W/mK, 2 m2, 35 K. A wall is a film without resistance.
  test('the pane of glass loses the printed heat, on any cells', () => {
    const z_m = stack([0.001, 0.0005, 0.0025, 0.001]);
    const grid = { x_m: divide(2, 1), y_m: divide(1, 1), z_m };
    const k = conducting(grid, () => 1.4);
    const films = filmsOn({ front: Infinity, back: Infinity });
    const inside = faceSinks_W_per_K(grid, k, 'front', Infinity)[0]!;
    const source_W = new Float64Array(4);
    source_W[0] = inside * 35;
    const rise_K = rises(grid, k, films, source_W);
    expect(inside * (35 - rise_K[0]!)).toBeCloseTo(19_600, 6);
  });

  // [INCROPERA-07] problem 1.9 again, 10 mm of still air: 120 W. [YOUNG-FREEDMAN] problem 17.109: a second pane with 7 mm of air before it
  // divides the loss by 2.9, films of 0.15 m2K/W being there in both. [GEANKOPLIS] example 4.1-1, an inch of board: 105.1 W/m2, computed
  // from its statement. Heat in at one side and a film of no resistance at the other.
  test('panes, still air and insulating board pass the printed heat', () => {
    const perKelvin = (layers: readonly (readonly [thickness_m: number, k: number])[], film = Infinity) => {
      const grid = column(stack(layers.flatMap(([thickness]) => [thickness / 2, thickness / 2])));
      const k = conducting(grid, (cell) => layers[Math.floor(cell.k / 2)]![1]);
      const { n } = countsOf(grid);
      const source_W = new Float64Array(n);
      source_W[0] = 1;
      const rise_K = rises(grid, k, filmsOn({ back: film }), source_W);
      const [first] = layers;
      return 1 / (rise_K[0]! + first![0] / 4 / first![1]); // from the centre of the first cell to its face
    };
    expect(perKelvin([[0.01, 0.024]]) * 2 * 25).toBeCloseTo(120, 8);
    const glass = [0.0042, 0.8] as const;
    const ratio = perKelvin([glass], 1 / 0.15) / perKelvin([glass, [0.007, 0.024], glass], 1 / 0.15);
    expect(ratio).toBeCloseTo(2.912507, 6);
    expect(Math.abs(ratio - 2.9)).toBeLessThanOrEqual(0.05);
    expect(perKelvin([[0.0254, 0.048]]) * (352.7 - 297.1)).toBeCloseTo(105.0709, 4);
  });

  // [INCROPERA-07] problem 4.74, its one-dimensional bound: 80.9 °C. A cell's centre reads q d²/8k high, which makes the
  // first cell equal to the insulated face, on any grid.
  test.each([1, 2, 5, 40])('a slab that makes heat peaks at the printed 80.9 °C with %i cells', (cells) => {
    const grid = column(divide(0.003, cells));
    const source_W = perCell(grid, ({ volume }) => 1e7 * volume);
    const rise_K = rises(
      grid,
      conducting(grid, () => 50),
      filmsOn({ back: 500 }),
      source_W,
    );
    expect(20 + rise_K[0]!).toBeCloseTo(80.9, 8);
  });

  // [INCROPERA-07] composite wall with generation in one layer: 105, 115 and 140 °C from the closed form.
  test('a wall of two layers, one making heat', () => {
    const grid = column(stack([0.01, 0.02, 0.02, 0.005, 0.015]));
    const k = conducting(grid, ({ z }) => (z < 0.05 ? 75 : 150));
    const source_W = perCell(grid, ({ z, volume }) => (z < 0.05 ? 1.5e6 * volume : 0));
    const rise_K = rises(grid, k, filmsOn({ back: 1000 }), source_W);
    const flux = 1.5e6 * 0.05;
    const outer = 30 + rise_K[4]! - (flux * 0.0075) / 150;
    expect(outer).toBeCloseTo(105, 8);
    expect(30 + rise_K[3]! + (flux * 0.0025) / 150).toBeCloseTo(115, 8);
    expect(30 + rise_K[0]! - (1.5e6 * 0.01 ** 2) / (8 * 75) + (1.5e6 * 0.005 ** 2) / (2 * 75)).toBeCloseTo(
      140,
      8,
    );
  });

  // [INCROPERA-07] chip on a plate: two paths in parallel, 0.9e-4 m2K/W of epoxy, 8 mm of aluminium. The closed form gives
  // 75.30679 °C and 5030.679 W/m2 upward; the book rounds to 75.3.
  test('a chip on a plate, with the joint between them as a contact', () => {
    const grid = column(stack([1e-6, 0.002, 0.002, 0.004]), 0.01);
    const k = conducting(grid, (cell) => (cell.k === 0 ? 1e9 : 239));
    const up = new Float64Array(4);
    up[0] = 0.9e-4;
    const network = assembleNetwork(grid, k, filmsOn({ front: 100, back: 100 }), { contact: { up } });
    const rise_K = solve(network, Float64Array.of(1e4 * 1e-4, 0, 0, 0));
    const down = 0.9e-4 + 0.008 / 239 + 0.01;
    expect(rise_K[0]).toBeCloseTo(1e4 / (100 + 1 / down), 8);
    expect(25 + rise_K[0]!).toBeCloseTo(75.30679, 5);
    expect(100 * rise_K[0]!).toBeCloseTo(5030.679, 3);
  });

  // [NAFEMS-86] test T2 prints 927.0 K; the balance k (1000 - T) / L = e sigma (T^4 - 300^4) gives 926.97. The profile is
  // straight, so the grid does not matter.
  test.each([1, 4, 25])('a bar radiates from its end, %i cells: NAFEMS T2', (cells) => {
    const [length, k, emissivity, sigma] = [0.1, 55.563, 0.98, 5.67e-8];
    /** Film of the last round and half a cell in series between the last cell and the surroundings at 300 K. */
    const endOf = (field_K: Float64Array, last_K: number) => {
      const film = emissivity * sigma * (last_K ** 2 + 300 ** 2) * (last_K + 300);
      const half = length / cells / 2 / k;
      return 300 + (field_K[cells - 1]! - 300) / (1 + film * half);
    };
    const grid = { x_m: divide(length, cells), y_m: divide(0.01, 1), z_m: divide(0.01, 1) };
    const conductivity = conducting(grid, () => k);
    let end_K = 1000;
    const answer = iterateSolve(
      (field_K) => {
        // Temperatures count from absolute zero here: ambient is 0 K, both surroundings are sources.
        if (field_K) end_K = endOf(field_K, end_K);
        const film = emissivity * sigma * (end_K ** 2 + 300 ** 2) * (end_K + 300);
        const west = faceSinks_W_per_K(grid, conductivity, 'west', Infinity)[0]!;
        const east = faceSinks_W_per_K(grid, conductivity, 'east', film)[0]!;
        const source_W = new Float64Array(cells);
        source_W[0]! += west * 1000;
        source_W[cells - 1]! += east * 300;
        const films = filmsOn({ west: Infinity, east: film });
        return { network: assembleNetwork(grid, conductivity, films), source_W };
      },
      { within_K: 1e-9, tolerance },
    );
    if (!answer.ok) throw new Error(answer.reason.kind);
    end_K = endOf(answer.value.rise_K, end_K);
    const exact_K = bisect(
      (T) => (k * (1000 - T)) / length - emissivity * sigma * (T ** 4 - 300 ** 4),
      300,
      1000,
    );
    expect(exact_K).toBeCloseTo(927.0, 1);
    expect(Math.abs(end_K - exact_K)).toBeLessThan(1e-6);
  });
});

describe('NAFEMS T4: a plate that loses heat from two edges', () => {
  const [h, k, width] = [750, 52, 0.6];

  /** Series by separation of variables: lambda tan(0.6 lambda) = h / k in x, decaying in y. @source derived here */
  const exact = (x: number, y: number) => {
    let sum = 0;
    for (let n = 0; n < 400; n++) {
      const low = (n * Math.PI) / width;
      const high = low + Math.PI / 2 / width;
      const lambda = bisect((l) => l * Math.sin(width * l) - (h / k) * Math.cos(width * l), low, high);
      const z = width * lambda;
      const weight = (4 * Math.sin(z)) / (2 * z + Math.sin(2 * z));
      const b = (k * lambda - h) / (k * lambda + h);
      const decay =
        (Math.exp(-lambda * y) + b * Math.exp(-lambda * (2 - y))) / (1 + b * Math.exp(-2 * lambda));
      sum += 100 * weight * Math.cos(lambda * x) * decay;
    }
    return sum;
  };

  const atE = (cells: number) => {
    const grid = { x_m: divide(0.6, 6 * cells), y_m: divide(1, 10 * cells), z_m: divide(1, 1) };
    const conductivity = conducting(grid, () => k);
    const films = filmsOn({ south: Infinity, east: h, north: h });
    const { nx } = countsOf(grid);
    const south = faceSinks_W_per_K(grid, conductivity, 'south', Infinity);
    const source_W = perCell(grid, ({ i, j }) => (j === 0 ? 100 * south[i]! : 0));
    const rise_K = rises(grid, conductivity, films, source_W);
    // The face temperature from the heat through half a cell; E lies between two cells.
    const sink = faceSinks_W_per_K(grid, conductivity, 'east', h);
    const face = (j: number) => (sink[j]! * rise_K[nx - 1 + nx * j]!) / (h * (1 / (10 * cells)));
    return 0.5 * (face(2 * cells - 1) + face(2 * cells));
  };

  // [NAFEMS-86] test T4: 18.25 °C at E (0.6, 0.2); the series, 18.2538, is what the order is measured against.
  test('comes to the printed 18.25 °C at second order', () => {
    const series = exact(0.6, 0.2);
    expect(Math.abs(series - 18.25)).toBeLessThan(0.005);
    const errors = [2, 4, 8].map((cells) => atE(cells) - series);
    expect(Math.abs(errors[1]!)).toBeLessThan(0.06);
    // A film without its half cell falls to first order here; two orders at 4 and 8 have settled above 1.8.
    expect(Math.log2(errors[1]! / errors[2]!)).toBeGreaterThan(1.8);
    expect(Math.log2(errors[0]! / errors[1]!)).toBeGreaterThan(1.8);
  });
});

describe('two dimensions', () => {
  /** Centre of a square with one side at 1, conducting differently in x and y. [CARSLAW-JAEGER] chapter V, stretched. */
  const exactCentre = (kx: number, ky: number) => {
    const ratio = Math.sqrt(kx / ky);
    let sum = 0;
    for (let n = 1; n < 200; n += 2) {
      const turn = n * Math.PI;
      sum += ((4 / turn) * Math.sin(turn / 2)) / (2 * Math.cosh((turn * ratio) / 2));
    }
    return sum;
  };

  test.each([
    [12, 3],
    [3, 12],
    [5, 5],
  ])('in-plane conductivities of %d and %d W/mK are not exchanged', (kx, ky) => {
    const grid = { x_m: divide(1, 40), y_m: divide(1, 40), z_m: divide(1, 1) };
    const k = conducting(grid, () => [kx, ky, 1]);
    const films = filmsOn({ west: Infinity, east: Infinity, south: Infinity, north: Infinity });
    const north = faceSinks_W_per_K(grid, k, 'north', Infinity);
    const rise_K = rises(
      grid,
      k,
      films,
      perCell(grid, ({ i, j }) => (j === 39 ? north[i]! : 0)),
    );
    const centre = [19, 20].flatMap((i) => [19, 20].map((j) => rise_K[i + 40 * j]!));
    // Exchanged conductivities err eightfold; the grid errs by the square of 1/40.
    expect(Math.abs(centre.reduce((a, b) => a + b) / 4 - exactCentre(kx, ky))).toBeLessThan(1e-3);
  });

  // The same equation as the torsion of a square bar: [TIMOSHENKO-51] prints 0.1406, four times the mean. The peak by series.
  test('a square that makes heat has the peak and mean of a twisted square bar', () => {
    const grid = { x_m: divide(1, 64), y_m: divide(1, 64), z_m: divide(1, 1) };
    const films = filmsOn({ west: Infinity, east: Infinity, south: Infinity, north: Infinity });
    const rise_K = rises(
      grid,
      conducting(grid, () => 1),
      films,
      perCell(grid, ({ volume }) => volume),
    );
    const centre = [31, 32].flatMap((i) => [31, 32].map((j) => rise_K[i + 64 * j]!));
    const waves = [1, 3, 5, 7].map((n, at) => (-1) ** at / (n ** 3 * Math.cosh((n * Math.PI) / 2)));
    const peak = 1 / 8 - (4 / Math.PI ** 3) * waves.reduce((a, b) => a + b);
    expect(Math.abs(centre.reduce((a, b) => a + b) / 4 - peak)).toBeLessThan(1e-4);
    expect(Math.abs(rise_K.reduce((a, b) => a + b) / 64 ** 2 - 0.1406 / 4)).toBeLessThan(1e-4);
  });
});

// [VPCS-90] the field of test TPLV 07/89, imposed on all faces of a box: a scheme that is consistent keeps it exactly.
test('a linear field stays linear on uneven cells, whatever the axes conduct', () => {
  const noise = makeNoise(7);
  const sizes = (count: number) => Array.from({ length: count }, () => 0.02 + 0.2 * noise.uniform());
  const grid = { x_m: stack(sizes(7)), y_m: stack(sizes(5)), z_m: stack(sizes(6)) };
  const axes = [3, 0.5, 20] as const;
  const k = conducting(grid, () => axes);
  const field = (x: number, y: number, z: number) => -45 * x - 80 * y - 60 * z + 22.5;
  const walls = Object.fromEntries(
    (['west', 'east', 'south', 'north', 'front', 'back'] as const).map((face) => [
      face,
      faceSinks_W_per_K(grid, k, face, Infinity),
    ]),
  );
  const { nx, ny, nz } = countsOf(grid);
  const end = [grid.x_m[nx]!, grid.y_m[ny]!, grid.z_m[nz]!] as const;
  const source_W = perCell(grid, ({ i, j, k: layer, x, y, z }) => {
    let heat = 0;
    if (i === 0) heat += walls['west']![layer + nz * j]! * field(0, y, z);
    if (i === nx - 1) heat += walls['east']![layer + nz * j]! * field(end[0], y, z);
    if (j === 0) heat += walls['south']![layer + nz * i]! * field(x, 0, z);
    if (j === ny - 1) heat += walls['north']![layer + nz * i]! * field(x, end[1], z);
    if (layer === 0) heat += walls['front']![i + nx * j]! * field(x, y, 0);
    if (layer === nz - 1) heat += walls['back']![i + nx * j]! * field(x, y, end[2]);
    return heat;
  });
  const rise_K = rises(grid, k, filmsAll(Infinity), source_W);
  const expected = perCell(grid, ({ x, y, z }) => field(x, y, z));
  for (const [c, value] of rise_K.entries()) expect(Math.abs(value - expected[c]!)).toBeLessThan(1e-9);
  // Heat through the southern face: 80 k A, the area being that of the face.
  let heat = 0;
  for (let i = 0; i < nx; i++) {
    for (let layer = 0; layer < nz; layer++) {
      const x = 0.5 * (grid.x_m[i]! + grid.x_m[i + 1]!);
      const z = 0.5 * (grid.z_m[layer]! + grid.z_m[layer + 1]!);
      heat += walls['south']![layer + nz * i]! * (field(x, 0, z) - rise_K[layer + nz * i]!);
    }
  }
  expect(heat).toBeCloseTo(80 * axes[1] * end[0] * end[2], 8);
});
