import { formatNumber } from '../measure/index.js';
import { mean, standardDeviation } from '../numerics/index.js';

/** One reading of a check, with its bath and what the correction leaves. */
export interface ReadingLeft {
  readonly probe: string;
  readonly check: string;
  /** Which point of that check, counted from 1. */
  readonly bath: number;
  readonly reference_C: number;
  readonly reference_u_K: number;
  readonly referenceWhy: string;
  readonly reading_C: number;
  /** As it was noted, where that was in the signal of its sensor. */
  readonly signal: string | null;
  readonly left_K: number;
}

/** What one probe read in one bath, once or several times. */
export interface BathReadings extends Omit<ReadingLeft, 'reading_C' | 'signal' | 'left_K'> {
  /** As they stand in the record. */
  readonly readings_C: readonly number[];
  /** Each of them as it was noted, where that was in the signal of its sensor. */
  readonly signals: readonly (string | null)[];
  readonly mean_C: number;
  /** Standard deviation of one reading about their mean, K; null for a reading that nothing stands beside. */
  readonly scatter_K: number | null;
  /** What the correction leaves of their mean, K. */
  readonly left_K: number;
}

/** "0.20, 0.10", and how a reading was noted where that was in the signal of its sensor: "100.02 (3.096 mV)". */
export function writeReadings({ readings_C, signals }: Pick<BathReadings, 'readings_C' | 'signals'>): string {
  return readings_C
    .map((reading_C, index) => {
      const signal = signals[index] ?? null;
      return `${formatNumber(reading_C, 2)}${signal === null ? '' : ` (${signal})`}`;
    })
    .join(', ');
}

/**
 * Readings of one probe in one bath, taken together, in the order in which their first ones stand.
 * Their scatter is told, so that a slip of the pen shows; the fit of the correction weighs every reading by itself.
 *
 * @source [JCGM-100] 4.2.1 the mean, 4.2.2 the experimental standard deviation, with n - 1
 */
export function gatherReadings(readings: readonly ReadingLeft[]): BathReadings[] {
  const groups = new Map<string, ReadingLeft[]>();
  for (const reading of readings) {
    const key = JSON.stringify([reading.check, reading.bath, reading.probe]);
    groups.set(key, [...(groups.get(key) ?? []), reading]);
  }
  return [...groups.values()].map((group) => {
    const { reading_C: _, signal: __, left_K: ___, ...bath } = group[0] as ReadingLeft;
    const readings_C = group.map(({ reading_C }) => reading_C);
    return {
      ...bath,
      readings_C,
      signals: group.map(({ signal }) => signal),
      mean_C: mean(readings_C),
      scatter_K: readings_C.length > 1 ? standardDeviation(readings_C) : null,
      left_K: mean(group.map(({ left_K }) => left_K)),
    };
  });
}
