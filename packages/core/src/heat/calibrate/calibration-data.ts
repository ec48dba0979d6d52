import { type Contest, calibrationU_K } from '../../compare/index.js';
import type { Correction } from '../../probes/index.js';
import type { Build } from '../../records/index.js';

/** One set-up in one use, as the model solves it. */
export interface SoakState {
  readonly setup: string;
  readonly charging: boolean;
  /** Mean noted power of its runs, W; null where it was not noted. */
  readonly load_W: number | null;
  /** Of that mean, as the meter's doubt; null where it was not noted. */
  readonly load_u_W: number | null;
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
 * The settled rises under load that a model can be held to, one for each probe, set-up and use.
 *
 * Idle phases are left out: what the device gives off at idle is not noted. Each rise carries its doubt from the spread between
 * mountings and from the probes; a probe's own error is the same in every set-up and is an unknown of the model instead.
 */
export function collectCalibrationData(
  build: Build,
  contests: readonly Contest[],
  corrections: readonly Correction[],
): CalibrationData {
  const states: SoakState[] = [];
  const data: Datum[] = [];
  const blocks: { readonly first: number; readonly covariance: readonly (readonly number[])[] }[] = [];
  const notes: string[] = [];
  for (const { quantity, setups, covariance_K2 } of contests) {
    const probe = build.probes.find(({ id }) => id === quantity.probe);
    if (probe === undefined || probe.place === 'ambient' || quantity.phase !== 'load') continue;
    const first = data.length;
    for (const { setup, rise_K, runs } of setups) {
      data.push({
        state: stateOf(
          states,
          build,
          setup,
          quantity.charging,
          runs.map(({ run }) => run),
        ),
        probe: probe.id,
        rise_K: rise_K.value,
        u_K: Math.hypot(
          rise_K.u,
          calibrationU_K(build, corrections, probe.id, usualAmbient_C + rise_K.value, usualAmbient_C),
        ),
      });
    }
    blocks.push({ first, covariance: covariance_K2 });
  }
  const covariance_K2 = data.map((_, index) => {
    const row = new Float64Array(data.length);
    const block = blocks.findLast(({ first }) => first <= index);
    block?.covariance[index - block.first]?.forEach((value, column) => {
      row[block.first + column] = value;
    });
    return row;
  });
  if (contests.some(({ quantity }) => quantity.phase === 'idle'))
    notes.push('Idle phases are not used: what the device gives off at idle is not noted.');
  return { states, data, covariance_K2, ambient_C: meanAmbient_C(build), notes };
}

function stateOf(
  states: SoakState[],
  build: Build,
  setup: string,
  charging: boolean,
  runs: readonly string[],
): number {
  const known = states.findIndex((state) => state.setup === setup && state.charging === charging);
  if (known >= 0) return known;
  const noted = runs.flatMap((id) => {
    const conditions = build.runs.find((run) => run.id === id)?.conditions;
    return conditions?.load_W === undefined ? [] : [conditions];
  });
  const loads_W = noted.map(({ load_W }) => load_W as number);
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const isNoted = noted.length > 0 && noted.length === runs.length;
  states.push({
    setup,
    charging,
    load_W: isNoted ? mean(loads_W) : null,
    load_u_W: isNoted
      ? mean(noted.map(({ load_W, load_u_W }) => load_u_W ?? unstated * (load_W as number)))
      : null,
  });
  return states.length - 1;
}

/** Power as a supply's display shows it, where its doubt is not noted: a share of it. @assumed common practice, no source */
const unstated = 0.03;

function meanAmbient_C(build: Build): number {
  const noted = build.runs.flatMap(({ conditions }) =>
    conditions?.ambient_C === undefined ? [] : [conditions.ambient_C],
  );
  return noted.length === 0 ? usualAmbient_C : noted.reduce((sum, each) => sum + each, 0) / noted.length;
}
