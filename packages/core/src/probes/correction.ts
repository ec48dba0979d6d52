/**
 * What a probe check says about one probe: `corrected = reading + offset_K + (gain - 1) (reading - pivot_C)`.
 *
 * The uncertainty is kept in two parts, because they behave differently in a difference. What comes from the probe's
 * own readings belongs to this probe alone. What comes from the reference (the bath, the pressure) is shared by every
 * probe that sat in it, and cancels between them where they were moved alike.
 */
export interface Correction {
  readonly probe: string;
  /** The check it rests on; null where the probe was never checked. */
  readonly check: string | null;
  readonly model: 'none' | 'offset' | 'offset-gain';
  readonly pivot_C: number;
  readonly offset_K: number;
  readonly gain: number;
  /** Variances and covariance of offset (K²), gain (1/1) from the probe's own readings. */
  readonly own: { readonly offset: number; readonly cross: number; readonly gain: number };
  /** How each reference temperature enters offset and gain, with the reference's standard uncertainty. */
  readonly shared: readonly {
    /** Check and point, so that two probes know when they share one. */
    readonly source: string;
    readonly u_K: number;
    readonly offset: number;
    readonly gain: number;
  }[];
  /** Standard uncertainty of a gain that no check tells, 1/1; 0 where two baths or more tell it. */
  readonly unknownGain_u: number;
  /** Standard uncertainty of one reading in use: resolution, as a rectangular distribution. */
  readonly reading_u_K: number;
  /** How far the probe may have moved since its check, and how the way it is held falsifies it; one standard uncertainty each, K. */
  readonly drift_u_K: number;
  readonly attachment_u_K: number;
  /** A thermocouple's other end, where it is in doubt: lasting, the same in every run, or passing, another each time. */
  readonly coldJunction: { readonly u_K: number; readonly isLasting: boolean } | null;
  readonly dof: number | null;
  /** Lowest and highest checked reading; beyond it the correction is extrapolated. */
  readonly checked_C: readonly [number, number] | null;
}
