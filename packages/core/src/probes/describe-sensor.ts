import { formatCelsius, formatNumber } from '../measure/index.js';
import type { Probe } from '../records/index.js';
import type { Correction } from './correction.js';
import { makeSensor } from './sensors/sensor-types.js';
import { coldJunctionDoubt, uncheckedDoubt } from './unchecked-doubt.js';

/** What a probe is made of, and what its uncertainty stands on. */
export interface SensorReport {
  readonly probe: string;
  /** "Type K thermocouple, class 2, cold junction logged"; null where the record does not say. */
  readonly sensor: string | null;
  /** Unit of its raw signal. */
  readonly signal: 'mV' | 'ohm' | null;
  readonly basis: 'check' | 'maker' | 'tolerance' | 'assumed';
  /** The basis in words, with its figures. */
  readonly basisWords: string;
  /** Largest error its class allows at the temperature where probes matter, either way, and as a standard uncertainty, K. */
  readonly tolerance_K: number | null;
  readonly tolerance_u_K: number | null;
  /** What the stated cold junction adds to the uncertainty of a reading, K. */
  readonly coldJunction_u_K: number | null;
  /** What is wrong with the stated facts, and what would put it right. */
  readonly fault: string | null;
  /** Key in docs/sources.md of the relation between signal and temperature. */
  readonly source: string | null;
}

/**
 * @param correction of this probe
 * @param at_C where probes matter
 */
export function describeSensor(probe: Probe, correction: Correction, at_C: number): SensorReport {
  const made = probe.sensor && makeSensor(probe.sensor);
  const sensor = made?.ok ? made.value : null;
  const tolerance_K = sensor?.tolerance?.halfWidth_K(at_C) ?? null;
  const cold = coldJunctionDoubt(probe);
  const basis = correction.check === null ? uncheckedDoubt(probe).basis : 'check';
  return {
    probe: probe.id,
    sensor: sensor && describeFacts(probe),
    signal: sensor?.unit ?? null,
    basis,
    basisWords: [describeBasis(probe, correction, basis, at_C), describeColdJunction(probe, basis)]
      .filter((words) => words !== '')
      .join('; '),
    tolerance_K,
    tolerance_u_K: tolerance_K === null ? null : tolerance_K / Math.sqrt(3),
    coldJunction_u_K: cold?.u_K ?? null,
    fault: made === undefined || made.ok ? null : `${made.reason.what} ${made.reason.remedy}`,
    source: sensor?.source ?? null,
  };
}

function describeFacts({ sensor: facts }: Probe): string | null {
  const made = facts && makeSensor(facts);
  if (facts === undefined || !made?.ok) return null;
  const { title, tolerance } = made.value;
  const parts = [title.slice(0, 1).toUpperCase() + title.slice(1)];
  if (tolerance !== null) parts.push(`${tolerance.words}${tolerance.isAssumed ? ' (not stated)' : ''}`);
  if (facts.kind === 'platinum' && facts.lead_ohm) parts.push(`${facts.lead_ohm} Ω of leads taken off`);
  if (facts.kind === 'thermocouple') {
    const cold = facts.coldJunction;
    if (cold === undefined) parts.push('cold junction left to the logger');
    else if (cold.kind === 'logged') parts.push('cold junction logged');
    else parts.push(`cold junction taken to be at ${formatCelsius(cold.fixed_C)}`);
  }
  return parts.join(', ');
}

function describeBasis(
  probe: Probe,
  correction: Correction,
  basis: SensorReport['basis'],
  at_C: number,
): string {
  if (basis === 'check') return `the check “${correction.check}”`;
  const { own } = uncheckedDoubt(probe);
  const u = `u ${formatNumber(Math.sqrt(own.offset + 2 * own.cross * at_C + own.gain * at_C ** 2), 2)} K`;
  if (basis === 'maker') return `its maker’s figure, ${u}`;
  const made = probe.sensor && makeSensor(probe.sensor);
  const tolerance = made?.ok ? made.value.tolerance : null;
  if (basis === 'tolerance' && tolerance !== null) {
    return `not checked: ${tolerance.words} allows ± ${formatNumber(tolerance.halfWidth_K(at_C), 2)} K at ${formatNumber(at_C, 0)} °C, all equally likely, ${u}`;
  }
  return `neither check, maker’s figure nor class: ± 1.5 K assumed, ${u}`;
}

function describeColdJunction(probe: Probe, basis: SensorReport['basis']): string {
  const cold = coldJunctionDoubt(probe);
  // A check was made with the same terminals, and takes out what stays the same.
  if (cold === null || (basis === 'check' && cold.isLasting)) return '';
  const drift = cold.isLasting ? '' : ', which does not cancel between runs';
  return `cold junction u ${formatNumber(cold.u_K, 2)} K${cold.isAssumed ? ' (assumed)' : ''}${drift}`;
}
