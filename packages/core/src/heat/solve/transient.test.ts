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
import { BadInputError, OutOfRangeError } from '../../measure/index.js';
import {
  assembleNetwork,
  faceSinks_W_per_K,
  type HeatNetwork,
  solveTransient,
  type TransientOptions,
} from '../index.js';

function follow(network: HeatNetwork, options: TransientOptions) {
  const answer = solveTransient(network, { tolerance: 1e-10, ...options });
  if (!answer.ok) throw new Error(answer.reason.kind);
  return answer.value;
}

const none = (network: HeatNetwork) => new Float64Array(network.sink_W_per_K.length);

/** Roots and weights of the slab with a film: zeta tan zeta = Bi. [CARSLAW-JAEGER] section 3.11 */
function slabTerms(Bi: number, count = 200) {
  return Array.from({ length: count }, (_, n) => {
    const zeta = bisect((z) => z * Math.sin(z) - Bi * Math.cos(z), n * Math.PI, (n + 0.5) * Math.PI);
    return { zeta, weight: (4 * Math.sin(zeta)) / (2 * zeta + Math.sin(2 * zeta)) };
  });
}

/** Rise of a slab that starts at 1, `place` from 0 in the middle to 1 at the face. */
function slabRise(Bi: number, Fo: number, place: number): number {
  return slabTerms(Bi).reduce(
    (sum, { zeta, weight }) => sum + weight * Math.cos(zeta * place) * Math.exp(-zeta * zeta * Fo),
    0,
  );
}

/** Its mean. */
function slabMean(Bi: number, Fo: number): number {
  return slabTerms(Bi).reduce(
    (sum, { zeta, weight }) => sum + ((weight * Math.sin(zeta)) / zeta) * Math.exp(-zeta * zeta * Fo),
    0,
  );
}

describe('NAFEMS T3: a bar with one end driven by a sine', () => {
  const at32 = (cells: number, step_s: number, scheme: 'second-order' | 'backward-euler') => {
    const grid = { x_m: divide(0.1, cells), y_m: divide(1, 1), z_m: divide(1, 1) };
    const k = conducting(grid, () => 35);
    const network = assembleNetwork(grid, k, filmsOn({ west: Infinity, east: Infinity }), {
      capacity_J_per_m3K: perCell(grid, () => 440.5 * 7200),
    });
    const wall = faceSinks_W_per_K(grid, k, 'east', Infinity)[0]!;
    const source = (after_s: number, into: Float64Array) => {
      into.fill(0);
      into[cells - 1] = wall * 100 * Math.sin((Math.PI * after_s) / 40);
    };
    const middle = Math.round(0.8 * cells);
    const { probes_K } = follow(network, {
      scheme,
      phases: [{ duration_s: 32, steps: Math.round(32 / step_s), source_W: source }],
      probes: [{ cells: [middle - 1, middle], weights: [0.5, 0.5] }],
    });
    return probes_K[0]!.at(-1)!;
  };

  // [NAFEMS-86] prints 36.60 °C at 0.08 m and 32 s; 20 cells and half a second leave 0.2 K of grid error.
  test('comes to the printed 36.60 °C', () => {
    expect(Math.abs(at32(20, 0.5, 'second-order') - 36.6)).toBeLessThan(0.2);
    expect(Math.abs(at32(100, 0.1, 'second-order') - 36.6)).toBeLessThan(0.01);
  });

  // The same scheme written anew in NumPy with dense matrices, to the six digits it was printed with. Implicit Euler at one
  // second converges to the wrong number.
  test('errs as an independent program does', () => {
    expect(Math.abs(at32(20, 0.5, 'second-order') - 36.420392)).toBeLessThan(1e-6);
    expect(Math.abs(at32(10, 1, 'backward-euler') - 35.5063)).toBeLessThan(1e-6);
    expect(Math.abs(at32(400, 1, 'backward-euler') - 36.108884)).toBeLessThan(1e-6);
  });
});

// 2e-3 at 20 cells and steps of Fo 0.01: the worst of Bi 0.1 to 100 is 1.2e-3, at the face, early.
test.each([0.1, 1, 10, 100])('a slab cools through films, Bi %d: the series', (Bi) => {
  const cells = 20;
  const grid = column(divide(1, cells));
  const k = conducting(grid, () => 1);
  const network = assembleNetwork(grid, k, filmsOn({ back: Bi }), {
    capacity_J_per_m3K: perCell(grid, () => 1),
  });
  // The face from the last cell, through the half cell and the film in series.
  const face = faceSinks_W_per_K(grid, k, 'back', Bi)[0]! / Bi;
  const { probes_K } = follow(network, {
    start_K: new Float64Array(cells).fill(1),
    phases: [{ duration_s: 2, steps: 200, source_W: new Float64Array(cells) }],
    probes: [
      { cells: [0, 1], weights: [1.125, -0.125] },
      { cells: [cells - 1], weights: [face] },
    ],
  });
  for (const Fo of [0.05, 0.2, 0.5, 1, 2]) {
    const step = Math.round(Fo * 100);
    expect(Math.abs(probes_K[0]![step]! - slabRise(Bi, Fo, 0))).toBeLessThan(2e-3);
    expect(Math.abs(probes_K[1]![step]! - slabRise(Bi, Fo, 1))).toBeLessThan(2e-3);
  }
});

// [GEANKOPLIS] example 5.3-1, read second hand: soil at 15.6 °C, air drops to -17.8 °C with a film of 11.36 W/m2K; after 5 h the face is
// at 267.98 K. The exact half space with a film, [CARSLAW-JAEGER] section 2.7: -5.167882 °C at the face, and 0 °C at 33.12 mm.
test('soil freezes from its surface as printed', () => {
  const [k_soil, alpha, film, hours] = [0.865, 4.65e-7, 11.36, 5];
  const cells = 150;
  const depth_m = 0.6; // six times the square root of alpha t: as good as no end
  const grid = column(divide(depth_m, cells));
  const k = conducting(grid, () => k_soil);
  const network = assembleNetwork(grid, k, filmsOn({ front: film }), {
    capacity_J_per_m3K: perCell(grid, () => k_soil / alpha),
  });
  const { rise_K } = follow(network, {
    start_K: new Float64Array(cells).fill(15.6 + 17.8),
    phases: [{ duration_s: hours * 3600, steps: 600, source_W: none(network) }],
  });
  const at_C = rise_K.map((rise) => rise - 17.8);
  const surface_C = (faceSinks_W_per_K(grid, k, 'front', film)[0]! * rise_K[0]!) / film - 17.8;
  expect(Math.abs(surface_C + 273.15 - 267.98)).toBeLessThan(0.005 + 0.005); // half of the last digit, and the grid's
  expect(Math.abs(surface_C - -5.167882)).toBeLessThan(5e-3);
  const warm = at_C.findIndex((level) => level > 0);
  const size_mm = (1000 * depth_m) / cells;
  const frozen_mm = size_mm * (warm - 0.5 + -at_C[warm - 1]! / (at_C[warm]! - at_C[warm - 1]!));
  expect(Math.abs(frozen_mm - 33.12)).toBeLessThan(0.02);
});

// The product of three slabs: exact for a brick with films on all faces. [CARSLAW-JAEGER] section 5.6
test.each([
  { film: 10, times: [60, 300, 600, 1800], step_s: 5 },
  { film: 200, times: [5, 20, 60, 120], step_s: 1 },
])('an anisotropic brick cools like the product of three slabs, film $film', ({ film, times, step_s }) => {
  const size = [0.09, 0.06, 0.005] as const;
  const k = [27, 27, 0.5] as const;
  const storing = 2.2e6;
  const counts = [18, 12, 20] as const;
  const grid = {
    x_m: divide(size[0], counts[0]),
    y_m: divide(size[1], counts[1]),
    z_m: divide(size[2], counts[2]),
  };
  const { n, nx, nz } = countsOf(grid);
  const network = assembleNetwork(
    grid,
    conducting(grid, () => k),
    filmsAll(film),
    { capacity_J_per_m3K: perCell(grid, () => storing) },
  );
  const cells = Array.from({ length: n }, (_, c) => c);
  const centre = [8, 9].flatMap((i) => [5, 6].flatMap((j) => [9, 10].map((z) => z + nz * (i + nx * j))));
  const { probes_K } = follow(network, {
    start_K: new Float64Array(n).fill(1),
    phases: [{ duration_s: times.at(-1)!, steps: times.at(-1)! / step_s, source_W: none(network) }],
    probes: [
      { cells: centre, weights: centre.map(() => 1 / 8) },
      { cells, weights: cells.map(() => 1 / n) },
    ],
  });
  const product = (time_s: number, of: (Bi: number, Fo: number, axis: number) => number) =>
    size.reduce(
      (value, length, axis) =>
        value * of((film * length) / 2 / k[axis]!, (k[axis]! * time_s) / storing / (length / 2) ** 2, axis),
      1,
    );
  // The grid's share, seen by halving it: 2e-4 at film 10 and 1e-3 at 200. The centre is read from the eight cells around it.
  const bound = film === 10 ? 2e-4 : 1e-3;
  for (const time_s of times) {
    const step = time_s / step_s;
    const beside = product(time_s, (Bi, Fo, axis) => slabRise(Bi, Fo, 1 / counts[axis]!));
    expect(Math.abs(probes_K[0]![step]! - beside)).toBeLessThan(bound);
    expect(Math.abs(probes_K[1]![step]! - product(time_s, slabMean))).toBeLessThan(bound);
  }
});

// Two bodies: eigenvalues of a matrix of two by two give the exact answer. 25 and 60 J/K, 2 W into the first.
test('two bodies joined by a conductance follow their two exponentials', () => {
  const network: HeatNetwork = {
    nx: 2,
    ny: 1,
    nz: 1,
    east_W_per_K: Float64Array.of(0.12, 0),
    north_W_per_K: new Float64Array(2),
    up_W_per_K: new Float64Array(2),
    sink_W_per_K: Float64Array.of(0.08, 0.1),
    capacity_J_per_K: Float64Array.of(25, 60),
  };
  const { probes_K } = follow(network, {
    phases: [{ duration_s: 600, steps: 300, source_W: Float64Array.of(2, 0) }],
    probes: [
      { cells: [0], weights: [1] },
      { cells: [1], weights: [1] },
    ],
  });
  const [a, b, c, d] = [-0.2 / 25, 0.12 / 25, 0.12 / 60, -0.22 / 60];
  const root = Math.sqrt(((a - d) / 2) ** 2 + b * c);
  const rates = [(a + d) / 2 + root, (a + d) / 2 - root] as const;
  const final = [(2 * 0.22) / (0.2 * 0.22 - 0.12 ** 2), (2 * 0.12) / (0.2 * 0.22 - 0.12 ** 2)] as const;
  // Modes (b, rate - a); amplitudes such that all starts at nothing.
  const [u, v] = [rates[0] - a, rates[1] - a];
  const first = (-final[0] * v + final[1] * b) / (b * (v - u));
  const second = (final[0] * u - final[1] * b) / (b * (v - u));
  for (const time_s of [60, 300, 600]) {
    const [e, f] = [first * Math.exp(rates[0] * time_s), second * Math.exp(rates[1] * time_s)];
    // Steps of 2 s beside 104 s: an error of the square of their ratio over twelve, 3e-5, of 15 K.
    expect(Math.abs(probes_K[0]![time_s / 2]! - (final[0] + b * (e + f)))).toBeLessThan(5e-4);
    expect(Math.abs(probes_K[1]![time_s / 2]! - (final[1] + u * e + v * f))).toBeLessThan(5e-4);
  }
});

describe('a device through its thickness, heat switched on under the board', () => {
  const sheet = 1e-7;
  const each = (length_m: number) => new Array<number>(5).fill(length_m / 5);
  // Shell, board, the heated plane, pack, shell; gaps are contacts after cells 4, 10 and 15.
  const grid = column(stack([...each(0.002), ...each(0.001), sheet, ...each(0.005), ...each(0.002)]));
  const layer = ({ k }: { k: number }) => (k < 5 || k > 15 ? 0 : k < 10 ? 1 : k === 10 ? 2 : 3);
  const up = new Float64Array(21);
  up[4] = 0.0520868;
  up[10] = 0.0520868;
  up[15] = 0.0104495;
  const network = assembleNetwork(
    grid,
    conducting(grid, (cell) => [0.2, 0.35, 1000, 0.5][layer(cell)]!),
    filmsOn({ front: 10, back: 10 }),
    {
      contact: { up },
      capacity_J_per_m3K: perCell(grid, (cell) => [1.47e6, 1.8e6, 1, 2.2e6][layer(cell)]!),
    },
  );
  const source_W = new Float64Array(21);
  source_W[10] = 277.7778;
  const run = (scheme: 'second-order' | 'backward-euler') =>
    follow(network, {
      scheme,
      phases: [{ duration_s: 7200, steps: 720, source_W }],
      probes: [
        { cells: [10], weights: [1] },
        { cells: [11, 12, 13, 14, 15], weights: new Array<number>(5).fill(0.2) },
      ],
    });

  // Eigenvalues of fine grids, extrapolated, and a numerical inversion of the Laplace transform agree on these, K.
  const exact = [
    { after_s: 60, plane_K: 5.7728, pack_K: 0.32028 },
    { after_s: 300, plane_K: 11.545, pack_K: 2.7587 },
    { after_s: 900, plane_K: 16.87622, pack_K: 8.08216 },
    { after_s: 3600, plane_K: 23.32184, pack_K: 15.65991 },
    { after_s: 7200, plane_K: 24.03212, pack_K: 16.49823 },
  ];

  test.each(exact)('after $after_s s the heated plane is at $plane_K K', ({ after_s, plane_K, pack_K }) => {
    const { probes_K } = run('second-order');
    // Five cells per layer and steps of 10 s, as the independent program has them: 0.06 K at a minute, 0.006 K later.
    const bound = after_s < 300 ? 0.06 : 0.006;
    expect(Math.abs(probes_K[0]![after_s / 10]! - plane_K)).toBeLessThan(bound);
    expect(Math.abs(probes_K[1]![after_s / 10]! - pack_K)).toBeLessThan(bound);
  });

  test.each(['second-order', 'backward-euler'] as const)('what comes in is lost or stored, %s', (scheme) => {
    const { balance } = run(scheme);
    expect(balance.in_J).toBeCloseTo(277.7778 * 7200, 3);
    // A few residuals of 1e-10 add up.
    expect(Math.abs(balance.in_J - balance.out_J - balance.stored_J)).toBeLessThan(1e-8 * balance.in_J);
  });
});

test('a new phase switches the source, and ringing is damped', () => {
  const grid = column(divide(0.01, 40));
  const network = assembleNetwork(
    grid,
    conducting(grid, () => 0.2),
    filmsOn({ back: 10 }),
    {
      capacity_J_per_m3K: perCell(grid, () => 1.5e6),
    },
  );
  const on = new Float64Array(40);
  on[0] = 100;
  const { rise_K, after_s, probes_K } = follow(network, {
    phases: [
      { duration_s: 100, steps: 2, source_W: on },
      { duration_s: 1000, steps: 20, source_W: none(network) },
    ],
    probes: [{ cells: [0], weights: [1] }],
  });
  expect([...after_s.slice(0, 4)]).toEqual([0, 50, 100, 150]);
  // Without a source nothing may swing below ambient or rise again: steps are forty times what an explicit scheme bears.
  expect(Math.min(...rise_K)).toBeGreaterThan(0);
  for (let step = 3; step < 22; step++) expect(probes_K[0]![step]!).toBeLessThan(probes_K[0]![step - 1]!);
});

test('a body without any path to ambient stores all it is given', () => {
  const grid = column(divide(0.01, 5));
  const network = assembleNetwork(
    grid,
    conducting(grid, () => 1),
    filmsAll(0),
    {
      capacity_J_per_m3K: perCell(grid, () => 2e6),
    },
  );
  const { rise_K } = follow(network, {
    phases: [{ duration_s: 1000, steps: 10, source_W: new Float64Array(5).fill(1) }],
  });
  for (const rise of rise_K) expect(rise).toBeCloseTo((1000 * 5) / (2e6 * 0.01), 8);
});

describe('refusals', () => {
  const grid = column(divide(0.01, 3));
  const bare = assembleNetwork(
    grid,
    conducting(grid, () => 1),
    filmsAll(1),
  );
  const network = { ...bare, capacity_J_per_K: new Float64Array(3).fill(1) };
  const phases = [{ duration_s: 1, steps: 1, source_W: new Float64Array(3) }];

  test('of what cannot be stepped', () => {
    expect(() => solveTransient(bare, { phases })).toThrow(BadInputError);
    expect(() => solveTransient(network, { phases: [{ ...phases[0]!, steps: 0.5 }] })).toThrow(
      OutOfRangeError,
    );
    expect(() => solveTransient(network, { phases: [{ ...phases[0]!, duration_s: 0 }] })).toThrow(
      OutOfRangeError,
    );
    expect(() => solveTransient(network, { phases, probes: [{ cells: [3], weights: [1] }] })).toThrow(
      /probes/,
    );
    expect(() => solveTransient(network, { phases, start_K: new Float64Array(2) })).toThrow(/start_K/);
  });

  test('a run can be cancelled, and says where it was', () => {
    let asked = 0;
    const answer = solveTransient(network, {
      phases: [{ duration_s: 10, steps: 10, source_W: Float64Array.of(1, 0, 0) }],
      isCancelled: () => ++asked > 5,
    });
    expect(answer).toMatchObject({ ok: false, reason: { kind: 'cancelled' } });
  });
});
