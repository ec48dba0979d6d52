/** Life: what does the heat cost? For now a bracket: how much longer in one set-up than in another, never a year count. */

export type { LifeBracket } from './bracket.js';
export {
  ageingFactor,
  ageingHours,
  ageingModels,
  bracketLife,
  type DutyRises,
  type LifeRequest,
} from './bracket-life.js';
export { presentBracket } from './present-bracket.js';
