import { OutOfRangeError, refused } from '../../measure/index.js';
import type { NoTemperature } from './sensor.js';

/** @throws OutOfRangeError for a temperature outside the range, and for none at all */
export function checkTemperature(temp_C: number, range_C: readonly [number, number]): void {
  // So written, NaN fails too.
  if (!(temp_C >= range_C[0] && temp_C <= range_C[1])) throw new OutOfRangeError('temp_C', temp_C, range_C);
}

/** Whether a signal lies outside its limits; NaN does. */
export function isOutside(signal: number, allowed: readonly [number, number]): boolean {
  return !(signal >= allowed[0] && signal <= allowed[1]);
}

export function refuseSignal(signal: number, allowed: readonly [number, number]) {
  return refused<NoTemperature>({ kind: 'out-of-range', signal, allowed });
}
