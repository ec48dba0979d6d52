/** Probes: can the readings be trusted? Check points in, a correction with its doubt out. */

export { correctedU_K, correctionU_K, correctReading_C, differenceU_K, gainU } from './apply-correction.js'; // correction -> temperature, doubt
export { boilingPoint_C, standardPressure_hPa, stationFromSeaLevel_hPa } from './boiling-point.js'; // the upper fixed point
export { type BudgetLine, type BudgetTotal, budgetProbe, type ProbeBudget, sumBudget } from './budget.js'; // where the doubt comes from
export { type KnownReference, type ReferenceTemperature, referenceTemperature } from './check-reference.js'; // record of a bath -> its temperature
export {
  type CheckPoint,
  correctProbes,
  findDrifts,
  fitChecks,
  readCheck,
  resolutionU_K,
  usualAttachment_K,
} from './correct-probes.js'; // build -> corrections
export type { Correction } from './correction.js';
export { describeSensor, type SensorReport } from './describe-sensor.js'; // what a probe is made of -> words
export type { Drift } from './drift.js'; // two checks of one probe -> how it moved
export { type CheckReading, fitCorrection, noCorrection } from './fit-correction.js'; // readings -> correction
export { type BathReadings, gatherReadings, type ReadingLeft, writeReadings } from './gather-readings.js'; // readings of one probe in one bath -> mean, scatter
export { type BudgetRow, type BudgetView, presentBudget } from './present-budget.js'; // budget -> words
export type { Sensor } from './sensors/sensor.js';
export { makeSensor, sensorTypes } from './sensors/sensor-types.js'; // what a probe is made of -> temperature from its signal
export { coldJunctionDoubt, unchecked_u_K } from './unchecked-doubt.js'; // no check -> what stands for one
