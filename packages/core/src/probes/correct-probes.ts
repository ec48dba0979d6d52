import type { Build, CheckReference, Probe, ProbeCheck } from '../records/index.js';
import { type ReferenceTemperature, referenceTemperature } from './check-reference.js';
import type { Correction } from './correction.js';
import { type DatedCorrection, type Drift, driftBetween } from './drift.js';
import { type CheckReading, fitCorrection, noCorrection } from './fit-correction.js';
import { type TakenReading, takeReadings } from './take-readings.js';
import { coldJunctionDoubt, uncheckedDoubt, uncheckedU_K, unknownGainU } from './unchecked-doubt.js';

type Checked = Pick<Build, 'probes' | 'probeChecks'>;

/** One reading of a check, with its bath and what the correction leaves. */
export interface CheckPoint extends ReferenceTemperature {
  readonly probe: string;
  readonly check: string;
  /** Which point of that check, counted from 1. */
  readonly bath: number;
  readonly reading_C: number;
  /** As it was noted, where that was in the signal of its sensor. */
  readonly signal: string | null;
}

/** Standard uncertainty from the smallest step of a reading. @source [JCGM-100] F.2.2.1, half a step either way */
export function resolutionU_K(probe: Probe): number {
  return (probe.resolution_K ?? 0) / Math.sqrt(12);
}

/**
 * Repeatability of a reading in a check where the record gives none.
 * @assumed 0.05 K, common practice, no source: a fine thermocouple or NTC held still in a stirred bath
 */
const repeatability_K = 0.05;

/**
 * Doubt from how a junction is held on a surface where the record gives none.
 * @assumed 0.2 K, common practice, no source: a thin junction under tape reads low by some 1 % of its rise of 20 to 40 K
 */
export const usualAttachment_K = 0.2;

/** Standard uncertainty from the way the probe is held, K: none for one that hangs in the air it measures. */
function attachmentU_K(probe: Probe): number {
  return probe.attachment_u_K ?? (probe.place === 'ambient' ? 0 : usualAttachment_K);
}

/** All readings of a check, with the temperature of their bath. @throws BadInputError as `referenceTemperature` and `takeReadings` */
export function readCheck(check: ProbeCheck, probes: readonly Probe[]): CheckPoint[] {
  return check.points.flatMap((point, index) => {
    const { bath, readings } = lookInto(point, probes, `probe check ${check.id}, point ${index + 1}`);
    return readings.map(({ probe, reading_C, signal }) => ({
      probe,
      check: check.id,
      bath: index + 1,
      ...bath,
      reading_C,
      signal,
    }));
  });
}

/** The readings of one point as temperatures, and the temperature of its bath. */
function lookInto(
  point: ProbeCheck['points'][number],
  probes: readonly Probe[],
  where: string,
): { readings: TakenReading[]; bath: ReferenceTemperature } {
  const readings = takeReadings(point, probes, where);
  return { readings, bath: bathOf(point.reference, readings, probes, where) };
}

/**
 * Temperature of the bath of one point. Probes that merely hung together are set to their own mean: that makes them agree
 * with each other, and says of the true temperature no more than the least certain of them does unchecked.
 */
function bathOf(
  reference: CheckReference,
  readings: readonly TakenReading[],
  probes: readonly Probe[],
  where: string,
): ReferenceTemperature {
  if (reference.kind !== 'together') return referenceTemperature(reference, where);
  const doubt = (id: string, reading_C: number) => {
    const probe = probes.find((one) => one.id === id);
    return probe === undefined ? 0 : uncheckedU_K(probe, reading_C);
  };
  return {
    reference_C: readings.reduce((sum, { reading_C }) => sum + reading_C, 0) / readings.length,
    u_K: Math.max(...readings.map(({ probe, reading_C }) => doubt(probe, reading_C))),
    why: 'probes side by side, set to their mean',
  };
}

/** A correction of each probe from each check it was read in, oldest first. */
export type CheckFits = ReadonlyMap<string, readonly DatedCorrection[]>;

/** Fits every check once. @throws BadInputError where a boiling point lacks its pressure */
export function fitChecks(build: Checked): CheckFits {
  return new Map(build.probes.map((probe) => [probe.id, correctionsOf(build, probe)]));
}

/**
 * One correction per probe, each from the latest check in which the probe was read, with its drift since the check before.
 *
 * @param fits of the same build, where they are at hand
 * @throws BadInputError where a boiling point lacks its pressure
 */
export function correctProbes(build: Checked, fits: CheckFits = fitChecks(build)): Correction[] {
  return build.probes.map((probe) => {
    const [latest, before] = [...(fits.get(probe.id) ?? [])].reverse();
    const attachment_u_K = attachmentU_K(probe);
    const coldJunction = coldJunctionDoubt(probe);
    if (latest === undefined) {
      const none = noCorrection(probe.id, uncheckedDoubt(probe), resolutionU_K(probe));
      return { ...none, unknownGain_u: unknownGainU(probe), attachment_u_K, coldJunction };
    }
    const { correction } = latest;
    const drift_u_K = before === undefined ? 0 : driftBetween(before, latest, middleOf(correction)).u_K;
    // A check takes out what stays the same at the cold junction; what passes there is in doubt with or without one.
    return {
      ...correction,
      unknownGain_u: correction.model === 'offset-gain' ? 0 : unknownGainU(probe),
      attachment_u_K,
      drift_u_K,
      coldJunction: coldJunction?.isLasting ? null : coldJunction,
    };
  });
}

/** How each probe moved from check to check, oldest first, at a temperature where it matters. */
export function findDrifts(fits: CheckFits, at_C: number): Drift[] {
  return [...fits.values()].flatMap((dated) => {
    return dated.slice(1).map((later, index) => driftBetween(dated[index] as DatedCorrection, later, at_C));
  });
}

/**
 * A correction of one probe from each check it was read in, oldest first; checks without a date come first, as they stand.
 * Hanging side by side tells a probe less than any known bath does, so such checks count only for a probe that has no other.
 */
function correctionsOf(build: Checked, probe: Probe): DatedCorrection[] {
  const resolution = resolutionU_K(probe);
  const hasRead = ({ readings }: ProbeCheck['points'][number]) =>
    readings.some((reading) => reading.probe === probe.id);
  const isAbsolute = ({ points }: ProbeCheck) =>
    points.some((point) => point.reference.kind !== 'together' && hasRead(point));
  const absolute = build.probeChecks.filter(isAbsolute);
  return [...(absolute.length > 0 ? absolute : build.probeChecks)]
    .sort((a, b) => timeOf(a) - timeOf(b))
    .flatMap((check) => {
      const points = check.points.flatMap((point, index): CheckReading[] => {
        if (!hasRead(point)) return [];
        const { bath, readings } = lookInto(
          point,
          build.probes,
          `probe check ${check.id}, point ${index + 1}`,
        );
        const mine = readings.filter((reading) => reading.probe === probe.id);
        return mine.map((reading) => ({
          reference_C: bath.reference_C,
          reference_u_K: bath.u_K,
          reading_C: reading.reading_C,
          terminals_u_K: reading.terminals_u_K,
          reading_u_K: Math.hypot(reading.u_K ?? repeatability_K, resolution),
          source: `${check.id}/${index + 1}`,
        }));
      });
      if (points.length === 0) return [];
      return [
        { at: check.at, correction: fitCorrection(probe.id, check.id, points, check.model, resolution) },
      ];
    });
}

function timeOf({ at }: ProbeCheck): number {
  return at === undefined ? 0 : Date.parse(at);
}

function middleOf({ checked_C }: Correction): number {
  return checked_C === null ? 0 : (checked_C[0] + checked_C[1]) / 2;
}
