/** How far a sheet carries heat sideways: fins, and plates that lose on one face. */
import { metreFromMillimetre, millimetreFromMetre, OutOfRangeError } from '../../measure/index.js';

/** A sheet and what it loses: one film over all that leaves it, on both faces together. */
export interface Spreader {
  readonly thickness_mm: number;
  readonly kInPlane_W_per_mK: number;
  /** To the air, or over a gap to a neighbour: 0.5 mm of air is some 50 W/(m² K). */
  readonly loss_W_per_m2K: number;
}

/**
 * The length over which a sheet spreads heat: behind it, a strip falls to 1/e of its rise.
 *
 * A spreader reaches about one such length and no further, however large it is. Only conductivity times thickness counts: 25 µm of
 * graphite do what 0.1 mm of copper does.
 *
 * @param spreader thickness, conductivity and loss above 0
 * @throws OutOfRangeError for one that is not
 * @source [INCROPERA] chapter 3, fins, from memory: 1/m = sqrt(k t / h)
 */
export function spreadingLength_mm(spreader: Spreader): number {
  const { thickness_mm, kInPlane_W_per_mK, loss_W_per_m2K } = spreader;
  for (const [name, value] of Object.entries({ thickness_mm, kInPlane_W_per_mK, loss_W_per_m2K })) {
    if (!(value > 0))
      throw new OutOfRangeError(name, value, [0, Number.POSITIVE_INFINITY], 'It must be above 0.');
  }
  const spreading_m = Math.sqrt((kInPlane_W_per_mK * metreFromMillimetre(thickness_mm)) / loss_W_per_m2K);
  return millimetreFromMetre(spreading_m);
}

/**
 * What is left of the rise at a place along a strip whose end loses nothing, as a share of that at its foot.
 *
 * Heat runs along one direction only. Around a small source it also spreads across, and the rise falls faster.
 *
 * @param from_mm distance from the heated foot, 0 to the length
 * @param length_mm of the strip, above 0
 * @param spreading_mm from `spreadingLength_mm`
 * @throws OutOfRangeError for a place beyond the strip
 * @source [INCROPERA] table 3.4, adiabatic tip: cosh m (L - x) / cosh m L
 */
export function riseAlong(from_mm: number, length_mm: number, spreading_mm: number): number {
  if (!(from_mm >= 0 && from_mm <= length_mm)) throw new OutOfRangeError('from_mm', from_mm, [0, length_mm]);
  // As exponentials of negative numbers: cosh of a long strip overflows.
  const [start, whole] = [from_mm / spreading_mm, length_mm / spreading_mm];
  return (Math.exp(-start) + Math.exp(start - 2 * whole)) / (1 + Math.exp(-2 * whole));
}

/**
 * How well a strip is used: what it loses, as a share of what it would lose if all of it were as warm as its foot.
 *
 * @param length_mm of the strip from its heated foot, above 0
 * @param spreading_mm from `spreadingLength_mm`
 * @source [INCROPERA] table 3.4, adiabatic tip: tanh(m L) / (m L)
 */
export function stripEfficiency(length_mm: number, spreading_mm: number): number {
  if (!(length_mm > 0)) throw new OutOfRangeError('length_mm', length_mm, [0, Number.POSITIVE_INFINITY]);
  const reach = length_mm / spreading_mm;
  return Math.tanh(reach) / reach;
}
