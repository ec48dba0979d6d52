import type { Probe } from '../records/index.js';
import type { Correction } from './correction.js';
import { makeSensor } from './sensors/sensor-types.js';

/** What stands for a check where there is none, and how much doubt it leaves. */
export interface UncheckedDoubt {
  readonly basis: 'maker' | 'tolerance' | 'assumed';
  /** Variances and covariance of offset (K²) and gain about 0 °C. */
  readonly own: Correction['own'];
}

/**
 * Standard uncertainty of a probe that nobody checked, whose maker's figure is not recorded and whose sensor has no class: a
 * class 1 thermocouple of type K, ±1.5 K, as a rectangular distribution.
 *
 * @source [IEC-60584-1] tolerance class 1, read in secondary tables
 */
export const unchecked_u_K = 1.5 / Math.sqrt(3);

/**
 * Doubt of a probe without a check: its maker's figure, else the tolerance its sensor's class allows as a rectangular
 * distribution, else an assumed one.
 *
 * A tolerance that grows with temperature is taken as an offset that grows along a straight line. It meets every class from 0 to
 * 100 °C, where the bench works. At 150 °C it falls short of a type T's class by a sixth, below 0 °C of a platinum resistor's by
 * twice what the class grows by there.
 *
 * @source [JCGM-100] 4.3.7, limits without further knowledge
 */
export function uncheckedDoubt({ maker_u_K, sensor }: Pick<Probe, 'maker_u_K' | 'sensor'>): UncheckedDoubt {
  if (maker_u_K !== undefined) return { basis: 'maker', own: constant(maker_u_K) };
  const made = sensor && makeSensor(sensor);
  const tolerance = made?.ok ? made.value.tolerance : null;
  if (tolerance === null) return { basis: 'assumed', own: constant(unchecked_u_K) };
  const at0_K = tolerance.halfWidth_K(0);
  const slope = (tolerance.halfWidth_K(100) - at0_K) / 100;
  return {
    basis: 'tolerance',
    own: { offset: at0_K ** 2 / 3, cross: (at0_K * slope) / 3, gain: slope ** 2 / 3 },
  };
}

/** Standard uncertainty of an unchecked probe at a reading, K. */
export function uncheckedU_K(probe: Pick<Probe, 'maker_u_K' | 'sensor'>, reading_C: number): number {
  const { own } = uncheckedDoubt(probe);
  return Math.sqrt(own.offset + 2 * own.cross * reading_C + own.gain * reading_C ** 2);
}

/**
 * Standard uncertainty of the gain of a probe that no check tells it of, 1/1.
 *
 * Its error is taken for a straight line that may lie anywhere within the limits at 0 °C, and anywhere at 100 °C. An error that bends
 * within the limits could be steeper over a few kelvins; a wire, a film or a bead of one make bends little there.
 *
 * @assumed the straight line
 * @source derived: the difference of two independent errors of equal doubt u, over 100 K; [JCGM-100] Eq. 10
 */
export function unknownGainU(probe: Pick<Probe, 'maker_u_K' | 'sensor'>): number {
  return (Math.SQRT2 * uncheckedU_K(probe, middle_C)) / 100;
}

function constant(u_K: number): Correction['own'] {
  return { offset: u_K * u_K, cross: 0, gain: 0 };
}

/** What a thermocouple's other end adds to its doubt. */
export interface ColdJunctionDoubt {
  /** Standard uncertainty it brings to a reading, K. */
  readonly u_K: number;
  /** Whether it stays the same from run to run: then a check takes it out, and a difference read twice is free of it. */
  readonly isLasting: boolean;
  readonly isAssumed: boolean;
}

/**
 * Doubt of a cold junction where the record gives none. A sensor at the terminals is some half a kelvin off and that stays so;
 * terminals whose temperature was only stated drift with the room and with the logger's own warmth.
 *
 * @assumed common practice, no source
 */
const assumedColdJunction_K = { logged: 0.5, fixed: 1 };

/** Where the weight of the cold junction is taken; it changes by a tenth at most between 0 and 100 °C. */
const middle_C = 50;
const usualTerminals_C = 25;

/** Standard uncertainty of the temperature of a thermocouple's terminals, K; as of stated ones where the record says nothing of them. */
export function terminalsU_K({ sensor }: Pick<Probe, 'sensor'>): number {
  const coldJunction = sensor?.kind === 'thermocouple' ? sensor.coldJunction : undefined;
  return coldJunction?.u_K ?? assumedColdJunction_K[coldJunction?.kind ?? 'fixed'];
}

/** What the stated cold junction adds; null where none is stated or the sensor has none. */
export function coldJunctionDoubt({ sensor }: Pick<Probe, 'sensor'>): ColdJunctionDoubt | null {
  if (sensor?.kind !== 'thermocouple' || sensor.coldJunction === undefined) return null;
  const made = makeSensor(sensor);
  const { coldJunction } = sensor;
  const weight = made.ok
    ? (made.value.coldJunction?.weight(
        middle_C,
        coldJunction.kind === 'fixed' ? coldJunction.fixed_C : usualTerminals_C,
      ) ?? 0)
    : 0;
  return {
    u_K: weight * terminalsU_K({ sensor }),
    isLasting: coldJunction.kind === 'logged',
    isAssumed: coldJunction.u_K === undefined,
  };
}
