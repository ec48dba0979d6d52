import type { Correction } from './correction.js';
import type { UncheckedDoubt } from './unchecked-doubt.js';

/** One reading at a known temperature. */
export interface CheckReading {
  readonly reference_C: number;
  /** Standard uncertainty of the reference, shared by all probes in that bath, K. */
  readonly reference_u_K: number;
  readonly reading_C: number;
  /** What the terminals of a thermocouple put on a reading noted in mV, shared by all such readings of the check, K; absent, nothing. */
  readonly terminals_u_K?: number;
  /** Standard uncertainty of the reading itself: repeatability and resolution, K. */
  readonly reading_u_K: number;
  /** Names the bath, so that two probes know when they shared one. */
  readonly source: string;
}

/**
 * How many reading uncertainties apart the points must lie before they carry a gain: it is then known to about 1.4 %.
 * @assumed nearer points would say more about the readings than about the probe
 */
const leastSpan = 100;

/** The correction of a probe without a check: nothing is corrected, and what stands for a check gives the doubt. */
export function noCorrection(probe: string, { own }: UncheckedDoubt, reading_u_K: number): Correction {
  return {
    probe,
    check: null,
    model: 'none',
    pivot_C: 0,
    offset_K: 0,
    gain: 1,
    own,
    shared: [],
    unknownGain_u: 0,
    reading_u_K,
    drift_u_K: 0,
    attachment_u_K: 0,
    coldJunction: null,
    dof: null,
    checked_C: null,
  };
}

/**
 * Correction of one probe by weighted least squares: reference minus reading, as a constant or as a line in the reading.
 *
 * With more points than parameters, scatter beyond the stated uncertainties widens the result. With as many points as
 * parameters there is nothing to check against, and the stated uncertainties are taken at their word. One point, or
 * points closer together than a hundred reading uncertainties, give an offset only.
 *
 * What the terminals of thermocouples are in doubt by is taken to be the same in all baths of a check, because a thermometer
 * beside them errs alike all evening: it goes into the offset, and into a gain only as far as their weight differs.
 *
 * @param points at least one
 * @param model what the person asked for; a line falls back to an offset where the points do not carry it
 * @source [JCGM-100] H.3, calibration of a thermometer; shared references kept apart as in F.1.2.3
 */
export function fitCorrection(
  probe: string,
  check: string,
  points: readonly CheckReading[],
  model: 'offset' | 'offset-gain',
  reading_u_K: number,
): Correction {
  const readings = points.map((point) => point.reading_C);
  const lowest = Math.min(...readings);
  const highest = Math.max(...readings);
  const coarsest_K = Math.max(...points.map((point) => point.reading_u_K));
  const line = model === 'offset-gain' && points.length > 1 && highest - lowest >= leastSpan * coarsest_K;

  const weights = points.map(
    ({ reference_u_K, terminals_u_K = 0, reading_u_K: own_K }) =>
      1 / Math.max(reference_u_K ** 2 + terminals_u_K ** 2 + own_K ** 2, 1e-12),
  );
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const pivot_C = readings.reduce((sum, reading, i) => sum + reading * (weights[i] as number), 0) / total;
  const spread = readings.reduce(
    (sum, reading, i) => sum + (weights[i] as number) * (reading - pivot_C) ** 2,
    0,
  );

  // About the weighted mean of the readings, offset and gain are separate sums: each point's share in each.
  const shares = points.map((point, i) => ({
    offset: (weights[i] as number) / total,
    gain: line ? ((weights[i] as number) * (point.reading_C - pivot_C)) / spread : 0,
  }));
  const wanted = points.map((point) => point.reference_C - point.reading_C);
  const weighted = (of: 'offset' | 'gain') =>
    shares.reduce((sum, share, i) => sum + share[of] * (wanted[i] as number), 0);
  const offset_K = weighted('offset');
  const slope = weighted('gain');

  const dof = points.length - (line ? 2 : 1);
  const chi2 = points.reduce(
    (sum, point, i) =>
      sum +
      (weights[i] as number) * ((wanted[i] as number) - offset_K - slope * (point.reading_C - pivot_C)) ** 2,
    0,
  );
  const scatter = dof > 0 ? Math.max(1, chi2 / dof) : 1;

  // A reading's doubt enters through the gain as well: t = reading + correction(reading).
  const gain = 1 + slope;
  const readingVariance = points.map((point) => (gain * point.reading_u_K) ** 2 * scatter);
  const sum = (f: (share: { offset: number; gain: number }) => number) =>
    shares.reduce((total_, share, i) => total_ + f(share) * (readingVariance[i] as number), 0);
  return {
    probe,
    check,
    model: line ? 'offset-gain' : 'offset',
    pivot_C,
    offset_K,
    gain,
    own: {
      offset: sum((share) => share.offset ** 2),
      cross: sum((share) => share.offset * share.gain),
      gain: sum((share) => share.gain ** 2),
    },
    shared: points.flatMap(({ source, reference_u_K, terminals_u_K = 0 }, i) => {
      const share = shares[i] as { offset: number; gain: number };
      const from = (name: string, u_K: number) => ({ source: name, u_K: u_K * Math.sqrt(scatter), ...share });
      const bath = from(source, reference_u_K);
      return terminals_u_K > 0 ? [bath, from(`${check}/terminals`, terminals_u_K)] : [bath];
    }),
    unknownGain_u: 0,
    reading_u_K,
    drift_u_K: 0,
    attachment_u_K: 0,
    coldJunction: null,
    // Only where the scatter speaks louder than the stated doubt does the doubt itself rest on few points.
    dof: dof > 0 && scatter > 1 ? dof : null,
    checked_C: [lowest, highest],
  };
}
