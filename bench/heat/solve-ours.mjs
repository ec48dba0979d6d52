// @ts-check
/**
 * One measurement of our solver in a process of its own; prints one JSON line. Run by bench/heat-solve.mjs:
 *   node bench/heat/solve-ours.mjs write <size> <file>      the network and source, for the other programs
 *   node bench/heat/solve-ours.mjs solve <size> <engine>    setup and solve: first, and medians of more
 *   node bench/heat/solve-ours.mjs threads <size>           one thread and two, in turns, and whether fields are the same
 *   node bench/heat/solve-ours.mjs transient <size> <engine>
 *   node bench/heat/solve-ours.mjs gradients <size>         slopes of the pack's mean by adjoint, against differences of solves
 *   node bench/heat/solve-ours.mjs edit <size> <engine>     the plate's thickness changes: to a field good to 0.01 K
 */

import { sumSlopes } from '../../packages/core/dist/heat/device/slopes.kernel.js';
import {
  assembleNetwork,
  faceSinks_W_per_K,
  prepareSolver,
  solveTransient,
} from '../../packages/core/dist/heat/index.js';
import { lettersOf } from '../../packages/core/dist/heat/solve/level.js';
import { startSolverThreads } from '../../packages/server/dist/solver-threads.js';
import { base, buildStack, pack, readMeans, readRises, sizes, writeProblem } from './problem.mjs';
import { measureTransfer_ns } from './transfer.mjs';

const [task = '', size = '60k', option = 'wasm'] = process.argv.slice(2);
const refine = sizes[size];
if (!refine) throw new Error(`There is no size ${size}; there are ${Object.keys(sizes).join(', ')}.`);
const engine = option === 'typescript' ? 'typescript' : 'wasm';

/** @param {number[]} values */
const median = (values) => Number([...values].sort((a, b) => a - b)[values.length >> 1]);
/** @template T @param {import('../../packages/core/dist/measure/index.js').Result<T, { kind: string }>} result */
function must(result) {
  if (!result.ok) throw new Error(JSON.stringify(result.reason));
  return result.value;
}
const problem = buildStack(base, refine);
const { source_W } = problem;
const assemble = () => assembleNetwork(problem.grid, problem.conductivity, problem.films, problem);

/** @type {Record<string, () => object | Promise<object>>} */
const tasks = {
  write() {
    writeProblem(assemble(), source_W, option);
    return { cells: source_W.length };
  },

  solve() {
    const network = assembleNetwork(problem.grid, problem.conductivity, problem.films);
    let before = performance.now();
    const solver = prepareSolver(network, { engine });
    let field = must(solver.solve(source_W));
    const first_s = (performance.now() - before) / 1000;
    const [setups, solves] = [/** @type {number[]} */ ([]), /** @type {number[]} */ ([])];
    // Small grids take some hundred passes until the compiler has done its part; large ones a few.
    const passes = Math.max(3, Math.min(100, Math.round(6e6 / source_W.length)));
    for (let pass = 0; pass < passes; pass++) {
      before = performance.now();
      solver.prepare(network);
      const ready = performance.now();
      field = must(solver.solve(source_W));
      setups.push((ready - before) / 1000);
      solves.push((performance.now() - ready) / 1000);
    }
    const half = passes >> 1;
    return {
      first_s,
      setup_s: median(setups.slice(half)),
      solve_s: median(solves.slice(half)),
      iterations: field.iterations,
      residual: field.residual,
      most_K: field.rise_K.reduce((high, rise) => Math.max(high, rise)),
      rises_K: readRises(problem, field.rise_K),
      means_K: readMeans(problem, field.rise_K),
      peak_MB: Math.round(process.resourceUsage().maxRSS / 1024),
      cells: source_W.length,
    };
  },

  async threads() {
    const network = assembleNetwork(problem.grid, problem.conductivity, problem.films);
    const alone = prepareSolver(network, { engine: 'wasm' });
    const end = startSolverThreads(1);
    const helped = prepareSolver(network, { engine: 'wasm' });
    await new Promise((resolve) => setTimeout(resolve, 500));
    const runners = [alone, helped].map((solver) => ({
      solver,
      setups: /** @type {number[]} */ ([]),
      solves: /** @type {number[]} */ ([]),
      rise_K: new Float64Array(0),
    }));
    const passes = Math.max(5, Math.min(100, Math.round(6e6 / source_W.length)));
    for (let pass = 0; pass < passes; pass++) {
      for (const runner of pass % 2 ? runners : [...runners].reverse()) {
        const before = performance.now();
        runner.solver.prepare(network);
        const ready = performance.now();
        runner.rise_K = must(runner.solver.solve(source_W)).rise_K;
        runner.setups.push((ready - before) / 1000);
        runner.solves.push((performance.now() - ready) / 1000);
      }
    }
    await end();
    const transfer_ns = await measureTransfer_ns();
    const [one, two] = runners;
    if (!one || !two) throw new Error('There are two runners.');
    const half = passes >> 1;
    /** Of pairs that ran one after the other. @param {'setups' | 'solves'} what */
    const ratio = (what) =>
      median(one[what].slice(half).map((time, at) => time / Number(two[what][half + at])));
    return {
      threads: helped.threads,
      one_s: median(one.solves.slice(half)),
      two_s: median(two.solves.slice(half)),
      ratio: ratio('solves'),
      best: Math.min(...one.solves) / Math.min(...two.solves),
      setupRatio: ratio('setups'),
      transfer_ns,
      differ: one.rise_K.reduce((count, rise, c) => count + (rise === two.rise_K[c] ? 0 : 1), 0),
    };
  },

  transient() {
    const network = assemble();
    const phases = [{ duration_s: 3600, steps: 360, source_W }];
    /** @param {number} tolerance */
    const run = (tolerance) =>
      must(solveTransient(network, { phases, scheme: 'backward-euler', engine, tolerance }));
    run(1e-6);
    const times = [0, 1, 2].map(() => {
      const before = performance.now();
      run(1e-6);
      return (performance.now() - before) / 1000;
    });
    const [quick, exact] = [run(1e-6), run(1e-11)];
    const error_K = quick.rise_K.reduce(
      (high, rise, c) => Math.max(high, Math.abs(rise - Number(exact.rise_K[c]))),
      0,
    );
    return { run_s: median(times), iterations: quick.iterations, error_K };
  },

  gradients() {
    const inPack = problem.cellsIn(pack);
    const volume = inPack.reduce((sum, cell) => sum + problem.volumeOf(cell), 0);
    const weights = new Float64Array(source_W.length);
    for (const cell of inPack) weights[cell] = problem.volumeOf(cell) / volume;
    /** @param {Float64Array} rise_K */
    const mean = (rise_K) =>
      inPack.reduce((sum, cell) => sum + Number(weights[cell]) * Number(rise_K[cell]), 0);
    const { conductivity, films } = problem;
    /** Conductivity of one material's cells, in plane or through, times a factor. @param {Float64Array} k @param {import('./problem.mjs').Box} box @param {number} by */
    const scaled = (k, box, by) => {
      const out = k.slice();
      for (const cell of problem.cellsIn(box)) out[cell] = Number(out[cell]) * by;
      return out;
    };
    /** @type {import('./problem.mjs').Box} */
    const tape = [25, 195, 25, 85, 5.5, 5.6];
    /** @type {import('./problem.mjs').Box} */
    const plate = [25, 195, 25, 85, 5, 5.5];
    /** @type {Record<string, (by: number) => [typeof conductivity, typeof films]>} */
    const parameters = {
      'plate, in plane': (by) => {
        const k = scaled(conductivity.kx, plate, by);
        return [{ kx: k, ky: k, kz: conductivity.kz }, films];
      },
      'tape, through': (by) => [{ ...conductivity, kz: scaled(conductivity.kz, tape, by) }, films],
      'pack, through': (by) => [{ ...conductivity, kz: scaled(conductivity.kz, pack, by) }, films],
      'film, front': (by) => [conductivity, { ...films, front: by * films.front }],
      'film, back': (by) => [conductivity, { ...films, back: by * films.back }],
    };
    const network = assembleNetwork(problem.grid, conductivity, films);
    const solver = prepareSolver(network, { engine });
    const { rise_K } = must(solver.solve(source_W, { tolerance: 1e-10 }));
    let from = performance.now();
    const adjoint = must(solver.solve(weights, { tolerance: 1e-10 })).rise_K;
    const adjoint_ms = performance.now() - from;
    /** @param {Float64Array} edges */
    const sizesOf = (edges) =>
      Float64Array.from({ length: edges.length - 1 }, (_, at) => Number(edges[at + 1]) - Number(edges[at]));
    const shapes = {
      dx: sizesOf(problem.grid.x_m),
      dy: sizesOf(problem.grid.y_m),
      dz: sizesOf(problem.grid.z_m),
    };
    /** Which parameter each cell's conductivities are, in plane and through; the last stands for none. */
    const names = Object.keys(parameters);
    const [inPlane, through] = [plate, tape].map((box, at) => {
      const parts = new Uint16Array(source_W.length).fill(names.length);
      for (const cell of problem.cellsIn(box)) parts[cell] = at;
      return parts;
    });
    if (!inPlane || !through) throw new Error('There are two maps.');
    for (const cell of inPack) through[cell] = 2;
    /** Every slope: of conductivities in one pass for each map, of films from what each face loses. */
    const findSlopes = () => {
      const [rx, rz] = [conductivity.kx, conductivity.kz].map((k) => k.map((each) => 1 / each));
      if (!rx || !rz) throw new Error('There are two directions.');
      const isAir = new Uint8Array(names.length + 1);
      const noContact = new Uint8Array(source_W.length);
      const sums = [inPlane, through].map((map) => {
        const [along, across] = [new Float64Array(names.length + 1), new Float64Array(names.length + 1)];
        const pressed = new Float64Array(1);
        sumSlopes(
          adjoint,
          rise_K,
          lettersOf(network),
          rx,
          rz,
          shapes,
          map,
          isAir,
          noContact,
          pressed,
          along,
          across,
          pressed,
        );
        return [along, across];
      });
      const films_K = /** @type {const} */ (['front', 'back']).map((face) => {
        const sinks = faceSinks_W_per_K(problem.grid, conductivity, face, films[face]);
        const first = face === 'front' ? 0 : shapes.dz.length - 1;
        let sum = 0;
        for (let at = 0; at < sinks.length; at++) {
          const cell = first + at * shapes.dz.length;
          const i = at % shapes.dx.length;
          const j = (at - i) / shapes.dx.length;
          const g = Number(sinks[at]);
          const area = Number(shapes.dx[i]) * Number(shapes.dy[j]);
          sum += (g * g * Number(adjoint[cell]) * Number(rise_K[cell])) / (films[face] * area);
        }
        return sum;
      });
      const [ofPlate, ofRest] = [sums[0]?.[0], sums[1]?.[1]];
      return [ofPlate?.[0], ofRest?.[1], ofRest?.[2], ...films_K].map((sum) => -Number(sum));
    };
    /** @type {number[]} */
    const times = [];
    let slopes = findSlopes();
    for (let turn = 0; turn < 30; turn++) {
      from = performance.now();
      slopes = findSlopes();
      times.push(performance.now() - from);
    }
    let worst = 0;
    let worstOf = '';
    for (const [at, [name, vary]] of Object.entries(parameters).entries()) {
      const slope = Number(slopes[at]);
      const [down, up] = [0.99, 1.01].map((by) => {
        const solved = prepareSolver(assembleNetwork(problem.grid, ...vary(by)), { engine });
        return mean(must(solved.solve(source_W, { tolerance: 1e-12 })).rise_K);
      });
      const error = Math.abs(slope / ((Number(up) - Number(down)) / 0.02) - 1);
      if (error > worst) [worst, worstOf] = [error, name];
    }
    const all_ms = median(times.slice(10));
    return { adjoint_ms, all_ms, each_ms: all_ms / names.length, parameters: names.length, worst, worstOf };
  },

  edit() {
    /** The plate's thickness, mm, by moving what lies above it. @param {number} thickness_mm @param {ReturnType<typeof assembleNetwork>} [into] */
    const edited = (thickness_mm, into) => {
      const z_m = problem.grid.z_m.slice();
      const z = base.z.breaks;
      const [from, to] = [5e-3, 5e-3 + thickness_mm * 1e-3];
      const first = z_m.findIndex((edge) => Math.abs(edge - from) < 1e-9);
      const last = z_m.findIndex((edge) => Math.abs(edge - Number(z[6]) * 1e-3) < 1e-9);
      const shift = to - Number(z_m[last]);
      for (let k = first + 1; k < z_m.length; k++) {
        z_m[k] = k <= last ? from + ((to - from) * (k - first)) / (last - first) : Number(z_m[k]) + shift;
      }
      return assembleNetwork({ ...problem.grid, z_m }, problem.conductivity, problem.films, { into });
    };
    let network = edited(0.5);
    const solver = prepareSolver(network, { engine });
    let field = must(solver.solve(source_W)).rise_K;
    const times = [];
    let error_K = 0;
    for (let pass = 0; pass < 60; pass++) {
      const thickness_mm = 0.5 + 0.1 * (1 + (pass % 3)) * (pass % 2 ? 1 : -1);
      const before = performance.now();
      network = edited(thickness_mm, network);
      solver.prepare(network);
      field = must(solver.solve(source_W, { start: field, tolerance: 1e-4 })).rise_K;
      times.push(performance.now() - before);
      if (pass < 6) {
        const exact = must(prepareSolver(network).solve(source_W, { tolerance: 1e-10 })).rise_K;
        for (let c = 0; c < exact.length; c++) {
          error_K = Math.max(error_K, Math.abs(Number(exact[c]) - Number(field[c])));
        }
      }
    }
    return { edit_ms: median(times.slice(30)), error_K };
  },
};
const chosen = tasks[task];
if (!chosen) throw new Error(`There is no task ${task}; there are ${Object.keys(tasks).join(', ')}.`);
console.log(JSON.stringify(await chosen()));
