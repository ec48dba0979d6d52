import fc from 'fast-check';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { base, buildStack, hardCases, readRises, sizes } from '../../../../../bench/heat/problem.mjs';
import { drawDevice } from '../../../test/heat/grids.js';
import { makeNoise } from '../../numerics/index.js';
import { assembleNetwork, type HeatNetwork, prepareSolver, solveTransient } from '../index.js';

const engines = ['typescript', 'wasm'] as const;

function networkOf(problem: ReturnType<typeof buildStack>): HeatNetwork {
  return assembleNetwork(problem.grid, problem.conductivity, problem.films);
}

// SciPy's sparse direct solver (SuperLU, spsolve) on the same matrix, assembled anew in NumPy: hottest cell of chips A to D
// and of the pack, and the mean of the pack, K. CHOLMOD gives the same digits.
describe('the benchmark stack comes to what sparse direct solvers give', () => {
  const direct = {
    '60k': [62.328, 53.863, 41.46, 29.451, 20.78, 18.851],
    '490k': [59.26, 51.416, 39.858, 28.487, 20.665, 18.638],
  };
  test.each([
    ['60k', 'typescript'],
    ['60k', 'wasm'],
    ['490k', 'wasm'],
  ] as const)('%s cells, %s', (size, engine) => {
    const problem = buildStack(base, sizes[size]!);
    const answer = prepareSolver(networkOf(problem), { engine }).solve(problem.source_W);
    if (!answer.ok) throw new Error(answer.reason.kind);
    for (const [at, rise] of readRises(problem, answer.value.rise_K).entries()) {
      expect(Math.abs(rise - direct[size][at]!)).toBeLessThan(1e-3);
    }
    expect(answer.value.iterations).toBeLessThanOrEqual(15);
  });
});

describe('iterations do not grow on stacks that upset other solvers', () => {
  test.each(Object.entries(hardCases))('%s', (_name, { stack, refine }) => {
    const problem = buildStack(stack, refine);
    const answer = prepareSolver(networkOf(problem)).solve(problem.source_W);
    if (!answer.ok) throw new Error(JSON.stringify(answer.reason));
    expect(answer.value.iterations).toBeLessThanOrEqual(20);
    expect(Math.abs(answer.value.balance.out_W - 5)).toBeLessThan(1e-6);
  });
});

describe('both engines', () => {
  test('give the same field on any device', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2147483646 }), (seed) => {
        const device = drawDevice(makeNoise(seed), 20);
        const network = assembleNetwork(device.grid, device.conductivity, device.films);
        const [slow, fast] = engines.map((engine) => {
          const answer = prepareSolver(network, { engine }).solve(device.source_W, {
            tolerance: 1e-11,
            maxIterations: 500,
          });
          if (!answer.ok) throw new Error(JSON.stringify(answer.reason));
          return answer.value;
        });
        const most = slow!.rise_K.reduce((high, value) => Math.max(high, value));
        // Both within 1e-11 of the source; the cycle rounds differently, so an iteration more or less is no difference.
        for (const [c, rise] of slow!.rise_K.entries()) {
          expect(Math.abs(rise - fast!.rise_K[c]!)).toBeLessThan(1e-8 * most);
        }
        expect(Math.abs(slow!.iterations - fast!.iterations)).toBeLessThanOrEqual(2);
      }),
      { numRuns: 60 },
    );
  });

  test.each(engines)('take other networks in place, of the same and of other counts: %s', (engine) => {
    const devices = [5, 6, 7, 5].map((seed) => drawDevice(makeNoise(seed), 15));
    const networks = devices.map(({ grid, conductivity, films }) =>
      assembleNetwork(grid, conductivity, films),
    );
    const warmer = { ...networks[0]!, sink_W_per_K: networks[0]!.sink_W_per_K.map((sink) => sink / 2) };
    const reused = prepareSolver(networks[0]!, { engine });
    for (const [network, device] of [
      [networks[1]!, devices[1]!],
      [networks[2]!, devices[2]!],
      [networks[3]!, devices[3]!],
      [warmer, devices[3]!],
    ] as const) {
      reused.prepare(network);
      const again = reused.solve(device.source_W);
      const fresh = prepareSolver(network, { engine }).solve(device.source_W);
      expect(again).toEqual(fresh);
    }
  });

  test.each(engines)('start from a field and write where they are told: %s', (engine) => {
    const { grid, conductivity, films, source_W } = drawDevice(makeNoise(11), 15);
    const solver = prepareSolver(assembleNetwork(grid, conductivity, films), { engine });
    const cold = solver.solve(source_W, { tolerance: 1e-10 });
    if (!cold.ok) throw new Error(cold.reason.kind);
    const field = cold.value.rise_K.slice();
    const warm = solver.solve(source_W, { start: field, into: field, tolerance: 1e-9 });
    if (!warm.ok) throw new Error(warm.reason.kind);
    expect(warm.value.iterations).toBe(0);
    expect(warm.value.rise_K).toBe(field);
    expect(field).toEqual(cold.value.rise_K);
  });

  test('follow time alike', () => {
    const problem = buildStack(
      { ...base, z: { ...base.z, cells: new Array<number>(10).fill(1) } },
      [1, 1, 1],
    );
    const network = assembleNetwork(problem.grid, problem.conductivity, problem.films, problem);
    const [slow, fast] = engines.map((engine) => {
      const answer = solveTransient(network, {
        engine,
        phases: [{ duration_s: 300, steps: 10, source_W: problem.source_W }],
      });
      if (!answer.ok) throw new Error(answer.reason.kind);
      return answer.value.rise_K;
    });
    const most = slow!.reduce((high, value) => Math.max(high, value));
    for (const [c, rise] of slow!.entries()) expect(Math.abs(rise - fast![c]!)).toBeLessThan(1e-6 * most);
  });
});

describe('where WebAssembly is missing', () => {
  afterEach(() => {
    vi.unstubAllGlobals();
  });

  test('the reference takes over, unless the other engine was asked for', () => {
    const { grid, conductivity, films, source_W } = drawDevice(makeNoise(3));
    const network = assembleNetwork(grid, conductivity, films);
    expect(prepareSolver(network).engine).toBe('wasm');
    vi.stubGlobal('WebAssembly', undefined);
    const solver = prepareSolver(network);
    expect(solver.engine).toBe('typescript');
    expect(solver.solve(source_W).ok).toBe(true);
    expect(() => prepareSolver(network, { engine: 'wasm' })).toThrow();
  });

  test('or has no room for a grid, it takes over for that grid', () => {
    const { grid, conductivity, films } = drawDevice(makeNoise(3));
    const small = prepareSolver(assembleNetwork(grid, conductivity, films));
    vi.spyOn(WebAssembly.Memory.prototype, 'grow').mockImplementation(() => {
      throw new RangeError('no room');
    });
    const problem = buildStack(base, [1, 1, 1]);
    small.prepare(networkOf(problem));
    vi.restoreAllMocks();
    expect(small.engine).toBe('typescript');
    expect(small.solve(problem.source_W).ok).toBe(true);
  });
});
