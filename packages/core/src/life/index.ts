/** Life: what does the heat cost? A bracket of ratios between set-ups, and what published ageing models say about a year of use. */

export type { LifeBracket } from './bracket.js';
export {
  ageingFactor,
  ageingHours,
  ageingModels,
  bracketLife,
  type DutyRises,
  type LifeRequest,
} from './bracket-life.js';
export { presentBandChart, presentYearChart } from './draw-life.js';
export { changeDuty, type DutyChange } from './duty/change-duty.js';
export { type DayAsYear, dutyYearFromDay } from './duty/duty-from-day.js';
export { dutyFromLog, type MeasuredDuty, type NoDuty, type UseLog } from './duty/duty-from-log.js';
export { type DutyPreset, dutyPresets } from './duty/duty-presets.js';
export { type CellYear, followYear, risesInOrder } from './duty/follow-year.js';
export { layOutYear, type Stretch, type YearOfUse } from './duty/lay-out-year.js';
export { type ReadUseLog, readUseLog } from './duty/read-use-log.js';
export type { RangeFlag } from './forecast/find-range-flags.js';
export type {
  LifeInput,
  NoForecast,
  NoRise,
  PackFacts,
  SetupRises,
} from './forecast/forecast-input.js';
export {
  forecastLife,
  type LifeForecast,
  type LifeOutlook,
  outlookLife,
} from './forecast/forecast-life.js';
export type { ResistanceGain } from './forecast/gain-resistance.js';
export type { Spread } from './forecast/quantiles.js';
export type { SetupForecast } from './forecast/summarise-setup.js';
export { type FadeContrast, tellFadeApart } from './forecast/tell-fade-apart.js';
export type { TenKelvin } from './forecast/weigh-ten-kelvin.js';
export {
  compareWhatIfs,
  type WhatIf,
  type WhatIfPacks,
  type WhatIfs,
  weighChange,
} from './forecast/what-ifs.js';
export type {
  AgeingMechanism,
  AgeingModel,
  Chemistry,
  CycleState,
  RestState,
} from './models/ageing-model.js';
export { chemistryOf, type UnknownChemistry } from './models/chemistry-of.js';
export { type FamilyMember, modelFamily, publishedModels } from './models/model-family.js';
export {
  chargeAtVoltage,
  type LimitRefusal,
  type OpenCircuit,
  openCircuitOf,
} from './open-circuit/open-circuit.js';
export { presentBracket } from './present-bracket.js';
export { type LifeRow, type LifeView, lifeCautions, type ModelView, presentLife } from './present-life.js';
export {
  type CapacityBand,
  presentCapacityBands,
  presentLifeRatios,
  presentLifeYears,
} from './present-life-plots.js';
export { type OutlookView, presentOutlook } from './present-outlook.js';
export { presentWhatIfs, type WhatIfRow, type WhatIfTable } from './present-what-ifs.js';
export { presentYear, type YearView } from './present-year.js';
