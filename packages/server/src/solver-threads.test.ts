import { Worker } from 'node:worker_threads';
import { lendThreads, prepareSolver } from '@soakbench/core/heat';
import { afterEach, describe, expect, test } from 'vitest';
import { base, buildStack, hardCases } from '../../../bench/heat/problem.mjs';
import { assembleNetwork } from '../../core/src/heat/index.js';
import { startSolverThreads } from './solver-threads.js';

let end: () => Promise<void> = () => Promise.resolve();
afterEach(() => end());

/** Long enough for a helper to start beside other programs. */
const up_ms = 1500;
const rest = (time_ms: number) => new Promise((resolve) => setTimeout(resolve, time_ms));

const cases = {
  base: { stack: base, refine: [1, 1, 1] as const },
  'slotted plate': hardCases['slotted plate'] ?? { stack: base, refine: [1, 1, 1] as const },
};

describe('with helpers', () => {
  test.each(Object.entries(cases))(
    'fields are the same to the last bit: %s',
    async (_, { stack, refine }) => {
      const problem = buildStack(stack, refine);
      const network = assembleNetwork(problem.grid, problem.conductivity, problem.films, problem);
      const alone = prepareSolver(network, { engine: 'wasm' });
      const expected = alone.solve(problem.source_W);
      const start = new Float64Array(problem.source_W.length).fill(3);
      const near = alone.solve(problem.source_W, { start, tolerance: 1e-3 });
      for (const helpers of [1, 2]) {
        end = startSolverThreads(helpers, true);
        const shared = prepareSolver(network, { engine: 'wasm' });
        await rest(up_ms);
        shared.prepare(network);
        expect(shared.solve(problem.source_W)).toEqual(expected);
        expect(shared.solve(problem.source_W, { start, tolerance: 1e-3 })).toEqual(near);
        await end();
      }
    },
  );

  test('they go from one solver to another and back', async () => {
    const problems = [base, { ...base, films: { ...base.films, front: 20 } }].map((stack) =>
      buildStack(stack, [1, 1, 1]),
    );
    const networks = problems.map(({ grid, conductivity, films }) =>
      assembleNetwork(grid, conductivity, films),
    );
    const expected = networks.map((network, at) => prepareSolver(network).solve(problems[at]!.source_W));
    end = startSolverThreads(1);
    const solvers = networks.map((network) => prepareSolver(network));
    await rest(up_ms);
    for (let turn = 0; turn < 6; turn++) {
      const at = turn % 2;
      expect(solvers[at]!.solve(problems[at]!.source_W)).toEqual(expected[at]);
      if (turn % 3 === 0) await rest(20);
    }
  });

  test('one that dies is an error at once, not a wait without end, and the next solve does without', async () => {
    const problem = buildStack(base, [1, 1, 1]);
    const network = assembleNetwork(problem.grid, problem.conductivity, problem.films);
    const expected = prepareSolver(network).solve(problem.source_W);
    // Checks in as a helper does and is never heard of again.
    const words = new Int32Array(new SharedArrayBuffer(4));
    const stray = new Worker(
      `const { parentPort, workerData } = require('node:worker_threads');
       parentPort.once('message', ({ memory, ticket }) => {
         Atomics.store(new Int32Array(memory.buffer), 64, (ticket << 8) + 1);
         Atomics.store(workerData, 0, 1);
         process.exit();
       });`,
      { eval: true, workerData: words },
    );
    let ended = false;
    lendThreads({
      count: 1,
      now_ms: () => performance.now(),
      send: (_, wanted) => stray.postMessage(wanted),
      end: () => {
        ended = true;
      },
      patience_s: 0.3,
    });
    const solver = prepareSolver(network);
    while (Atomics.load(words, 0) === 0) await rest(10);
    expect(() => solver.solve(problem.source_W)).toThrow(/A thread that helped the heat solver ended/);
    expect(ended).toBe(true);
    solver.prepare(network);
    expect(solver.solve(problem.source_W)).toEqual(expected);
    await stray.terminate();
  });
});
