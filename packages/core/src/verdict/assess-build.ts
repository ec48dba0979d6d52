import {
  type Contest,
  collectObservations,
  comparePerWatt,
  compareSetups,
  judgeMargins,
  listQuantities,
  planResolution,
  type Quantity,
  rankSetups,
} from '../compare/index.js';
import { bracketLife, type LifeBracket } from '../life/index.js';
import { BadInputError } from '../measure/index.js';
import {
  budgetProbe,
  type Correction,
  correctProbes,
  correctReading_C,
  type Drift,
  describeSensor,
  findDrifts,
  fitChecks,
  gainU,
  gatherReadings,
  readCheck,
} from '../probes/index.js';
import type { Build, Run } from '../records/index.js';
import {
  crossCheckRuns,
  type LogBytes,
  measureRun,
  type RunResult,
  type RunSeries,
  readSeries,
} from '../runs/index.js';
import { chooseSetup } from './choose-setup.js';
import { namesOf } from './names.js';
import { planNext } from './plan-next.js';
import { tellStages } from './stage-states.js';
import { tellCompare, tellProbes, tellRuns } from './tell-stages.js';
import { tellAnswer, tellCondition, tellMissing, tellRestsOn, tellUnresolved } from './tell-verdict.js';
import type { Assessment, CompareResult, ProbesResult, RunsResult, Verdict } from './verdict.js';

/** Where probes matter: the usual charging limit, should the build have no stop limit for cells. @assumed common practice, no source */
const usualLimit_C = 45;

/**
 * Everything Soakbench computes, from what was measured or decided and nothing else.
 *
 * @param logOf the bytes of a log by file name; a log that is missing makes its run unreadable, not the build
 * @param cache results of single runs by their inputs; pass the same map again and only changed runs are measured anew
 */
export function assessBuild(
  build: Build,
  logOf: (file: string) => LogBytes | undefined,
  cache: Map<string, unknown> = new Map(),
): Assessment {
  const { corrections, result: probes } = assessProbes(build);
  const runs = assessRuns(build, corrections, logOf, cache);
  const compare = assessCompare(build, corrections, runs.runs);
  const life = assessLife(build, compare);
  const choice = chooseSetup(build, compare.main, compare.margins);
  const chosen = 'setup' in choice ? choice.setup : null;
  const margins = compare.margins.filter(({ setup }) => setup === chosen);
  const failing = margins.some(({ level, limit }) => level === 'stop' && limit.level === 'stop');
  const unjudged = margins.every(({ level }) => level === 'unknown');
  const missing = tellMissing(build);
  const verdict: Verdict = {
    setup: choice.kind === 'fit' ? choice.setup : null,
    answer: tellAnswer(build, choice, compare.main, compare.margins),
    condition: tellCondition(build, choice, compare.margins),
    margins,
    restsOn: tellRestsOn(build, runs.runs, corrections, compare.main),
    unresolved: tellUnresolved(build, choice, compare.main, compare.margins),
    missing,
    next: planNext(build, choice, compare.main, compare.margins, corrections, runs.runs),
    exitCode: failing || unjudged ? 1 : 0,
  };
  const stages = tellStages({
    build,
    choice,
    probes,
    runs,
    contest: compare.main,
    life,
    margins: compare.margins,
    holding: verdict.exitCode === 0,
    gaps: missing.length + runs.unreadable.length,
  });
  return { probes, runs, compare, life, verdict, stages };
}

/** The calibrated series of one run, for its chart. @throws BadInputError where the log cannot be read */
export function seriesOfRun(build: Build, runId: string, bytes: LogBytes): RunSeries {
  const run = build.runs.find(({ id }) => id === runId);
  if (run === undefined) {
    throw new BadInputError([
      {
        where: `run ${runId}`,
        what: 'There is no such run.',
        remedy: `Use one of: ${build.runs.map(({ id }) => id).join(', ')}.`,
      },
    ]);
  }
  return readSeries(build, run, assessProbes(build).corrections, bytes).series;
}

function assessProbes(build: Build): { corrections: Correction[]; result: ProbesResult } {
  const notes: string[] = [];
  const stops = build.limits
    .filter(({ where, level }) => where === 'cell' && level === 'stop')
    .map(({ limit_C }) => limit_C);
  const at_C = stops.length > 0 ? Math.min(...stops) : usualLimit_C;
  let corrections: Correction[];
  let points: ProbesResult['points'] = [];
  let drifts: readonly Drift[] = [];
  try {
    const fits = fitChecks(build);
    corrections = correctProbes(build, fits);
    drifts = findDrifts(fits, at_C);
    points = build.probeChecks
      .flatMap((check) => readCheck(check, build.probes))
      .map((point) => {
        const correction = corrections.find(({ probe }) => probe === point.probe);
        // Earlier checks too are held against the correction in use: what it leaves of them is the drift.
        const corrected_C =
          correction === undefined ? point.reading_C : correctReading_C(correction, point.reading_C);
        return {
          probe: point.probe,
          check: point.check,
          bath: point.bath,
          reference_C: point.reference_C,
          reference_u_K: point.u_K,
          referenceWhy: point.why,
          reading_C: point.reading_C,
          signal: point.signal,
          left_K: corrected_C - point.reference_C,
        };
      });
  } catch (error) {
    if (!(error instanceof BadInputError)) throw error;
    notes.push(`The probe checks are left out: ${error.message}`);
    corrections = correctProbes({ probes: build.probes, probeChecks: [] });
  }
  const budget = corrections.map((correction) =>
    budgetProbe(correction, rivalOf(build, correction, corrections), at_C),
  );
  const sensors = build.probes.map((probe, index) =>
    describeSensor(probe, corrections[index] as Correction, at_C),
  );
  for (const { probe, fault } of sensors)
    if (fault !== null) notes.push(`The sensor of probe ${probe} is left out: ${fault}`);
  return {
    corrections,
    result: {
      answer: tellProbes(build, corrections, budget),
      condition:
        'A set-up is compared with itself by the same probe, so most of a probe’s error cancels there; margins to limits carry it in full.',
      corrections,
      points,
      baths: gatherReadings(points),
      budget,
      drifts,
      sensors,
      notes,
    },
  };
}

/** The probe a swap would most likely take for this one: another on the device, best from the same check. */
function rivalOf(
  build: Build,
  correction: Correction,
  corrections: readonly Correction[],
): Correction | null {
  const isOnDevice = ({ probe }: Correction) =>
    build.probes.find(({ id }) => id === probe)?.place !== 'ambient';
  const others = corrections.filter((one) => one !== correction && isOnDevice(one));
  return others.find(({ check }) => check === correction.check) ?? others[0] ?? null;
}

function assessRuns(
  build: Build,
  corrections: readonly Correction[],
  logOf: (file: string) => LogBytes | undefined,
  cache: Map<string, unknown>,
): RunsResult {
  const runs: RunResult[] = [];
  const unreadable: RunsResult['unreadable'][number][] = [];
  for (const run of build.runs) {
    const bytes = logOf(run.log.file);
    if (bytes === undefined) {
      unreadable.push({
        run: run.id,
        reason: `logs/${run.log.file} is missing. Put the log back, or remove the run.`,
      });
      continue;
    }
    try {
      runs.push(measureCached(build, run, corrections, bytes, cache));
    } catch (error) {
      if (!(error instanceof BadInputError)) throw error;
      unreadable.push({ run: run.id, reason: error.message });
    }
  }
  const checked = crossCheckRuns(build, runs);
  return {
    answer: tellRuns(build, checked, unreadable),
    condition:
      'Rises are taken above the room, followed with the device’s own lag; the plateau is what the settling curve tends to.',
    runs: checked,
    unreadable,
  };
}

function measureCached(
  build: Build,
  run: Run,
  corrections: readonly Correction[],
  bytes: LogBytes,
  cache: Map<string, unknown>,
): RunResult {
  const key = JSON.stringify([run, build.probes, corrections]);
  const known = cache.get(key) as RunResult | undefined;
  if (known !== undefined) return known;
  const result = measureRun(build, run, corrections, bytes);
  cache.set(key, result);
  return result;
}

/** The difference that shields are compared for: what the number of runs is told for. */
const resolve_K = 1;

function assessCompare(
  build: Build,
  corrections: readonly Correction[],
  runs: readonly RunResult[],
): CompareResult {
  const baseline = build.baseline ?? build.setups[0]?.id ?? '';
  const optionsFor = ({ probe }: Quantity) => {
    const correction = corrections.find((one) => one.probe === probe);
    const gain_u = correction === undefined ? 0 : gainU(correction);
    return { noWorse_K: build.noWorse_K, nameOf: namesOf(build).setup, gain_u };
  };
  const contests = listQuantities(build, runs).map((quantity) =>
    compareSetups(quantity, collectObservations(runs, quantity), baseline, optionsFor(quantity)),
  );
  const isCell = (contest: Contest) =>
    build.probes.find(({ id }) => id === contest.quantity.probe)?.place === 'cell';
  const riseOfBaseline = (contest: Contest) => contest.setups[0]?.rise_K.value ?? 0;
  const deciding = contests.filter(
    (contest) => isCell(contest) && contest.quantity.phase === 'load' && !contest.quantity.charging,
  );
  const main = deciding.reduce<Contest | null>(
    (best, contest) => (best === null || riseOfBaseline(contest) > riseOfBaseline(best) ? contest : best),
    null,
  );
  return {
    ...tellCompare(build, main),
    main,
    others: contests.filter((contest) => contest !== main),
    coolest: main === null ? [] : rankSetups(main),
    resolution: main === null || main.setups.length < 2 ? null : planResolution(main, resolve_K),
    perWatt:
      main === null ? null : comparePerWatt(build, runs, main.quantity, baseline, optionsFor(main.quantity)),
    margins: judgeMargins(build, contests, corrections),
  };
}

function assessLife(build: Build, { main, others }: CompareResult): LifeBracket | null {
  if (build.duty === undefined || main === null) return null;
  const idle = others.find(
    ({ quantity }) =>
      quantity.probe === main.quantity.probe && quantity.phase === 'idle' && !quantity.charging,
  );
  const requests = main.setups.flatMap(({ setup, rise_K }) => {
    const idleRise = idle?.setups.find((candidate) => candidate.setup === setup)?.rise_K.value;
    if (idleRise === undefined && (build.duty?.idle_h_per_day ?? 0) > 0) return [];
    const cooler95_K =
      main.toBaseline.find((difference) => difference.setup === setup)?.simultaneous95_K ?? ([0, 0] as const);
    return [{ setup, load_K: rise_K.value, idle_K: idleRise ?? 0, cooler95_K }];
  });
  const base = requests.find(({ setup }) => setup === main.baseline);
  return base === undefined
    ? null
    : bracketLife(
        build.duty,
        base,
        requests.filter((request) => request !== base),
      );
}
