import { describe, expect, test } from 'vitest';
import { conducting, divide, filmsOn, perCell, stack } from '../../../test/heat/grids.js';
import { assembleNetwork, prepareSolver, solveTransient } from '../index.js';

/**
 * A field made up to exercise every term, for which the source follows by differentiation: two anisotropic layers with a
 * contact between them, adiabatic in front and at the sides, a film behind.
 *
 * @source [SALARI-KNUPP-2000] the method of manufactured solutions; the field is derived here
 */
const [Lx, Ly, s, t2] = [0.09, 0.06, 5e-3, 2e-3];
const [k1, k2] = [
  [27, 20, 0.5],
  [5, 1, 0.25],
] as const;
const [contact, h, A] = [2e-3, 12, 10];
const p = 0.9 / s;
const shape = (x: number, y: number) => Math.cos((Math.PI * x) / Lx) * Math.cos((2 * Math.PI * y) / Ly);
const g1 = (z: number) => Math.cos(p * z);
const flux = k1[2] * -p * Math.sin(p * s);
const c0 = g1(s) + contact * flux;
const c1 = flux / k2[2];
const c2 = -(k2[2] * c1 + h * (c0 + c1 * t2)) / (2 * k2[2] * t2 + h * t2 * t2);
const g = (z: number) => (z < s ? g1(z) : c0 + c1 * (z - s) + c2 * (z - s) ** 2);
const gBent = (z: number) => (z < s ? -p * p * g1(z) : 2 * c2);
const field = (x: number, y: number, z: number) => A * (1 + shape(x, y)) * g(z);
const heat = (x: number, y: number, z: number) => {
  const k = z < s ? k1 : k2;
  const C = shape(x, y);
  return (
    A *
    ((k[0] * (Math.PI / Lx) ** 2 + k[1] * ((2 * Math.PI) / Ly) ** 2) * C * g(z) - k[2] * (1 + C) * gBent(z))
  );
};

function layers(n: number, grade: boolean) {
  const graded = (length: number, cells: number) =>
    divide(1, cells).map((e) => length * (grade ? e + (0.5 * Math.sin(2 * Math.PI * e)) / (2 * Math.PI) : e));
  const sizes = [...new Array<number>(2 * n).fill(s / (2 * n)), ...new Array<number>(n).fill(t2 / n)];
  const grid = { x_m: graded(Lx, 3 * n), y_m: graded(Ly, 2 * n), z_m: stack(sizes) };
  const conductivity = conducting(grid, ({ z }) => (z < s ? k1 : k2));
  const up = perCell(grid, ({ k }) => (k === 2 * n - 1 ? contact : 0));
  const capacity_J_per_m3K = perCell(grid, ({ z }) => (z < s ? 2.2e6 : 1.5e6));
  const network = assembleNetwork(grid, conductivity, filmsOn({ back: h }), {
    contact: { up },
    capacity_J_per_m3K,
  });
  const source_W = perCell(grid, ({ x, y, z, volume }) => heat(x, y, z) * volume);
  const exact_K = perCell(grid, ({ x, y, z }) => field(x, y, z));
  const volume = perCell(grid, (cell) => cell.volume);
  const errorOf = (rise_K: Float64Array, share = 1) =>
    Math.sqrt(
      rise_K.reduce((sum, value, c) => sum + volume[c]! * (value - share * exact_K[c]!) ** 2, 0) /
        (Lx * Ly * (s + t2)),
    );
  return { grid, network, source_W, exact_K, errorOf };
}

const order = (coarse: number, fine: number) => Math.log2(coarse / fine);

describe('steady', () => {
  // Errors of an independent program (NumPy, the same scheme written anew) on the same grids, K.
  test.each([
    { graded: false, independent: [3.3732e-1, 8.153e-2, 2.0212e-2] },
    { graded: true, independent: [9.0599e-1, 2.265e-1, 5.6288e-2] },
  ])(
    'second order, with the errors of an independent program (graded: $graded)',
    ({ graded, independent }) => {
      const errors = [3, 6, 12].map((n) => {
        const { network, source_W, errorOf } = layers(n, graded);
        const answer = prepareSolver(network).solve(source_W, { tolerance: 1e-11 });
        if (!answer.ok) throw new Error(answer.reason.kind);
        return errorOf(answer.value.rise_K);
      });
      // Five per cent: the same scheme may still place sources and means a little differently.
      for (const [at, error] of errors.entries()) {
        expect(Math.abs(error / independent[at]! - 1)).toBeLessThan(0.05);
      }
      expect(order(errors[1]!, errors[2]!)).toBeGreaterThan(1.9);
      expect(order(errors[1]!, errors[2]!)).toBeLessThan(2.1);
    },
  );
});

describe('over time', () => {
  const settling_s = 600;
  const run = (n: number, steps: number, scheme: 'second-order' | 'backward-euler') => {
    const { network, source_W, exact_K, errorOf } = layers(n, false);
    const capacity = network.capacity_J_per_K!;
    const source = (after_s: number, into: Float64Array) => {
      const rest = Math.exp(-after_s / settling_s);
      for (let c = 0; c < into.length; c++) {
        into[c] = (1 - rest) * source_W[c]! + (capacity[c]! * exact_K[c]! * rest) / settling_s;
      }
    };
    const phases = [{ duration_s: 600, steps, source_W: source }];
    const answer = solveTransient(network, { phases, scheme, tolerance: 1e-11 });
    if (!answer.ok) throw new Error(answer.reason.kind);
    return errorOf(answer.value.rise_K, 1 - Math.exp(-1));
  };

  // Errors of an independent program, Crank-Nicolson without the damped start, which errs a little more: within 5 %.
  test('second order in time and space together', () => {
    const errors = [
      [3, 10],
      [6, 20],
      [12, 40],
    ].map(([n, steps]) => run(n!, steps!, 'second-order'));
    for (const [at, independent] of [2.0777e-1, 5.0205e-2, 1.2446e-2].entries()) {
      expect(Math.abs(errors[at]! / independent - 1)).toBeLessThan(0.05);
    }
    expect(order(errors[1]!, errors[2]!)).toBeGreaterThan(1.9);
    expect(order(errors[1]!, errors[2]!)).toBeLessThan(2.1);
  });

  // The same program, implicit Euler on the grid of n = 6, steps of 120, 60, 30 and 15 s: first order above the grid's error.
  test('backward Euler errs as an independent program does', () => {
    for (const [steps, independent] of [
      [5, 0.3441],
      [10, 0.1821],
      [20, 0.1014],
      [40, 0.0665],
    ] as const) {
      expect(Math.abs(run(6, steps, 'backward-euler') / independent - 1)).toBeLessThan(0.01);
    }
  });
});
