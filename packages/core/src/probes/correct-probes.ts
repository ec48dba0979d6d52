import type { Build, Probe, ProbeCheck } from '../records/index.js';
import { type ReferenceTemperature, referenceTemperature } from './check-reference.js';
import type { Correction } from './correction.js';
import { type CheckReading, fitCorrection, noCorrection } from './fit-correction.js';
import { coldJunctionDoubt, uncheckedDoubt } from './unchecked-doubt.js';

/** One reading of a check, with its bath and what the correction leaves. */
export interface CheckPoint extends ReferenceTemperature {
  readonly probe: string;
  readonly check: string;
  readonly reading_C: number;
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

/** All readings of a check, with the temperature of their bath. @throws BadInputError as `referenceTemperature` */
export function readCheck(check: ProbeCheck): CheckPoint[] {
  return check.points.flatMap((point, index) => {
    const reference = referenceTemperature(point.reference, `probe check ${check.id}, point ${index + 1}`);
    return point.readings.map((reading) => ({
      probe: reading.probe,
      check: check.id,
      ...reference,
      reading_C: reading.reading_C,
    }));
  });
}

/**
 * One correction per probe, each from the latest check in which the probe was read.
 *
 * @throws BadInputError where a boiling point lacks its pressure
 */
export function correctProbes(build: Pick<Build, 'probes' | 'probeChecks'>): Correction[] {
  const checks = [...build.probeChecks].sort((a, b) => (a.at ?? '').localeCompare(b.at ?? ''));
  return build.probes.map((probe) => {
    const resolution = resolutionU_K(probe);
    const check = checks.findLast(({ points }) =>
      points.some(({ readings }) => readings.some((reading) => reading.probe === probe.id)),
    );
    if (check === undefined)
      return withColdJunction(noCorrection(probe.id, uncheckedDoubt(probe), resolution), probe);
    const points = check.points.flatMap((point, index): CheckReading[] => {
      const { reference_C, u_K } = referenceTemperature(
        point.reference,
        `probe check ${check.id}, point ${index + 1}`,
      );
      return point.readings
        .filter((reading) => reading.probe === probe.id)
        .map((reading) => ({
          reference_C,
          reference_u_K: u_K,
          reading_C: reading.reading_C,
          reading_u_K: Math.hypot(reading.u_K ?? repeatability_K, resolution),
          source: `${check.id}/${index + 1}`,
        }));
    });
    return withColdJunction(fitCorrection(probe.id, check.id, points, check.model, resolution), probe);
  });
}

/** A check takes out what stays the same at the cold junction; what drifts there is in doubt with or without one. */
function withColdJunction(correction: Correction, probe: Probe): Correction {
  const cold = coldJunctionDoubt(probe);
  if (cold === null || (cold.isLasting && correction.check !== null)) return correction;
  const { own } = correction;
  return { ...correction, own: { ...own, offset: own.offset + cold.u_K ** 2 } };
}
