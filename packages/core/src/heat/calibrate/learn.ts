import type { Unknown } from '../device/unknown.js';
import type { Fit } from './fit-unknowns.js';
import type { Soaks } from './soaks.js';

/** One unknown after the runs: what they make of it, and how much of that is their doing. */
export interface Learned {
  readonly unknown: Unknown;
  /** The likeliest factor, and the standard deviation of its logarithm. */
  readonly factor: number;
  readonly spread: number;
  /** 0 where the runs said nothing and the prior stands, 1 where they settled it. */
  readonly learned: number;
}

/** Two unknowns that the runs cannot tell apart: one could be more and the other less, or more with it. */
export interface Entangled {
  readonly one: string;
  readonly other: string;
  readonly correlation: number;
}

/** What the runs could and could not identify. */
export interface Identification {
  readonly learned: readonly Learned[];
  /** Worst first; only those that hide something. */
  readonly entangled: readonly Entangled[];
  /** How many combinations of unknowns the runs settled: no more than there are readings, and mostly far fewer. */
  readonly settledCombinations: number;
  readonly readings: number;
}

/** Beyond this, neither of two unknowns can be quoted alone. @assumed common practice, no source */
const hidden = 0.6;

/**
 * What a fit has learned, unknown by unknown and together.
 *
 * A sharp factor beside a prior that was sharp already is no finding: look at `learned`. Two probes do not carry six unknowns, however small
 * their residuals.
 *
 * @source [TARANTOLA-05] section 3.2; the number of settled combinations is the trace of the resolution matrix, [MENKE-12] section 4.6, from memory
 */
export function identifyUnknowns({ unknowns }: Pick<Soaks, 'unknowns'>, fit: Fit): Identification {
  const spreadAt = (index: number) => Math.sqrt(fit.covariance[index]?.[index] as number);
  const learned = unknowns.map(
    (unknown, index): Learned => ({
      unknown,
      factor: Math.exp(fit.logs[index] as number),
      spread: spreadAt(index),
      learned: Math.max(0, 1 - (spreadAt(index) / unknown.spread) ** 2),
    }),
  );
  const entangled: Entangled[] = [];
  unknowns.forEach((one, a) => {
    unknowns.slice(a + 1).forEach((other, offset) => {
      const b = a + 1 + offset;
      const correlation = (fit.covariance[a]?.[b] as number) / (spreadAt(a) * spreadAt(b));
      if (Math.abs(correlation) > hidden) entangled.push({ one: one.id, other: other.id, correlation });
    });
  });
  return {
    learned,
    entangled: entangled.sort((one, other) => Math.abs(other.correlation) - Math.abs(one.correlation)),
    settledCombinations: learned.reduce((sum, each) => sum + each.learned, 0),
    readings: fit.used.length,
  };
}
