import { dofNumber, dofRecord, type Estimate, effectiveDof, formatCelsius } from '../measure/index.js';
import { tQuantile } from '../numerics/index.js';
import type { Correction } from '../probes/index.js';
import type { Build, Limit } from '../records/index.js';
import { calibrationU_K } from './collect-observations.js';
import type { Contest, SetupRise } from './contest.js';
import type { Margin } from './margin.js';

type Use = Margin['use'];

const uses: readonly {
  readonly use: Use;
  readonly title: string;
  readonly state: Limit['state'];
  readonly phase: 'idle' | 'load' | null;
}[] = [
  { use: 'stored', title: 'stored, switched off', state: 'stored', phase: null },
  { use: 'discharging-idle', title: 'in use, idle', state: 'discharging', phase: 'idle' },
  { use: 'discharging-load', title: 'in use, full load', state: 'discharging', phase: 'load' },
  { use: 'charging-idle', title: 'charging, device idle', state: 'charging', phase: 'idle' },
  { use: 'charging-load', title: 'charging at full load', state: 'charging', phase: 'load' },
];

/** Less than this left of a margin and it wants a second look. @assumed twice the effect that two shields are compared for */
const narrow_K = 2;

/** One-sided coverage of every margin. */
const coverage = 0.95;

/**
 * Every limit in every use of the device, for every measured set-up, at the design ambient.
 *
 * The expected temperature is that of the next mounting, not of the mean one: the pack that stays in was mounted once, so the
 * spread from run to run, sessions included, belongs to its doubt. A rise is taken to be the same in a warmer room, which is
 * on the cautious side: films carry heat better when they are warmer.
 *
 * @returns nothing where no design ambient is set; a row with `missing` where a use was not measured
 * @source [JCGM-100] G.4 for the effective degrees of freedom
 */
export function judgeMargins(
  build: Pick<Build, 'limits' | 'probes' | 'designAmbient'>,
  contests: readonly Contest[],
  corrections: readonly Correction[],
): Margin[] {
  const ambient_C = build.designAmbient?.ambient_C;
  if (ambient_C === undefined) return [];
  const setups = [...new Set(contests.flatMap((contest) => contest.setups.map(({ setup }) => setup)))];
  return judgeEach(build, setups, ambient_C, (limit, setup, phase, charging) =>
    warmestOf(build, contests, corrections, limit, setup, phase, charging, ambient_C),
  );
}

/** A rise that a model gives for the warmest place a limit can speak of, in one use of the device. */
export interface ModelledRise {
  readonly setup: string;
  readonly where: Limit['where'];
  readonly zone: string | null;
  readonly phase: 'idle' | 'load';
  readonly charging: boolean;
  /** Its doubt holds that of the model; the spread from one mounting to the next is added here. */
  readonly rise_K: Estimate;
}

/**
 * The same for set-ups that were not measured, from rises that a model predicts. Every margin says so.
 *
 * The doubt covers one further mounting, as that of the measured ones does, with the spread that the runs have shown.
 */
export function judgePredicted(
  build: Pick<Build, 'limits' | 'probes' | 'designAmbient'>,
  rises: readonly ModelledRise[],
  contests: readonly Contest[],
): Margin[] {
  const ambient_C = build.designAmbient?.ambient_C;
  if (ambient_C === undefined) return [];
  const spread_K = Math.max(0, ...contests.map(({ runToRun }) => runToRun.sd_K));
  const warmest = (limit: Limit, setup: string, phase: 'idle' | 'load', charging: boolean) =>
    rises
      .filter(
        (rise) =>
          rise.setup === setup &&
          rise.phase === phase &&
          rise.charging === charging &&
          rise.where === limit.where &&
          (limit.zone === undefined || rise.zone === limit.zone),
      )
      .reduce<Warmest | null>(
        (most, { rise_K }) =>
          most !== null && most.rise.rise_K.value >= rise_K.value
            ? most
            : {
                probe: null,
                rise: { rise_K, runs: [] },
                u_K: Math.hypot(rise_K.u, spread_K),
                dof: dofNumber(rise_K),
              },
        null,
      );
  const setups = [...new Set(rises.map(({ setup }) => setup))];
  return judgeEach(build, setups, ambient_C, warmest, 'predicted').map((margin) => ({
    ...margin,
    predicted: true,
  }));
}

type FindWarmest = (limit: Limit, setup: string, phase: 'idle' | 'load', charging: boolean) => Warmest | null;

function judgeEach(
  build: Pick<Build, 'limits'>,
  setups: readonly string[],
  ambient_C: number,
  findWarmest: FindWarmest,
  done: 'measured' | 'predicted' = 'measured',
): Margin[] {
  return setups.flatMap((setup) =>
    uses.flatMap(({ use, title, state, phase }) =>
      build.limits
        .filter((limit) => speaksOf(limit, state))
        .map((limit): Margin => {
          const empty = {
            setup,
            limit,
            use,
            title,
            probe: null,
            expected_C: null,
            margin_K: null,
            atLeast_K: null,
            highestAmbient_C: null,
            level: 'unknown' as const,
            lowerBound: false,
            missing: null,
            evidence: [],
          };
          if (phase === null)
            return limit.where === 'cell'
              ? judgeStored(empty, ambient_C)
              : { ...empty, missing: 'zones give off no heat when switched off' };
          const charging = state === 'charging';
          const found = findWarmest(limit, setup, phase, charging);
          if (found !== null) return judgeMeasured(empty, found, ambient_C);
          return charging
            ? judgeFromBelow(empty, findWarmest(limit, setup, phase, false), ambient_C, done)
            : { ...empty, missing: `${title} was not ${done} with this set-up` };
        })
        .filter((margin) => !(margin.use === 'stored' && margin.limit.where !== 'cell')),
    ),
  );
}

function speaksOf(limit: Limit, state: Limit['state']): boolean {
  return limit.state === 'any' || limit.state === state;
}

interface Warmest {
  readonly probe: string | null;
  readonly rise: Pick<SetupRise, 'rise_K' | 'runs'>;
  readonly u_K: number;
  readonly dof: number;
}

/** The probe of the limit's place with the largest rise in this use, with the doubt of one further mounting. */
function warmestOf(
  build: Pick<Build, 'probes'>,
  contests: readonly Contest[],
  corrections: readonly Correction[],
  limit: Limit,
  setup: string,
  phase: 'idle' | 'load',
  charging: boolean,
  ambient_C: number,
): Warmest | null {
  const place = limit.where === 'touch' ? 'shell' : limit.where;
  let warmest: Warmest | null = null;
  for (const contest of contests) {
    const { quantity } = contest;
    const probe = build.probes.find(({ id }) => id === quantity.probe);
    if (quantity.phase !== phase || quantity.charging !== charging || probe?.place !== place) continue;
    if (limit.zone !== undefined && probe.zone !== limit.zone) continue;
    const rise = contest.setups.find((candidate) => candidate.setup === setup);
    if (rise === undefined || (warmest !== null && warmest.rise.rise_K.value >= rise.rise_K.value)) continue;
    const expected = expectReading(build, contests, corrections, contest, rise, ambient_C);
    warmest = { probe: probe.id, rise, u_K: expected.u, dof: dofNumber(expected) };
  }
  return warmest;
}

/**
 * What a probe is expected to read at an ambient after one further mounting, °C: the doubt of the mean, the spread between
 * mountings and the probe's own.
 *
 * @source [JCGM-100] Eq. 10 and G.2b
 */
export function expectReading(
  build: Pick<Build, 'probes'>,
  contests: readonly Contest[],
  corrections: readonly Correction[],
  contest: Contest,
  { rise_K }: Pick<SetupRise, 'rise_K'>,
  ambient_C: number,
): Estimate {
  const value = ambient_C + rise_K.value;
  const spread = spreadOf(contest, contests);
  const parts = [
    { u: rise_K.u, dof: rise_K.dof },
    { u: spread.sd_K, dof: spread.dof },
    { u: calibrationU_K(build, corrections, contest.quantity.probe, value, ambient_C), dof: null },
  ];
  return { value, u: Math.hypot(...parts.map(({ u }) => u)), dof: dofRecord(effectiveDof(parts)) };
}

/**
 * Spread between mountings for one quantity: its own where it has repeats, else that of the same probe in the quantity with
 * most repeats, else the assumed one. Blocks hide the sessions' share, so the spread of the runs about their set-up's mean is
 * taken where it is larger.
 */
function spreadOf(contest: Contest, contests: readonly Contest[]): { sd_K: number; dof: number | null } {
  const candidates = [
    contest,
    ...contests.filter(
      ({ quantity }) => quantity.probe === contest.quantity.probe && quantity.phase === 'load',
    ),
  ];
  const repeated =
    candidates.find(({ runToRun }) => !runToRun.assumed && (runToRun.dof ?? 0) >= 3) ??
    candidates.find(({ runToRun }) => !runToRun.assumed);
  if (repeated === undefined) return { sd_K: contest.runToRun.sd_K, dof: null };
  let squares = 0;
  let dof = 0;
  for (const { runs } of repeated.setups) {
    const centre = runs.reduce((sum, run) => sum + run.rise_K, 0) / runs.length;
    squares += runs.reduce((sum, run) => sum + (run.rise_K - centre) ** 2, 0);
    dof += runs.length - 1;
  }
  const raw_K = Math.sqrt(squares / dof);
  return raw_K > repeated.runToRun.sd_K
    ? { sd_K: raw_K, dof }
    : { sd_K: repeated.runToRun.sd_K, dof: repeated.runToRun.dof };
}

function judgeStored(empty: Margin, ambient_C: number): Margin {
  const margin_K = empty.limit.limit_C - ambient_C;
  return {
    ...empty,
    expected_C: { value: ambient_C, u: 0, dof: null },
    margin_K,
    atLeast_K: margin_K,
    highestAmbient_C: empty.limit.limit_C,
    level: levelOf(empty.limit, margin_K),
  };
}

function judgeMeasured(empty: Margin, { probe, rise, u_K, dof }: Warmest, ambient_C: number): Margin {
  const value = ambient_C + rise.rise_K.value;
  const margin_K = empty.limit.limit_C - value;
  const atLeast_K = margin_K - tQuantile(coverage, dof) * u_K;
  return {
    ...empty,
    probe,
    expected_C: { value, u: u_K, dof: dofRecord(dof) },
    margin_K,
    atLeast_K,
    highestAmbient_C: ambient_C + atLeast_K,
    level: levelOf(empty.limit, atLeast_K),
    evidence: rise.runs.map(({ run }) => run),
  };
}

const reachers = { cell: 'its cells reach', zone: 'the zone reaches', touch: 'the shell reaches' } as const;

/**
 * Charging was not measured: the rise without charging is the least it can be, since a charge only adds heat. That can show that
 * a limit is passed; it can never show that one holds.
 */
function judgeFromBelow(
  empty: Margin,
  without: Warmest | null,
  ambient_C: number,
  done: 'measured' | 'predicted',
): Margin {
  const missing = `${empty.title} was not ${done} with this set-up`;
  if (without === null) return { ...empty, missing };
  const value = ambient_C + without.rise.rise_K.value;
  const margin_K = empty.limit.limit_C - value;
  const passed = margin_K + tQuantile(coverage, without.dof) * without.u_K < 0;
  return {
    ...empty,
    probe: without.probe,
    expected_C: { value, u: without.u_K, dof: dofRecord(without.dof) },
    margin_K: passed ? margin_K : null,
    level: passed ? levelOf(empty.limit, margin_K) : 'unknown',
    lowerBound: true,
    missing: `${missing}; without the charge’s own heat ${reachers[empty.limit.where]} ${formatCelsius(value, without.u_K)}`,
    evidence: without.rise.runs.map(({ run }) => run),
  };
}

/** A stop limit passed stops; a preferred or wear level passed is worth a look, and a pack in use often is above it. */
export function levelOf(limit: Pick<Limit, 'level'>, atLeast_K: number): 'holds' | 'look' | 'stop' {
  if (limit.level !== 'stop') return atLeast_K >= 0 ? 'holds' : 'look';
  if (atLeast_K >= narrow_K) return 'holds';
  return atLeast_K >= 0 ? 'look' : 'stop';
}
