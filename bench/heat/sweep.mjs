// @ts-check
/**
 * A sweep over variants of the reference stack at 60 thousand cells: the plate's thickness and conductivity, the tape's, the films
 * and the chips' powers, drawn alike in every run. Nothing in it hangs on temperature. Prints one JSON line; run by bench/heat-solve.mjs:
 *   node bench/heat/sweep.mjs run <count>            each from the field of the one before, good to 0.01 K, assembly included
 *   node bench/heat/sweep.mjs write <which> <file>   network and source of one variant, for the other programs
 */
import { assembleNetwork, prepareSolver } from '../../packages/core/dist/heat/index.js';
import { base, buildStack, chips, readRises, sizes, writeProblem } from './problem.mjs';

const [task = '', given = '1000', file = ''] = process.argv.slice(2);
const count = Number(given);
/** Residual of a sweep's solves, as a share of the heat; and each how manieth is solved to rounding as well. */
const tolerance = 3e-4;
const sampledEvery = 20;
/** Until the compiler has done its part. */
const warmUp = 50;

const problem = buildStack(base, sizes['60k'] ?? [1, 1, 1]);
const plate = problem.cellsIn([25, 195, 25, 85, 5, 5.5]);
const tape = problem.cellsIn([25, 195, 25, 85, 5.5, 5.6]);
const heated = chips.map(({ box }) => problem.cellsIn(box));
const { grid, conductivity, source_W } = problem;

let state = 20;
/** Even between two numbers, by a generator of its own. @param {number} from @param {number} to */
function draw(from, to) {
  state = (16807 * state) % 2147483647;
  return from + ((to - from) * state) / 2147483647;
}
const drawVariant = () => ({
  plate_mm: draw(0.3, 0.9),
  tape_k: draw(0.1, 3),
  film: draw(5, 20),
  plate_k: draw(100, 400),
  powers: chips.map(() => draw(0.5, 1.5)),
});

const k = { kx: conductivity.kx.slice(), kz: conductivity.kz.slice() };
const heat_W = new Float64Array(source_W.length);
/** The plate takes its room from the air behind the pack; all other layers keep their thickness. @param {number} plate_mm */
function edgesFor(plate_mm) {
  const by = (plate_mm - 0.5) * 1e-3;
  const [front, back, packEnd, shell] = [5e-3, 5.5e-3, 11.6e-3, 12.5e-3];
  const near = 1e-9;
  return grid.z_m.map((z) => {
    if (z <= front + near || z >= shell - near) return z;
    if (z < back - near) return front + ((z - front) * plate_mm) / 0.5;
    return z <= packEnd + near ? z + by : shell - ((shell - z) * (shell - packEnd - by)) / (shell - packEnd);
  });
}
/** @param {ReturnType<typeof drawVariant>} variant @param {ReturnType<typeof assembleNetwork>} [into] */
function assemble({ plate_mm, tape_k, film, plate_k, powers }, into) {
  for (const cell of plate) k.kx[cell] = k.kz[cell] = plate_k;
  for (const cell of tape) k.kx[cell] = k.kz[cell] = tape_k;
  for (const [chip, cells] of heated.entries())
    for (const cell of cells) heat_W[cell] = Number(source_W[cell]) * Number(powers[chip]);
  const films = { west: film, east: film, south: film, north: film, front: film, back: film };
  const z_m = edgesFor(plate_mm);
  return assembleNetwork({ ...grid, z_m }, { kx: k.kx, ky: k.kx, kz: k.kz }, films, into ? { into } : {});
}

/** @template T @param {import('../../packages/core/dist/measure/index.js').Result<T, { kind: string }>} result */
function must(result) {
  if (!result.ok) throw new Error(result.reason.kind);
  return result.value;
}

function run() {
  let network = assemble(drawVariant());
  const solver = prepareSolver(network);
  let field = must(solver.solve(heat_W)).rise_K;
  let [iterations, processor_s, wall_s, worst_K] = [0, 0, 0, 0];
  for (let turn = -warmUp; turn < count; turn++) {
    const variant = drawVariant();
    const [from, from_ms] = [process.cpuUsage(), performance.now()];
    network = assemble(variant, network);
    solver.prepare(network);
    const solved = must(solver.solve(heat_W, { start: field, into: field, tolerance }));
    const { user, system } = process.cpuUsage(from);
    const took_s = (performance.now() - from_ms) / 1e3;
    field = solved.rise_K;
    if (turn < 0) continue;
    processor_s += (user + system) / 1e6;
    wall_s += took_s;
    iterations += solved.iterations;
    if (turn % sampledEvery !== 0) continue;
    const exact = readRises(problem, must(solver.solve(heat_W, { tolerance: 1e-11 })).rise_K);
    const found = readRises(problem, field);
    for (const [at, rise] of exact.entries()) worst_K = Math.max(worst_K, Math.abs(rise - Number(found[at])));
  }
  return {
    count,
    each_s: processor_s / count,
    wall_s: wall_s / count,
    iterations: iterations / count,
    worst_K,
    sampled: Math.ceil(count / sampledEvery),
  };
}

function write() {
  for (let skipped = 0; skipped < count; skipped++) drawVariant();
  writeProblem(assemble(drawVariant()), heat_W, file);
  return {};
}

console.log(JSON.stringify(task === 'write' ? write() : run()));
