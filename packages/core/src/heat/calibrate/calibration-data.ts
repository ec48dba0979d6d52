import { type Contest, calibrationU_K } from '../../compare/index.js';
import { mean } from '../../numerics/index.js';
import type { Correction } from '../../probes/index.js';
import type { Build } from '../../records/index.js';

/** One set-up in one use, as the model solves it. */
export interface SoakState {
  readonly setup: string;
  readonly charging: boolean;
  /** Idle phases only where their power was noted: nothing else tells what heats the device then. */
  readonly phase: 'idle' | 'load';
  /** Mean noted power of its runs in this phase, W; null where it was not noted. */
  readonly load_W: number | null;
  /** Of that mean, as the meter's doubt; null where it was not noted. */
  readonly load_u_W: number | null;
  /** Mean noted current through the pack, A: into it while charging, else out of it. Null where it was not noted, and at idle. */
  readonly pack_A: number | null;
}

/** One measured mean rise the model is held to. */
export interface Datum {
  readonly state: number;
  readonly probe: string;
  readonly rise_K: number;
  readonly u_K: number;
}

export interface CalibrationData {
  readonly states: readonly SoakState[];
  readonly data: readonly Datum[];
  /** Of the measured rises, K², rows in the order of `data`: what set-ups share in a contest is in it. */
  readonly covariance_K2: readonly Float64Array[];
  /** Mean room of the runs, °C. */
  readonly ambient_C: number;
  /** What was measured and could not be used, in words. */
  readonly notes: readonly string[];
}

/** Rooms are seldom far from this where no run tells. @assumed */
const usualAmbient_C = 23;

/**
 * The settled rises that a model can be held to, one for each probe, set-up and use: under load, and at idle where the power of every run
 * of the set-up was noted then too.
 *
 * Each rise carries its doubt from the spread between
 * mountings and from the probes; a probe's own error is the same in every set-up and is an unknown of the model instead.
 */
export function collectCalibrationData(
  build: Build,
  contests: readonly Contest[],
  corrections: readonly Correction[],
): CalibrationData {
  const states: SoakState[] = [];
  const data: Datum[] = [];
  const blocks: Block[] = [];
  const notes: string[] = [];
  const idleRuns = new Set<string>();
  for (const contest of contests) {
    const { quantity, setups } = contest;
    const { phase, charging } = quantity;
    const probe = build.probes.find(({ id }) => id === quantity.probe);
    if (probe === undefined || probe.place === 'ambient') continue;
    const first = data.length;
    const taken: number[] = [];
    for (const [place, { setup, rise_K, runs }] of setups.entries()) {
      const soaked = stateFrom(
        build,
        { setup, charging, phase },
        runs.map(({ run }) => run),
      );
      if (phase === 'idle' && soaked.load_W === null) {
        for (const { run } of runs) idleRuns.add(run);
        continue;
      }
      taken.push(place);
      data.push({
        state: placeOf(states, soaked),
        probe: probe.id,
        rise_K: rise_K.value,
        u_K: Math.hypot(
          rise_K.u,
          calibrationU_K(build, corrections, probe.id, usualAmbient_C + rise_K.value, usualAmbient_C),
        ),
      });
    }
    if (taken.length > 0) blocks.push({ first, taken, contest });
  }
  const covariance_K2 = data.map(() => new Float64Array(data.length));
  for (const one of blocks) for (const other of blocks) fillCovariance(covariance_K2, one, other);
  if (idleRuns.size > 0) notes.push(tellIdle(build, idleRuns));
  return { states, data, covariance_K2, ambient_C: meanAmbient_C(contests), notes };
}

/** That idle was measured and is of no use, and what would make it of use. */
function tellIdle({ runs }: Build, left: ReadonlySet<string>): string {
  const silent = runs.filter(({ id, conditions }) => left.has(id) && conditions?.idle_W === undefined).length;
  return `Idle rises are left out where what the device drew at idle was not noted with every run of a set-up: ${silent} of ${left.size} such runs do not tell. Measured before the load comes on, as the current times the voltage that the device takes, and noted with the run, it lets idle tell of films and gaps.`;
}

/** The rises that came from one contest: rows from `first` on, one for each of its set-ups that was taken. */
interface Block {
  readonly first: number;
  readonly taken: readonly number[];
  readonly contest: Contest;
}

/** What two quantities of the same runs share at most: beyond it their ratio would count as all but exact. @assumed */
const mostShared = 0.9;

/**
 * What set-ups share in a contest; and what idle and load of one probe share, whose runs had the same mounting and the same room: the
 * correlation of both over the runs, about the means of their set-ups.
 */
function fillCovariance(matrix: readonly Float64Array[], one: Block, other: Block): void {
  const isSame = one === other;
  if (!isSame && !(isOfSameRuns(one, other) && one.first < other.first)) return;
  const shared = isSame ? 1 : Math.min(mostShared, Math.max(0, correlationOf(one.contest, other.contest)));
  const variance = ({ contest }: Block, place: number) => contest.covariance_K2[place]?.[place] as number;
  one.taken.forEach((place, i) => {
    other.taken.forEach((next, j) => {
      const { setup } = other.contest.setups[next] as (typeof other.contest.setups)[number];
      const column = one.contest.setups.findIndex((each) => each.setup === setup);
      const own_K2 = one.contest.covariance_K2[place]?.[column];
      if (own_K2 === undefined || own_K2 === 0) return;
      const ratio = isSame ? 1 : Math.sqrt(variance(other, next) / variance(one, column));
      const value = shared * own_K2 * ratio;
      const [row, line] = [one.first + i, other.first + j];
      (matrix[row] as Float64Array)[line] = value;
      (matrix[line] as Float64Array)[row] = value;
    });
  });
}

function isOfSameRuns({ contest: one }: Block, { contest: other }: Block): boolean {
  return (
    one.quantity.probe === other.quantity.probe &&
    one.quantity.charging === other.quantity.charging &&
    one.quantity.phase !== other.quantity.phase
  );
}

/** Of two quantities over the runs they share, each about the mean of its set-up; 0 where nothing was run twice. */
function correlationOf(one: Contest, other: Contest): number {
  let [both, first, second] = [0, 0, 0];
  for (const { setup, runs } of one.setups) {
    const others = other.setups.find((each) => each.setup === setup)?.runs ?? [];
    const pairs = runs.flatMap(({ run, rise_K }) =>
      others.flatMap((each) => (each.run === run ? [[rise_K, each.rise_K] as const] : [])),
    );
    if (pairs.length < 2) continue;
    const [x, y] = [mean(pairs.map(([rise]) => rise)), mean(pairs.map(([, rise]) => rise))];
    for (const [a, b] of pairs) {
      both += (a - x) * (b - y);
      first += (a - x) ** 2;
      second += (b - y) ** 2;
    }
  }
  return first > 0 && second > 0 ? both / Math.sqrt(first * second) : 0;
}

/** The state's place in the list, where it is put if it is not there. Probes of one run name the same state. */
function placeOf(states: SoakState[], soaked: SoakState): number {
  const known = states.findIndex(
    ({ setup, charging, phase }) =>
      setup === soaked.setup && charging === soaked.charging && phase === soaked.phase,
  );
  if (known >= 0) return known;
  states.push(soaked);
  return states.length - 1;
}

function stateFrom(
  build: Build,
  state: Pick<SoakState, 'setup' | 'charging' | 'phase'>,
  runs: readonly string[],
): SoakState {
  const conditions = runs.map((id) => build.runs.find((run) => run.id === id)?.conditions ?? {});
  const isLoad = state.phase === 'load';
  const power = conditions.flatMap(({ load_W, load_u_W, idle_W, idle_u_W }) => {
    const [value_W, u_W] = isLoad ? [load_W, load_u_W] : [idle_W, idle_u_W];
    return value_W === undefined ? [] : [{ value_W, u_W: u_W ?? unstated * value_W }];
  });
  const currents_A = isLoad ? conditions.flatMap(({ pack_A }) => pack_A ?? []) : [];
  const isNoted = power.length > 0 && power.length === runs.length;
  return {
    ...state,
    load_W: isNoted ? mean(power.map(({ value_W }) => value_W)) : null,
    load_u_W: isNoted ? mean(power.map(({ u_W }) => u_W)) : null,
    pack_A: currents_A.length > 0 && currents_A.length === runs.length ? mean(currents_A) : null,
  };
}

/** Power as a supply's display shows it, where its doubt is not noted: a share of it. @assumed common practice, no source */
const unstated = 0.03;

/** Mean over the runs under load, each once, of the room while it was settled; a usual room where none tells. */
function meanAmbient_C(contests: readonly Contest[]): number {
  const rooms_C = new Map<string, number>();
  for (const { quantity, setups } of contests) {
    if (quantity.phase !== 'load') continue;
    for (const { run, ambient_C } of setups.flatMap(({ runs }) => runs))
      if (ambient_C !== undefined) rooms_C.set(run, ambient_C);
  }
  return rooms_C.size === 0 ? usualAmbient_C : mean([...rooms_C.values()]);
}
