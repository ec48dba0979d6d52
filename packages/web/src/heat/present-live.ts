/** What follows a hand that drags: temperatures beside those of the baseline, margins, and a sentence about it. */
import {
  judgePlaces,
  type PlaceRise,
  type PredictedMargin,
  type PredictedRise,
  type ShownSetup,
} from '@soakbench/core/heat';
import {
  formatCelsius,
  formatEstimate,
  formatKelvin,
  formatNumber,
  type Sentence,
  type SentencePart,
} from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Level } from '../parts/level.js';

export interface LiveRow {
  readonly id: string;
  readonly name: string;
  readonly kind: PlaceRise['kind'];
  /** °C in the room that was chosen. */
  readonly level: string;
  /** "± 1.2", or "± …" while it is worked out. */
  readonly doubt: string;
  /** Against the baseline in the same room: "−3.9 K". */
  readonly against: string;
}

export function liveRows(
  shown: ShownSetup,
  rises: readonly PredictedRise[] | null,
  ghost: ShownSetup | null,
): LiveRow[] {
  return shown.places.map(({ id, name, kind, rise_K }) => {
    const u = rises?.find(({ target }) => target.id === id)?.rise_K.u;
    const base = ghost?.places.find((place) => place.id === id)?.rise_K;
    return {
      id,
      name,
      kind,
      level: formatNumber(shown.ambient_C + rise_K, 1),
      doubt: u === undefined ? '± …' : `± ${formatNumber(u, 1)}`,
      against: base === undefined ? '…' : signed(rise_K - base),
    };
  });
}

function signed(value_K: number): string {
  const text = formatNumber(value_K, 1);
  return value_K >= 0.05 ? `+${text}` : text;
}

export interface LiveMargin {
  readonly key: string;
  readonly where: string;
  readonly limit: string;
  readonly limit_C: string;
  /** A limit at which use ends, not one that only wears. */
  readonly isStop: boolean;
  readonly margin: string;
  readonly atLeast: string;
  readonly level: Level;
  readonly word: string;
}

const levels: Readonly<Record<PredictedMargin['level'], Level>> = {
  holds: 'holds',
  look: 'look',
  stop: 'stop',
  open: 'none',
};

/** Limits against the hottest places at the design ambient, whichever room is shown. */
export function liveMargins(
  build: Build,
  shown: ShownSetup,
  rises: readonly PredictedRise[] | null,
  charging: boolean,
): LiveMargin[] {
  const places = shown.places.map((place) => {
    const known = rises?.find(({ target }) => target.id === place.id)?.rise_K;
    return known === undefined ? place : { ...place, u: known };
  });
  return judgePlaces(build, places, charging).map((margin) => {
    const { limit, name, margin_K, atLeast_K } = margin;
    const isStop = limit.level === 'stop';
    const word =
      margin.level === 'open'
        ? 'value only'
        : isStop
          ? margin.level
          : margin.level === 'holds'
            ? 'prefer'
            : 'wear';
    const limit_C = formatNumber(limit.limit_C, Number.isInteger(limit.limit_C) ? 0 : 1);
    return {
      key: limit.id,
      where: name,
      limit: `${isStop ? 'stop at' : limit.level === 'wear' ? 'wears above' : 'preferred below'} ${limit_C} °C`,
      limit_C,
      isStop,
      margin: formatKelvin(margin_K),
      atLeast: atLeast_K === null ? '…' : formatKelvin(atLeast_K),
      level: levels[margin.level],
      word,
    };
  });
}

function hottestCell(places: readonly PlaceRise[]): PlaceRise | null {
  return places
    .filter(({ id, kind }) => kind === 'hottest' && id.startsWith('cell-'))
    .reduce<PlaceRise | null>(
      (most, each) => (most === null || each.rise_K > most.rise_K ? each : most),
      null,
    );
}

interface Thought {
  readonly name: string;
  readonly isMeasured: boolean;
  readonly shown: ShownSetup;
  readonly rises: readonly PredictedRise[] | null;
  readonly ghost: ShownSetup | null;
  readonly baseline: string;
  /** Root mean square error of the model at the cells; null where it could not be found. */
  readonly error_K: number | null;
}

/** The set-up on show in a sentence: where its hottest cell comes to, against the baseline, and what it leaves in the bay. */
export function tellThought({ name, isMeasured, shown, rises, ghost, baseline, error_K }: Thought): Sentence {
  const cell = hottestCell(shown.places);
  if (cell === null) return [`${capital(name)} has no cell the model could read.`];
  const value = shown.ambient_C + cell.rise_K;
  const u = rises?.find(({ target }) => target.id === cell.id)?.rise_K.u;
  const parts: SentencePart[] = [
    isMeasured ? '' : 'Untried, ',
    { figure: isMeasured ? capital(name) : name },
    isMeasured ? ' has its hottest cell at ' : ' would put the hottest cell at ',
  ];
  parts.push({
    figure: u === undefined ? `${formatNumber(value, 1)} ± … °C` : formatEstimate({ value, u }, '°C'),
    why: `${capital(cell.name)}: ${formatKelvin(cell.rise_K)} above a room of ${formatCelsius(shown.ambient_C)}, by the calibrated model. ${u === undefined ? 'Its interval is worked out when the hand rests.' : 'The hottest place of all cells, where a probe seldom sits.'}`,
  });
  const base = ghost === null ? null : hottestCell(ghost.places);
  if (base !== null && baseline !== name) {
    const cooler_K = base.rise_K - cell.rise_K;
    parts.push(
      ': ',
      { figure: `${formatKelvin(Math.abs(cooler_K))} ${cooler_K >= 0 ? 'below' : 'above'}` },
      ` ${baseline}`,
    );
    if (error_K !== null && Math.abs(cooler_K) < error_K)
      parts.push(', which is less than the model can tell');
  }
  parts.push(`. It leaves ${formatNumber(shown.room_mm, 2)} mm in the bay for swelling.`);
  return parts;
}

function capital(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}
