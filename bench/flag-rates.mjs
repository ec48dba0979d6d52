// @ts-check
/**
 * How often the faults of generated runs are found, by their strength, and how often sound runs are accused:
 * `node bench/flag-rates.mjs [builds]`. Each build is the invented demo with another seed: fifteen runs, of which one throttles, two start
 * cold, one loses a probe for three minutes, and the room drifts in some. One sound run of each is then spoiled in every way and
 * strength there is a row for, one at a time. It needs the built packages.
 */
import { makeBuild } from '../examples/generator/scenario.mjs';
import { readLog } from '../packages/core/dist/runs/index.js';
import { assessBuild } from '../packages/core/dist/verdict/index.js';
import {
  cutShort,
  drift,
  drop,
  exchange,
  freeze,
  overload,
  startCold,
  throttle,
  writeReading,
} from './spoil-run.mjs';

const builds = Number(process.argv[2] ?? 40);

/**
 * @typedef {import('./spoil-run.mjs').Reading} Reading
 * @typedef {object} Fault
 * @property {string} flag the kind of flag that should be raised
 * @property {string} strength
 * @property {boolean} [needsPeers] whether the other runs have to be there
 * @property {(reading: Reading) => Reading} spoil
 */

/** @param {import('./spoil-run.mjs').Change} change @returns {(reading: Reading) => Reading} */
const each = (change) => (reading) => ({
  ...reading,
  columns: reading.columns.map((column, i) => change(reading, column, reading.probes[i] ?? '')),
});

const min_s = 60;
/** @type {Fault[]} */
const faults = [
  ...[0.05, 0.1, 0.15, 0.2, 0.3, 0.5].map((share) => ({
    flag: 'throttled',
    strength: `${100 * share} % less heat in the second hour`,
    spoil: each(throttle(share, 60 * min_s)),
  })),
  ...[0.25, 0.5, 1, 2, 4].map((left_K) => ({
    flag: 'idle-not-settled',
    strength: `${left_K} K still to go`,
    spoil: each(startCold(left_K)),
  })),
  ...[0.5, 1, 3, 10].map((minutes) => ({
    flag: 'dropout',
    strength: `${minutes} min without readings`,
    spoil: each(drop('c2', minutes * min_s)),
  })),
  ...[0.15, 0.3, 0.5, 1, 2].map((by_K) => ({
    flag: 'ambient-drift',
    strength: `${by_K} K more drift in the load`,
    spoil: each(drift(by_K)),
  })),
  ...[0, 5, 15, 30, 60, 90].map((minutes) => ({
    flag: 'frozen',
    strength: `stuck from ${minutes} min into the load to the end of the log`,
    spoil: each(freeze('c1', minutes * min_s)),
  })),
  ...[15, 30, 60, 90].map((minutes) => ({
    flag: 'frozen',
    strength: `the same, and the log ends with the load: ${minutes} min`,
    spoil: (/** @type {Reading} */ reading) =>
      cutShort(each(freeze('c1', minutes * min_s))(reading), reading.load.to_s - reading.load.from_s),
  })),
  ...[25, 40, 60, 80].map((minutes) => ({
    flag: 'too-short',
    strength: `${minutes} min of load, time constant some 25 min`,
    spoil: (/** @type {Reading} */ reading) => cutShort(reading, minutes * min_s),
  })),
  ...[0.02, 0.05, 0.1, 0.2, 0.3].map((share) => ({
    flag: 'unequal-load',
    strength: `${100 * share} % more heat than noted`,
    needsPeers: true,
    spoil: each(overload(share)),
  })),
  {
    flag: 'probe-swap',
    strength: 'places 6.6 K apart',
    needsPeers: true,
    spoil: (reading) => ({ ...reading, columns: exchange('c1', 'c2')(reading) }),
  },
];

/** @type {Map<string, { found: number, of: number }>} */
const sound = new Map();
/** @type {Map<Fault, { found: number, of: number }>} */
const spoiled = new Map();
/** @template K @param {Map<K, { found: number, of: number }>} tallies @param {K} key @param {boolean} isFound */
function count(tallies, key, isFound) {
  const tally = tallies.get(key) ?? { found: 0, of: 0 };
  tallies.set(key, { found: tally.found + Number(isFound), of: tally.of + 1 });
}

for (let seed = 1; seed <= builds; seed++) {
  const { build, logs, truth } = makeBuild({ seed: 1000 + seed });
  const open = { ...build, runs: build.runs.map(({ setAside: _, ...run }) => run) };
  const assessed = assessBuild(open, (file) => logs.get(file));
  for (const run of assessed.runs.runs) {
    const true_ = truth.runs.find((/** @type {{ run: string }} */ one) => one.run === run.run);
    const isSound = {
      throttled: true_.throttledAt_s === null,
      'idle-not-settled': true_.idleSettled,
      dropout: true_.dropout === null,
      'ambient-drift': Math.abs(true_.ambientChange_K) < 0.15,
      frozen: true,
      'too-short': true,
      'unequal-load': true_.throttledAt_s === null,
      'probe-swap': true_.throttledAt_s === null,
    };
    for (const [kind, is] of Object.entries(isSound))
      if (is)
        count(
          sound,
          kind,
          run.flags.some((flag) => flag.kind === kind),
        );
  }

  // A log that ends under load is where a settled probe is most like a stuck one, the more so the coarser the display.
  for (const run of open.runs) {
    const load = assessed.runs.runs
      .find((one) => one.run === run.id)
      ?.phases.find(({ kind }) => kind === 'load');
    if (load === undefined) continue;
    for (const step_K of [0.1, 0.5]) {
      const reading = readingOf(run, logs, load);
      const columns = reading.columns.map((column) =>
        column.map((value) => Math.round(value / step_K) * step_K),
      );
      const { bytes, recipe } = writeReading(cutShort({ ...reading, columns }, load.to_s - load.from_s));
      const [seen] = assessBuild({ ...open, runs: [{ ...run, recipe }] }, () => bytes).runs.runs;
      count(
        sound,
        `frozen, the log ends with the load, read to ${step_K} K`,
        seen?.flags.some(({ kind }) => kind === 'frozen') ?? false,
      );
    }
  }

  const victim = open.runs.find(({ setup, conditions }) => setup === 'bare' && !conditions?.charging);
  const result = assessed.runs.runs.find(({ run }) => run === victim?.id);
  const load = result?.phases.find(({ kind }) => kind === 'load');
  if (victim === undefined || load === undefined) continue;
  const reading = readingOf(victim, logs, load);
  for (const fault of faults) {
    const { bytes, recipe } = writeReading(fault.spoil(reading));
    const run = { ...victim, recipe };
    const runs = fault.needsPeers ? open.runs.map((one) => (one === victim ? run : one)) : [run];
    const [seen] = assessBuild({ ...open, runs }, (file) =>
      file === victim.log.file ? bytes : logs.get(file),
    ).runs.runs.filter((one) => one.run === victim.id);
    count(spoiled, fault, seen?.flags.some(({ kind }) => kind === fault.flag) ?? false);
  }
}

/** The readings of a run, to be spoiled. @param {import('../packages/core/dist/records/index.js').Run} run @param {Map<string, Uint8Array>} logs @param {Reading['load']} load @returns {Reading} */
function readingOf(run, logs, load) {
  const log = readLog(logs.get(run.log.file) ?? new Uint8Array(), run.recipe, run.log.file);
  return {
    probes: log.channels.map(({ probe }) => probe ?? ''),
    after_s: log.after_s,
    columns: log.channels.map(({ reading_C }) => reading_C),
    load,
  };
}

const percent = (/** @type {{ found: number, of: number } | undefined} */ tally) =>
  tally === undefined ? '-' : `${((100 * tally.found) / tally.of).toFixed(1)} %`.padStart(7);
console.log(`${builds} generated builds of fifteen runs; one run of each spoiled in ${faults.length} ways`);
for (const [kind, tally] of sound) {
  console.log(`\n${kind}: raised without cause on ${percent(tally).trim()} of ${tally.of} sound runs`);
  for (const fault of faults)
    if (fault.flag === kind) console.log(`  ${percent(spoiled.get(fault))}  ${fault.strength}`);
}
