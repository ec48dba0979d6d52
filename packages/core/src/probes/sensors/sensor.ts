/** The plug point of sensor types: what every one of them can answer. One file each; how to add one: docs/adding-a-sensor-type.md. */
import type { Result } from '../../measure/index.js';
import type { SensorFacts } from '../../records/index.js';

export type SignalUnit = 'mV' | 'ohm';

/** One sensor, from the facts a probe states: temperature from signal and back, and how far its maker lets it err. */
export interface Sensor {
  /** Its name for machines: `thermocouple-K`. */
  readonly id: string;
  /** Its name for people: `type K thermocouple`. */
  readonly title: string;
  /** What its raw signal is measured in. */
  readonly unit: SignalUnit;
  /** Where temperature and signal belong together. */
  readonly range_C: readonly [number, number];
  /** Null where the signal depends on one temperature only. */
  readonly coldJunction: ColdJunction | null;
  /** Null where the facts name none. */
  readonly tolerance: Tolerance | null;
  /** Key in docs/sources.md of the relation between temperature and signal, or that there is none. */
  readonly source: string;
  /**
   * The temperature a signal stands for, °C, by the exact inverse of `signalAt`.
   * Printed tables round the signal, so a signal half a unit of their last digit beyond the range is still taken.
   *
   * @param signal in `unit`
   * @param coldJunction_C temperature of the other end, where there is one
   */
  temperature_C(signal: number, coldJunction_C?: number): Result<number, NoTemperature>;
  /**
   * The signal at a temperature, in `unit`.
   * @throws OutOfRangeError for a temperature outside `range_C`
   */
  signalAt(temp_C: number, coldJunction_C?: number): number;
}

/** Why a signal is no temperature. */
export type NoTemperature =
  | { readonly kind: 'out-of-range'; readonly signal: number; readonly allowed: readonly [number, number] }
  | { readonly kind: 'no-cold-junction' };

export interface Tolerance {
  /** `class 2`, or what the maker's sheet says. */
  readonly words: string;
  /** True where the facts name no class and the widest usual one stands in. */
  readonly isAssumed: boolean;
  /** Largest error either way, K. */
  halfWidth_K(temp_C: number): number;
}

export interface ColdJunction {
  /** How far the answer moves for one kelvin of the cold junction. */
  weight(temp_C: number, coldJunction_C: number): number;
}

/** A kind of sensor: makes the sensor of a probe from the facts its record states. */
export interface SensorType<Facts extends SensorFacts> {
  readonly kind: Facts['kind'];
  /** Its name for people, whatever its facts are. */
  readonly title: string;
  readonly unit: SignalUnit;
  make(facts: Facts): Result<Sensor, FalseFacts>;
}

/** Facts that contradict themselves: no sensor is like that. */
export interface FalseFacts {
  readonly kind: 'false-facts';
  readonly what: string;
  readonly remedy: string;
}
