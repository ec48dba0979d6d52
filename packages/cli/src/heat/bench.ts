import { prepareSolver } from '@soakbench/core/heat';
import { formatNumber } from '@soakbench/core/measure';
import { defineAction, jsonOption } from '../parts/action.js';
import { jsonVersion } from '../parts/assessment-json.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { makeStandardStack, type StandardStack } from './standard-stack.js';

/** Sizes of cells in plan, mm, and how often each is solved: a second or two in all. */
const tasks = [
  { cell_mm: 7, repeats: 9 },
  { cell_mm: 3.5, repeats: 7 },
] as const;
const tolerance = 1e-8;

export const benchHeat = defineAction({
  words: 'heat bench',
  about:
    'How long this machine takes to set up and solve a standard stack of board, chips, plate, tape and pack, by the fast engine in WebAssembly and by the readable one in TypeScript, taken in turns: medians, and whether both give the same temperatures. A second or two. How the solver stands against others is measured by `npm run bench`.',
  operands: {},
  options: { json: jsonOption },
  examples: [{ command: 'npx soakbench heat bench', shows: 'both engines on this machine, side by side' }],
  run(_, { json }) {
    const timings = tasks.map(({ cell_mm, repeats }) => timeEngines(makeStandardStack(cell_mm), repeats));
    if (json) {
      sayJson({ format: 'soakbench-heat-bench', version: jsonVersion, tolerance, timings });
      return 0;
    }
    const page = answerPage();
    const large = timings.at(-1);
    say([
      ...wrap(
        page,
        large?.wasm_s === null || large === undefined
          ? 'This machine runs no WebAssembly with SIMD: the readable engine does the work.'
          : `Set up and solved ${large.cells} cells in ${formatNumber(1e3 * large.wasm_s, 0)} ms, ${formatNumber(large.typescript_s / large.wasm_s)} times as fast as the readable engine.`,
      ),
      '',
      ...layTable(
        page,
        [
          { title: 'cells', right: true },
          { title: 'WebAssembly ms', right: true },
          { title: 'TypeScript ms', right: true },
          { title: 'ratio', right: true },
          { title: 'iterations', right: true },
          { title: 'chip K', right: true },
          { title: 'engines differ K', right: true },
        ],
        timings.map((each) => [
          String(each.cells),
          each.wasm_s === null ? 'none' : formatNumber(1e3 * each.wasm_s),
          formatNumber(1e3 * each.typescript_s),
          each.wasm_s === null ? '' : formatNumber(each.typescript_s / each.wasm_s, 2),
          String(each.iterations),
          formatNumber(each.chip_K, 2),
          each.differ_K === null ? '' : each.differ_K.toExponential(0),
        ]),
      ),
      ...wrap(page, `Residual ${tolerance}, one thread, median of turns; other programs slow it down.`, '  '),
    ]);
    return 0;
  },
});

interface Timing {
  readonly cells: number;
  /** Null where this machine has no WebAssembly with SIMD. */
  readonly wasm_s: number | null;
  readonly typescript_s: number;
  readonly iterations: number;
  readonly chip_K: number;
  /** Greatest difference of the two engines' fields. */
  readonly differ_K: number | null;
}

function timeEngines({ network, source_W, chip }: StandardStack, repeats: number): Timing {
  const solve = (engine: 'wasm' | 'typescript') => {
    const from = performance.now();
    const solved = prepareSolver(network, { engine }).solve(source_W, { tolerance });
    if (!solved.ok) throw new Error(`The standard stack was not solved: ${solved.reason.kind}.`);
    return { took_s: (performance.now() - from) / 1e3, ...solved.value };
  };
  const attempt = () => {
    try {
      return solve('wasm');
    } catch {
      return null;
    }
  };
  const wasm_s: number[] = [];
  const typescript_s: number[] = [];
  let [last, plain] = [attempt(), solve('typescript')];
  for (let turn = 0; turn < repeats; turn++) {
    last = attempt();
    plain = solve('typescript');
    if (last !== null) wasm_s.push(last.took_s);
    typescript_s.push(plain.took_s);
  }
  const fast = last;
  const { rise_K, iterations } = fast ?? plain;
  return {
    cells: source_W.length,
    wasm_s: wasm_s.length === 0 ? null : median(wasm_s),
    typescript_s: median(typescript_s),
    iterations,
    chip_K: chip.cells.reduce(
      (sum, cell, at) => sum + (chip.shares[at] as number) * (rise_K[cell] as number),
      0,
    ),
    differ_K:
      fast === null
        ? null
        : fast.rise_K.reduce(
            (most, rise, cell) => Math.max(most, Math.abs(rise - (plain.rise_K[cell] as number))),
            0,
          ),
  };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[sorted.length >> 1] as number;
}
