import { formatNumber } from '@soakbench/core/measure';
import { defineAction, type ExitCode, jsonOption } from '../parts/action.js';
import { jsonVersion } from '../parts/assessment-json.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { makeStandardStack } from './standard-stack.js';
import { type Timing, timeSolvers, tolerance } from './time-solvers.js';

/** Sizes of cells in plan, mm, and how often each is solved: two or three seconds in all. */
const tasks = [
  { cell_mm: 7, turns: 40 },
  { cell_mm: 3.5, turns: 30 },
] as const;

export const benchHeat = defineAction({
  words: 'heat bench',
  about:
    'How long this machine takes to set up and solve a standard stack of board, chips, plate, tape and pack: by the fast engine in WebAssembly, with one thread and with two, and by the readable one in TypeScript, taken in turns. The first time stands apart, because the engine is compiled and its memory made then; after it, medians of turns in the same memory, which is what dragging and sweeps meet. And whether all give the same temperatures. A few seconds. How the solver stands against others is measured by `npm run bench`.',
  operands: {},
  options: { json: jsonOption },
  examples: [{ command: 'npx soakbench heat bench', shows: 'the engines on this machine, side by side' }],
  async run(_, { json }): Promise<ExitCode> {
    const timings: Timing[] = [];
    for (const { cell_mm, turns } of tasks)
      timings.push(...(await timeSolvers(makeStandardStack(cell_mm), turns)));
    if (json) {
      sayJson({ format: 'soakbench-heat-bench', version: jsonVersion, tolerance, timings });
      return 0;
    }
    const page = answerPage();
    const cells = timings.at(-1)?.cells;
    const large = timings.filter((each) => each.cells === cells);
    const plain = large.find(({ engine }) => engine === 'typescript');
    const fast = large.find(({ engine }) => engine === 'wasm');
    say([
      ...wrap(
        page,
        fast === undefined || plain === undefined
          ? 'This machine runs no WebAssembly with SIMD: the readable engine does the work.'
          : `Sets up and solves ${cells} cells in ${formatNumber(1e3 * (fast.setup_s + fast.solve_s))} ms once it is warm, ${formatNumber((plain.setup_s + plain.solve_s) / (fast.setup_s + fast.solve_s))} times as fast as the readable engine.`,
      ),
      '',
      ...layTable(
        page,
        [
          { title: 'cells', right: true },
          { title: 'engine' },
          { title: 'first time ms', right: true },
          { title: 'set up ms', right: true },
          { title: 'solve ms', right: true },
          { title: 'iterations', right: true },
          { title: 'chip K', right: true },
          { title: 'differs K', right: true },
        ],
        timings.map((each) => [
          String(each.cells),
          nameOf(each),
          formatNumber(1e3 * each.first_s, 0),
          formatNumber(1e3 * each.setup_s, 2),
          formatNumber(1e3 * each.solve_s, 2),
          String(each.iterations),
          formatNumber(each.chip_K, 2),
          each.differ_K === null ? '' : each.differ_K.toExponential(0),
        ]),
      ),
      ...wrap(
        page,
        `Residual ${tolerance}; medians of warm turns; other programs slow it down, and two threads most. Differences are from the first line of each size.`,
        '  ',
      ),
    ]);
    return 0;
  },
});

function nameOf({ engine, threads }: Timing): string {
  if (engine === 'typescript') return 'TypeScript';
  return threads === 1 ? 'WebAssembly' : `WebAssembly, ${threads} threads`;
}
