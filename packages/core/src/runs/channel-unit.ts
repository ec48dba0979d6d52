/** What a column of a log may be written in, in words, and which of it is a raw signal. */
import { millivoltsFromMicrovolts, ohmsFromKilohms } from '../measure/index.js';
import type { ChannelUnit } from '../records/index.js';

export const unitNames: Readonly<Record<ChannelUnit, string>> = {
  C: '°C',
  F: '°F',
  K: 'K',
  mV: 'mV',
  uV: 'µV',
  ohm: 'Ω',
  kohm: 'kΩ',
};

export type RawUnit = Exclude<ChannelUnit, 'C' | 'F' | 'K'>;

/** Which signal a raw unit measures, and how it is brought to the unit sensors are told in. */
export const rawUnits: Readonly<
  Record<RawUnit, { readonly signal: 'mV' | 'ohm'; convert(value: number): number }>
> = {
  mV: { signal: 'mV', convert: (signal_mV) => signal_mV },
  uV: { signal: 'mV', convert: millivoltsFromMicrovolts },
  ohm: { signal: 'ohm', convert: (resistance_ohm) => resistance_ohm },
  kohm: { signal: 'ohm', convert: ohmsFromKilohms },
};

export function isRawUnit(unit: ChannelUnit): unit is RawUnit {
  return unit in rawUnits;
}
