// @ts-check
/**
 * How often the faults of generated runs are found, and how often sound ones are accused: `node bench/flag-rates.mjs [builds]`. Each build
 * is the invented demo with another seed: fifteen runs, of which one throttles, two start cold, one loses a probe for three minutes,
 * and the room drifts in some. Frozen and exchanged probes are made from the sound runs. It needs the built packages.
 */
import { makeBuild } from '../examples/generator/scenario.mjs';
import { readLog } from '../packages/core/dist/runs/index.js';
import { assessBuild } from '../packages/core/dist/verdict/index.js';

const builds = Number(process.argv[2] ?? 40);

/** @type {Map<string, { faulty: number, found: number, sound: number, accused: number }>} */
const tallies = new Map();
/** @param {string} kind @param {boolean} isFaulty @param {boolean} isFlagged */
function count(kind, isFaulty, isFlagged) {
  const tally = tallies.get(kind) ?? { faulty: 0, found: 0, sound: 0, accused: 0 };
  tallies.set(kind, tally);
  if (isFaulty) {
    tally.faulty++;
    if (isFlagged) tally.found++;
  } else {
    tally.sound++;
    if (isFlagged) tally.accused++;
  }
}

/** The log of a run with some columns rewritten, as plain text in °C: what a person would have logged. @param {string[]} names @param {Float64Array[]} columns @param {Float64Array} after_s */
function writeLog(names, columns, after_s) {
  const rows = [['s', ...names].join(',')];
  for (const [i, at_s] of after_s.entries())
    rows.push(
      [at_s, ...columns.map((column) => (Number.isNaN(column[i]) ? '' : column[i]?.toFixed(1)))].join(','),
    );
  return new TextEncoder().encode(`${rows.join('\n')}\n`);
}

for (let seed = 1; seed <= builds; seed++) {
  const { build, logs, truth } = makeBuild({ seed: 1000 + seed });
  const open = { ...build, runs: build.runs.map(({ setAside: _, ...run }) => run) };
  const assessed = assessBuild(open, (file) => logs.get(file));
  for (const run of assessed.runs.runs) {
    const true_ = truth.runs.find((/** @type {{ run: string }} */ one) => one.run === run.run);
    const has = (/** @type {string} */ kind) => run.flags.some((flag) => flag.kind === kind);
    count('throttled', true_.throttledAt_s !== null, has('throttled'));
    count('idle not settled', !true_.idleSettled, has('idle-not-settled'));
    count('dropout of 3 min', true_.dropout !== null, has('dropout'));
    count('ambient drift over 0.3 K', Math.abs(true_.ambientChange_K) > 0.3, has('ambient-drift'));
    if (true_.throttledAt_s === null) {
      count('frozen probe', false, has('frozen'));
      count('exchanged probes', false, has('probe-swap'));
    }
  }

  // One sound run of each build, spoiled in two ways.
  const victim = open.runs.find((run) => run.setup === 'bare' && !run.conditions?.charging);
  if (victim === undefined) continue;
  const reading = readLog(logs.get(victim.log.file) ?? new Uint8Array(), victim.recipe, victim.log.file);
  const probes = reading.channels.map(({ probe }) => probe ?? '');
  const columns = reading.channels.map(({ reading_C }) => reading_C);
  const at = (/** @type {string} */ id) => probes.indexOf(id);
  const stuck = columns.map((column, i) =>
    i === at('c1') ? new Float64Array(column.length).fill(column[300] ?? 0) : column,
  );
  const swapped = columns.map((column, i) =>
    i === at('c1') ? columns[at('c2')] : i === at('c2') ? columns[at('c1')] : column,
  );
  for (const [kind, flag, spoiled] of /** @type {const} */ ([
    ['frozen probe', 'frozen', stuck],
    ['exchanged probes', 'probe-swap', swapped],
  ])) {
    const bytes = writeLog(probes, /** @type {Float64Array[]} */ (spoiled), reading.after_s);
    const recipe = {
      encoding: /** @type {const} */ ('utf-8'),
      delimiter: /** @type {const} */ (','),
      decimal: /** @type {const} */ ('.'),
      headerLines: 1,
      time: { style: /** @type {const} */ ('elapsed'), columns: [0], unit: /** @type {const} */ ('s') },
      channels: probes.map((probe, i) => ({
        column: i + 1,
        header: probe,
        probe,
        unit: /** @type {const} */ ('C'),
      })),
      missing: [],
    };
    const spoiltRun = { ...victim, recipe };
    const result = assessBuild(
      { ...open, runs: open.runs.map((run) => (run === victim ? spoiltRun : run)) },
      (file) => (file === victim.log.file ? bytes : logs.get(file)),
    ).runs.runs.find(({ run }) => run === victim.id);
    count(kind, true, result?.flags.some((each) => each.kind === flag) ?? false);
  }
}

const percent = (/** @type {number} */ part, /** @type {number} */ whole) =>
  `${((100 * part) / Math.max(1, whole)).toFixed(1)} % of ${whole}`;
console.log(`${builds} generated builds of fifteen runs`);
for (const [kind, { faulty, found, sound, accused }] of tallies)
  console.log(
    `${kind.padEnd(26)} found ${percent(found, faulty).padEnd(16)} accused without cause ${percent(accused, sound)}`,
  );
