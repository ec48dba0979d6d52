// @ts-check
/**
 * What the slopes of two readings by every unknown of the demo cost after one solve, at some 60 thousand cells, and how they
 * agree with central differences of full solves; prints one JSON line. Run by bench/heat-solve.mjs.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { factorsFrom } from '../../packages/core/dist/heat/calibrate/fit-unknowns.js';
import { respond } from '../../packages/core/dist/heat/calibrate/respond.js';
import { applyReading } from '../../packages/core/dist/heat/device/read-field.js';
import { packReadings } from '../../packages/core/dist/heat/explore/levers.js';
import { HeatBench, prepareSolver, usualGrid, usualWish } from '../../packages/core/dist/heat/index.js';
import { assessBuild } from '../../packages/core/dist/verdict/index.js';

const demo = fileURLToPath(new URL('../../examples/reedling-r2/', import.meta.url));
const build = JSON.parse(readFileSync(`${demo}build.json`, 'utf8'));
const { compare, probes } = assessBuild(build, (file) => readFileSync(`${demo}logs/${file}`));
const contests = compare.main === null ? compare.others : [compare.main, ...compare.others];
const { soaks } = new HeatBench(build, contests, probes.corrections, usualGrid);
const setup =
  build.setups.find((/** @type {{ id: string }} */ each) => each.id === 'plate') ?? build.setups[0];
const solver = soaks.solverFor(setup);
const factors = factorsFrom(soaks, new Float64Array(soaks.unknowns.length));
const { use } = usualWish;
/** @param {ReadonlyMap<string, number>} moved */
const stateAt = (moved) => soaks.stateFor(solver, use, moved);
/** @template T @param {{ ok: true, value: T } | { ok: false, reason: { kind: string } }} result */
function must(result) {
  if (!result.ok) throw new Error(result.reason.kind);
  return result.value;
}

/** @type {ReturnType<typeof prepareSolver> | undefined} */
let linear;
/** Rounds to rest far closer than a difference of two fields needs; the product stops sooner. @param {ReadonlyMap<string, number>} moved @param {Float64Array} start */
function settle(moved, start) {
  const state = stateAt(moved);
  let rise_K = start;
  for (let round = 0; round < 40; round++) {
    const { network, source_W } = solver.networks.make(state, rise_K);
    linear ??= prepareSolver(network);
    linear.prepare(network);
    const next = must(linear.solve(source_W, { start: rise_K, tolerance: 1e-11 })).rise_K;
    const most_K = next.reduce((most, rise, c) => Math.max(most, Math.abs(rise - Number(rise_K[c]))), 0);
    rise_K = next;
    if (most_K < 1e-7) return rise_K;
  }
  throw new Error('The field does not settle.');
}

const rough = must(solver.solve(stateAt(factors)));
const field = { rise_K: settle(factors, rough.rise_K) };
const readings = packReadings(solver, field.rise_K);
const unknowns = soaks.unknowns.map(({ id }) => id).filter((id) => !id.startsWith('probe:'));
const answer = () => must(respond(solver, readings, unknowns, factors, stateAt, { field: field.rise_K }));
let slopes = answer();
/** @type {number[]} */
const times_ms = [];
for (let turn = 0; turn < 5; turn++) {
  const state = stateAt(factors);
  let from = performance.now();
  must(solver.solve(state, { start: field.rise_K }));
  const solve_ms = performance.now() - from;
  from = performance.now();
  slopes = answer();
  times_ms.push(performance.now() - from - solve_ms);
}
times_ms.sort((one, other) => one - other);

/** Step in the logarithm of a factor. */
const step = 0.01;
/** @type {{ id: string, slope: number, difference: number }[][]} */
const rows = readings.map(() => []);
for (const [column, id] of unknowns.entries()) {
  const [less, more] = [-step, step].map((by) => {
    const moved = new Map(factors).set(id, (factors.get(id) ?? 1) * Math.exp(by));
    const rise_K = settle(moved, field.rise_K);
    return readings.map((reading) => applyReading(reading, rise_K));
  });
  readings.forEach((_, at) => {
    rows[at]?.push({
      id,
      slope: Number(slopes.slopes_K[at]?.[column]),
      difference: (Number(more?.[at]) - Number(less?.[at])) / (2 * step),
    });
  });
}
/** Of effects that are more than a hundredth of the greatest one on the reading. */
let worst = 0;
let worstOf = '';
for (const all of rows) {
  const greatest = Math.max(...all.map(({ difference }) => Math.abs(difference)));
  for (const { id, slope, difference } of all) {
    if (Math.abs(difference) < 0.01 * greatest) continue;
    const error = Math.abs(slope / difference - 1);
    if (error > worst) [worst, worstOf] = [error, id];
  }
}
console.log(
  JSON.stringify({
    cells: solver.model.partOf.length,
    unknowns: unknowns.length,
    readings: readings.length,
    all_ms: times_ms[2],
    each_ms: Number(times_ms[2]) / unknowns.length,
    worst,
    worstOf,
    ...(process.argv.includes('--all') ? { rows } : {}),
  }),
);
