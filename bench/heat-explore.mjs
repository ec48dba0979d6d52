// @ts-check
/**
 * A sweep of the demo's untried set-ups, as `soakbench heat explore` makes it, in one thread: processor time for each of many
 * set-ups at some 60 thousand cells, worst error against converged solves on a sample, and what a lever costs after one solve.
 * Run it with: npm run bench, or node bench/heat-explore.mjs 200 for fewer set-ups.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  DeviceSolver,
  ExploreJob,
  findLevers,
  HeatBench,
  makeDeviceModel,
  planExploration,
  prepareSolver,
  Ranker,
  rankingBasis,
  usualGrid,
  usualWish,
} from '@soakbench/core/heat';
import { assessBuild } from '@soakbench/core/verdict';
import { noteGoal, printNoted } from './goals.mjs';

const demo = fileURLToPath(new URL('../examples/reedling-r2/', import.meta.url));
const wanted = Number(process.argv[2] ?? 1000);
const sampled = 16;
/** Goal of this project, K. The one for time is of variants in which nothing hangs on temperature: bench/heat-solve.mjs. */
const goal_K = 0.01;

/** Processor time of this process so far, s: other programs on the machine lengthen it less than they do the clock's. */
function processor_s() {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

const build = JSON.parse(readFileSync(`${demo}build.json`, 'utf8'));
const assessment = assessBuild(build, (file) => readFileSync(`${demo}logs/${file}`));
const { main, others } = assessment.compare;
const bench = new HeatBench(build, main === null ? others : [main, ...others], assessment.probes.corrections);
// As the records have it: calibrated factors would be other numbers for the same work.
const fit = { logs: new Float64Array(bench.soaks.unknowns.length) };
const plan = planExploration(build, { ...usualWish, most: wanted });
const basis = rankingBasis(bench.soaks, fit, usualWish.use, usualGrid);
const job = new ExploreJob(basis, plan.candidates);

const warm = new Ranker(basis);
warm.rank(plan.candidates.slice(0, 3).map(({ setup }) => setup));

const ranker = new Ranker(basis);
const [from_s, from_ms] = [processor_s(), performance.now()];
for (const at of job.left) {
  const ranked = ranker.rank(job.chunks[at] ?? []);
  if (!ranked.ok) throw new Error(ranked.reason.kind);
  job.keep(ranked.value);
}
const [took_s, wall_s] = [processor_s() - from_s, (performance.now() - from_ms) / 1e3];

const state = {
  factors: new Map(Object.entries(basis.factors)),
  power_W: new Map(Object.entries(basis.power_W)),
  ambient_C: basis.ambient_C,
};
let worst_K = 0;
let cells = 0;
let converged_s = 0;
let linear_s = 0;
for (let turn = 0; turn < sampled; turn++) {
  const at = Math.floor(((turn + 0.5) * plan.candidates.length) / sampled);
  const candidate = plan.candidates[at];
  const rises = job.ranked[at];
  if (candidate === undefined || rises === undefined) continue;
  const begun_s = processor_s();
  const model = makeDeviceModel(build, candidate.setup, { others: basis.measured, grid: usualGrid });
  const solved = new DeviceSolver(model).solve(state, { within_K: 1e-5 });
  converged_s += processor_s() - begun_s;
  if (!solved.ok) throw new Error(solved.reason.kind);
  const linearFrom_s = processor_s();
  prepareSolver(solved.value.network).solve(solved.value.source_W, { tolerance: 1e-8 });
  linear_s += processor_s() - linearFrom_s;
  cells = Math.max(cells, model.partOf.length);
  let hottest = 0;
  let sum = 0;
  let volume = 0;
  const size = (/** @type {Float64Array} */ edges, /** @type {number} */ place) =>
    (edges[place + 1] ?? 0) - (edges[place] ?? 0);
  const zones = new Map();
  solved.value.rise_K.forEach((rise, cell) => {
    const part = model.laid.parts[model.partOf[cell] ?? 0];
    if (part?.role === 'cell') {
      const column = Math.floor(cell / model.nz);
      const own =
        size(model.grid.z_m, cell % model.nz) *
        size(model.grid.x_m, column % model.nx) *
        size(model.grid.y_m, Math.floor(column / model.nx));
      hottest = Math.max(hottest, rise);
      sum += own * rise;
      volume += own;
    } else if (part?.heat && part.heat !== 'board')
      zones.set(part.heat, Math.max(rise, zones.get(part.heat) ?? 0));
  });
  worst_K = Math.max(
    worst_K,
    Math.abs(hottest - rises.hottest_K),
    Math.abs(sum / volume - rises.mean_K),
    ...[...zones].map(([id, rise]) => Math.abs(rise - (rises.zones_K[id] ?? Number.NaN))),
  );
}

const setup = plan.candidates[plan.candidates.length >> 1]?.setup ?? build.setups[0];
findLevers(bench.soaks, fit, setup, usualWish.use);
const leversFrom_s = processor_s();
const levers = findLevers(bench.soaks, fit, setup, usualWish.use);
const levers_s = processor_s() - leversFrom_s;

const each_ms = (1e3 * took_s) / plan.candidates.length;
console.log(`sweep of ${plan.candidates.length} set-ups of up to ${cells} cells, one thread`);
console.log(
  `  each                ${each_ms.toFixed(1)} ms of processor time and ${(ranker.steps / plan.candidates.length).toFixed(1)} outer steps; a thousand ${each_ms.toFixed(1)} s; ${((1e3 * wall_s) / plan.candidates.length).toFixed(1)} ms by the clock`,
);
console.log(
  `  converged alone     ${((1e3 * converged_s) / sampled).toFixed(0)} ms each, ${((1e3 * converged_s) / sampled / each_ms).toFixed(0)} times as long`,
);
console.log(
  `  linear, from cold   ${((1e3 * linear_s) / sampled).toFixed(0)} ms each: one network prepared and solved to 1e-8, ${((1e3 * linear_s) / sampled / each_ms).toFixed(2)} times as long`,
);
console.log(
  `  worst error         ${worst_K.toFixed(4)} K at pack and zones, of ${sampled} converged (goal: ${goal_K} K)`,
);
if (levers.ok)
  console.log(
    `  levers              ${levers.value.length} for two readings in ${(1e3 * levers_s).toFixed(0)} ms, field and two adjoints included`,
  );
noteGoal(
  'heat, a thousand set-ups of the demo',
  `${each_ms.toFixed(1)} s of processor time at up to ${cells} cells, in ${(ranker.steps / plan.candidates.length).toFixed(1)} outer steps`,
  'none of its own',
  `each from nothing to 1e-5 K: ${((1e3 * converged_s) / sampled).toFixed(0)} s`,
  `${((1e3 * converged_s) / sampled / each_ms).toFixed(1)} times`,
);
noteGoal(
  'heat, set-ups: error',
  `${worst_K.toFixed(4)} K`,
  `${goal_K} K`,
  `${sampled} of them converged`,
  worst_K <= goal_K ? 'yes' : 'no',
);
printNoted();
