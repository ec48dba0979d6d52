import { describe, expect, test } from 'vitest';
import { column, conducting, divide, filmsAll } from '../../../test/heat/grids.js';
import { BadInputError, OutOfRangeError } from '../../measure/index.js';
import { assembleNetwork, type HeatNetwork, iterateSolve, prepareSolver } from '../index.js';

const grid = column(divide(0.01, 3));
const k = conducting(grid, () => 1);
const good = assembleNetwork(grid, k, filmsAll(10));

describe('a grid is refused', () => {
  test('with more cells than memory holds, before anything of that size is made', () => {
    const many = divide(0.1, 1000);
    const empty = new Float64Array(0);
    const asked = () =>
      assembleNetwork({ x_m: many, y_m: many, z_m: many }, { kx: empty, ky: empty, kz: empty }, filmsAll(10));
    expect(asked).toThrow(OutOfRangeError);
    expect(asked).toThrow(/1000 x 1000 x 1000/);
  });

  test.each([
    ['cells without size', Float64Array.of(0, 0.001, 0.001)],
    ['edges that descend', Float64Array.of(0, 0.002, 0.001)],
    ['an edge that is no number', Float64Array.of(0, Number.NaN, 0.001)],
    ['one edge', Float64Array.of(0)],
  ])('with %s', (_name, z_m) => {
    const cells = new Float64Array(2).fill(1);
    expect(() => assembleNetwork(column(z_m), { kx: cells, ky: cells, kz: cells }, filmsAll(10))).toThrow(
      BadInputError,
    );
  });
});

describe('coefficients are refused', () => {
  test.each([0, -1, Number.NaN, Infinity])('a conductivity of %d', (value) => {
    const kz = Float64Array.of(1, value, 1);
    expect(() => assembleNetwork(grid, { ...k, kz }, filmsAll(10))).toThrow(/conductivity\.kz\[1\]/);
  });

  test.each([-1, Number.NaN])('a film of %d', (film) => {
    expect(() => assembleNetwork(grid, k, { ...filmsAll(10), back: film })).toThrow(/films\.back/);
  });

  test('a film for each cell, but not of each', () => {
    const back = new Float64Array(2).fill(1);
    expect(() => assembleNetwork(grid, k, { ...filmsAll(10), back })).toThrow(/2 values for 1 cells/);
  });

  test('a contact that is negative, a capacity that is missing', () => {
    const up = Float64Array.of(-1, 0, 0);
    expect(() => assembleNetwork(grid, k, filmsAll(10), { contact: { up } })).toThrow(/contact\.up\[0\]/);
    const capacity_J_per_m3K = Float64Array.of(1, 1);
    expect(() => assembleNetwork(grid, k, filmsAll(10), { capacity_J_per_m3K })).toThrow(/capacity/);
  });
});

describe('a network is refused', () => {
  test('that has no path to ambient', () => {
    expect(() => prepareSolver(assembleNetwork(grid, k, filmsAll(0)))).toThrow(/no path to ambient/);
  });

  test('of which a part has no path to ambient', () => {
    const up_W_per_K = Float64Array.of(1, 0, 0);
    const network = { ...good, up_W_per_K, sink_W_per_K: Float64Array.of(1, 0, 0) };
    expect(() => prepareSolver(network)).toThrow(/cell 2/);
    // The same part with a sink of its own is a second body, and solved.
    const both = prepareSolver({ ...network, sink_W_per_K: Float64Array.of(1, 0, 2) });
    const answer = both.solve(Float64Array.of(0, 3, 4), { tolerance: 1e-12 });
    if (!answer.ok) throw new Error(answer.reason.kind);
    expect([...answer.value.rise_K].map((rise) => Number(rise.toFixed(9)))).toEqual([3, 6, 2]);
  });

  test.each([
    ['a conductance that is negative', { sink_W_per_K: Float64Array.of(1, -1, 1) }],
    ['a conductance that is no number', { up_W_per_K: Float64Array.of(1, Number.NaN, 0) }],
    ['an array too short', { sink_W_per_K: Float64Array.of(1) }],
    ['a conductance out of the grid', { east_W_per_K: Float64Array.of(0, 1, 0) }],
    ['counts that are not whole', { nz: 1.5 }],
  ])('with %s', (_name, part: Partial<HeatNetwork>) => {
    expect(() => prepareSolver({ ...good, ...part })).toThrow();
  });
});

describe('a solve', () => {
  test.each(['typescript', 'wasm'] as const)(
    'that does not converge says so, with what is left: %s',
    (engine) => {
      const wide = { x_m: divide(0.1, 30), y_m: divide(0.1, 30), z_m: divide(0.01, 4) };
      const network = assembleNetwork(
        wide,
        conducting(wide, ({ i, j }) => ((i * 7 + j * 3) % 5 === 0 ? 200 : 0.03)),
        filmsAll(1),
      );
      const source_W = new Float64Array(3600);
      source_W[1800] = 1;
      const answer = prepareSolver(network, { engine }).solve(source_W, { maxIterations: 2 });
      if (answer.ok || answer.reason.kind !== 'not-converged') throw new Error('It should not converge.');
      expect(answer.reason.iterations).toBe(2);
      expect(answer.reason.residual).toBeGreaterThan(1e-8);
    },
  );

  test('can be cancelled', () => {
    const answer = prepareSolver(good).solve(Float64Array.of(1, 0, 0), { isCancelled: () => true });
    expect(answer).toEqual({ ok: false, reason: { kind: 'cancelled' } });
  });

  test('without a source finds no rise, whatever it starts from', () => {
    const answer = prepareSolver(good).solve(new Float64Array(3), { start: Float64Array.of(1, 2, 3) });
    expect(answer).toMatchObject({ ok: true, value: { rise_K: new Float64Array(3), iterations: 0 } });
  });

  test.each([
    ['a source too short', Float64Array.of(1), {}],
    ['a source that is no number', Float64Array.of(1, Number.NaN, 0), {}],
    ['a start too short', Float64Array.of(1, 0, 0), { start: Float64Array.of(1) }],
    ['a tolerance of nothing', Float64Array.of(1, 0, 0), { tolerance: 0 }],
  ])('is refused %s', (_name, source_W, options) => {
    expect(() => prepareSolver(good).solve(source_W, options)).toThrow();
  });

  test('whose rises drown the residual in rounding says what ended it', () => {
    const network = assembleNetwork(grid, k, filmsAll(1e-9));
    const answer = prepareSolver(network).solve(Float64Array.of(1, 0, 0), { tolerance: 1e-12 });
    if (!answer.ok) throw new Error(answer.reason.kind);
    expect(answer.value.endedBy).toBe('rounding');
    expect(answer.value.residual).toBeGreaterThan(1e-12);
  });
});

describe('an iteration over coefficients', () => {
  test('that swings says so, and settles when it is calmed', () => {
    // A sink that falls steeply with the rise: each round overshoots the last.
    const coefficientsAt = (rise_K: Float64Array | undefined) => ({
      network: { ...good, sink_W_per_K: new Float64Array(3).fill(1 / (1 + (rise_K?.[0] ?? 0) ** -3)) },
      source_W: new Float64Array(3).fill(1),
    });
    const start = new Float64Array(3).fill(0.5);
    expect(iterateSolve(coefficientsAt, { within_K: 1e-6, start })).toMatchObject({
      ok: false,
      reason: { kind: 'not-settled', rounds: 50 },
    });
    const calm = iterateSolve(coefficientsAt, { within_K: 1e-6, start, relaxation: 0.3 });
    if (!calm.ok) throw new Error(calm.reason.kind);
    // rise = 1 + rise^-3 has the root 1.380278.
    expect(calm.value.rise_K[0]).toBeCloseTo(1.380278, 4);
  });

  test('hands on what stops a solve, and refuses a bound of nothing', () => {
    const coefficientsAt = () => ({ network: good, source_W: new Float64Array(3).fill(1) });
    expect(iterateSolve(coefficientsAt, { within_K: 1, isCancelled: () => true })).toEqual({
      ok: false,
      reason: { kind: 'cancelled' },
    });
    expect(() => iterateSolve(coefficientsAt, { within_K: 0 })).toThrow(OutOfRangeError);
    expect(() => iterateSolve(coefficientsAt, { within_K: 1, relaxation: 2 })).toThrow(OutOfRangeError);
  });
});
