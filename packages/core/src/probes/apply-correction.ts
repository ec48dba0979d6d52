import type { Correction } from './correction.js';

/** Corrected temperature of a reading, °C. */
export function correctReading_C(correction: Correction, reading_C: number): number {
  return reading_C + correction.offset_K + (correction.gain - 1) * (reading_C - correction.pivot_C);
}

/**
 * Covariance of two corrected temperatures, K²: what they share by their baths, and for one probe what is its own.
 * A bath in which a probe was read more than once enters through all of those readings together.
 */
function covariance(a: Correction, atA_C: number, b: Correction, atB_C: number): number {
  const fromA = atA_C - a.pivot_C;
  const fromB = atB_C - b.pivot_C;
  let sum = 0;
  for (const share of a.shared) {
    for (const other of b.shared) {
      if (other.source !== share.source) continue;
      sum +=
        (share.offset + share.gain * fromA) * (other.offset + other.gain * fromB) * share.u_K * other.u_K;
    }
  }
  if (a.probe === b.probe && a.check === b.check) {
    sum += a.own.offset + a.own.cross * (fromA + fromB) + a.own.gain * fromA * fromB;
    // About the bath it was checked in a gain swings freely. Without a check the limits hold a reading already, and the gain only
    // makes two of them differ.
    sum += a.unknownGain_u ** 2 * (a.model === 'none' ? -((fromA - fromB) ** 2) / 2 : fromA * fromB);
  }
  return sum;
}

/** Variance of drift, attachment and cold junction together, K²: what each probe has to itself, whatever its check says. */
function heldVariance({ drift_u_K, attachment_u_K, coldJunction }: Correction): number {
  return drift_u_K ** 2 + attachment_u_K ** 2 + (coldJunction?.u_K ?? 0) ** 2;
}

/** Variance of what is another each time the same probe is read, K². */
function passingVariance({ coldJunction }: Correction): number {
  return coldJunction === null || coldJunction.isLasting ? 0 : coldJunction.u_K ** 2;
}

/** Variance of the reading in use, seen through the gain, K². */
function readingVariance(correction: Correction): number {
  return (correction.gain * correction.reading_u_K) ** 2;
}

/**
 * Standard uncertainty of the correction at a reading, without that reading's own doubt, K.
 * @source [JCGM-100] H.3.4, with the covariance of offset and gain
 */
export function correctionU_K(correction: Correction, reading_C: number): number {
  return Math.sqrt(Math.max(0, covariance(correction, reading_C, correction, reading_C)));
}

/**
 * Standard uncertainty of a probe's gain, 1/1: what a difference that it reads twice is in doubt by, whatever the temperatures.
 * @source [JCGM-100] Eq. 16
 */
export function gainU(correction: Correction): number {
  const at = (one: number, other: number) => covariance(correction, one, correction, other);
  return Math.sqrt(Math.max(0, at(1, 1) + at(0, 0) - 2 * at(1, 0)));
}

/** Standard uncertainty of one corrected reading in use, K: correction, resolution, drift since the check, attachment, cold junction. */
export function correctedU_K(correction: Correction, reading_C: number): number {
  return Math.hypot(
    correctionU_K(correction, reading_C),
    Math.sqrt(readingVariance(correction) + heldVariance(correction)),
  );
}

/**
 * Standard uncertainty that the probes themselves put on a difference of two corrected temperatures, K.
 *
 * For one probe read twice the offset cancels and only the gain's doubt is left, times the difference: this is what a
 * comparison of set-ups needs. For two probes checked in the same baths the baths' doubt cancels likewise. Treating the
 * two as independent would be tens of times too large in the first case. Drift and attachment belong to each probe: they
 * stand between two probes and cancel in one that stays where it is; a cold junction whose temperature was only stated does not. What re-mounting changes shows in the repeats.
 *
 * @source [JCGM-100] F.1.2.3 and Eq. 16
 */
export function differenceU_K(a: Correction, atA_C: number, b: Correction, atB_C: number): number {
  const variance =
    covariance(a, atA_C, a, atA_C) +
    covariance(b, atB_C, b, atB_C) -
    2 * covariance(a, atA_C, b, atB_C) +
    (a.probe === b.probe ? passingVariance(a) + passingVariance(b) : heldVariance(a) + heldVariance(b));
  return Math.sqrt(Math.max(0, variance));
}
