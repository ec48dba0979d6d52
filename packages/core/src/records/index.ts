/** Records: the nouns we keep, one schema for folder, store, API and forms. Everything else is computed from them. */
export {
  type Build,
  buildFormat,
  buildSchema,
  buildVersion,
  type CheckReference,
  checkReadingFields,
  type DesignAmbient,
  type Device,
  type Duty,
  type Layer,
  type Limit,
  type LimitState,
  type Outline,
  type Pack,
  type PhaseKind,
  type Probe,
  type ProbeCheck,
  probePlaces,
  type Recipe,
  type Run,
  type RunPlan,
  type Setup,
  type Zone,
} from './build-record.js';
export { type DutyYear, dutyFaults, restingStates } from './duty-year.js';
export { buildJsonSchema } from './json-schema.js';
export { defaultLimits, idFrom, newBuild } from './new-build.js';
export { checkBuild, readBuild, writeBuild } from './read-build.js';
export type { ChannelUnit, SensorFacts } from './sensor-record.js';
