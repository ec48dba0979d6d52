/** Verdict: which set-up, why, and what would change it? The whole chain from records and logs to one sentence. */
export { addPredictions, type PredictedChoice, type PredictedVerdict } from './add-predictions.js';
export { assessBuild, seriesOfRun } from './assess-build.js';
export { setupThickness_mm } from './choose-setup.js';
export { type DutyOfLog, dutyOfLog } from './duty-of-log.js';
export { everyContest } from './every-contest.js';
export {
  askChange,
  askWhatIfs,
  type BuildForecast,
  type BuildOutlook,
  type ForecastOptions,
  forecastBuild,
  type NoBuildForecast,
  outlookBuild,
  picturedYear,
} from './forecast-build.js';
export { type BuildLife, gatherLife, type LifeEvidence, type NoBuildLife } from './gather-life.js';
export { heatInputs } from './heat-inputs.js';
export { presentPlan } from './present-plan.js';
export { presentSection } from './present-section.js';
export type { SectionReading } from './section-parts.js';
export { readingsAtDesignAmbient, readingsOfRun } from './section-readings.js';
export type * from './verdict.js';
