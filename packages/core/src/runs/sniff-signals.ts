/** Columns of raw signals: told by the unit in their header, and taken where something says that they stand for temperatures. */
import { makeSensor } from '../probes/index.js';
import type { Probe } from '../records/index.js';
import { type RawUnit, rawUnits, unitNames } from './channel-unit.js';
import { namesProbe } from './match-probes.js';

/** A column whose header names a unit of voltage or resistance. */
export interface SignalColumn {
  readonly column: number;
  readonly name: string;
  /** What a person calls it. */
  readonly place: string;
  readonly unit: RawUnit;
}

/** The raw unit a header names: `tip (mV)`, `NTC1 kOhm`, `R [Ω]`. */
export function rawUnitOfHeader(header: string): RawUnit | undefined {
  const [, unit = ''] = /(?:^|[[(_/,\s])(mV|[uµμ]V|k?(?:ohms?|[ΩΩ]))[\])]?\s*$/iu.exec(header) ?? [];
  if (unit === 'mV') return 'mV';
  if (/^[uµμ]V$/.test(unit)) return 'uV';
  if (/^k/i.test(unit)) return 'kohm';
  return /^(ohms?|[ΩΩ])$/i.test(unit) ? 'ohm' : undefined;
}

/** Voltages and resistances of something else. */
const otherSignals = /\b(volt(age)?|batt?(ery)?|supply|shunt|current|power|internal|cell voltage)\b/i;

/**
 * Which of the columns with a raw unit stand for temperatures: those named after a probe, all those of a signal that some probe's
 * sensor gives, and all of them in a log that has no column of temperatures besides the cold junction.
 */
export function chooseSignals(
  columns: readonly SignalColumn[],
  temperatures: readonly { readonly name: string }[],
  probes: readonly Probe[],
): { taken: SignalColumn[]; conclusions: string[] } {
  const signals = new Set(
    probes.flatMap(({ sensor }) => {
      const made = sensor && makeSensor(sensor);
      return made?.ok ? [made.value.unit] : [];
    }),
  );
  const isAlone = temperatures.every(({ name }) => isColdJunction(name));
  const isTaken = ({ name, unit }: SignalColumn) =>
    namesProbe(name, probes) || (!otherSignals.test(name) && (isAlone || signals.has(rawUnits[unit].signal)));
  return {
    taken: columns.filter(isTaken),
    conclusions: columns
      .filter((column) => !isTaken(column))
      .map(({ place, unit }) => `${place} is in ${unitNames[unit]}, not a temperature, and is left out.`),
  };
}

/** Whether a header names the place where thermocouples end. */
export function isColdJunction(header: string): boolean {
  return /(?:^|[^a-z])(?:cjc?|cold[\s_-]?junction|reference[\s_-]?junction|terminals?)(?![a-z])/i.test(
    header,
  );
}
