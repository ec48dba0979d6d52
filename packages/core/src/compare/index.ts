/** Compare: is the better one really better? Runs in, differences with their doubt and margins to every limit out. */
export { calibrationU_K, collectObservations, listQuantities } from './collect-observations.js'; // runs -> one observation each
export { comparePerWatt, type PerWatt } from './compare-per-watt.js'; // the same with every rise at one power
export { assumedRunToRun_K, compareSetups, defaultNoWorse_K } from './compare-setups.js'; // observations -> means, differences, findings
export { compareUnequal, type UnequalDifference } from './compare-unequal.js'; // the same without one spread for all
export type * from './contest.js';
export { type FollowedRun, followRunPlan, plannedStateWords } from './follow-run-plan.js'; // plan and runs -> what is done, what is next
export { expectReading, judgeMargins, judgePredicted, levelOf, type ModelledRise } from './judge-margins.js'; // means and limits -> which limits hold, by how much
export { dropRunPlan, largestSeed, setRunPlan } from './keep-run-plan.js'; // runs wanted -> blocks in an order drawn by lot
export type * from './margin.js';
export type { Observation } from './observation.js';
export {
  planPower,
  planRepeats, // an open difference -> runs that would settle it
  planResolution, // a stated difference -> runs of each set-up
  type RepeatPlan,
  type Resolution,
} from './plan-repeats.js';
export { type ContestView, presentContest } from './present-contest.js'; // findings -> what a drawing shows
export { presentMargins } from './present-margins.js'; // margins -> what a drawing shows
export { type Rank, rankSetups } from './rank-setups.js'; // means -> how likely each is the coolest
export {
  chanceOfCoolestWords,
  noWorseWords,
  perWattWords,
  resolutionWords,
  sessionWords,
} from './tell-contest.js'; // findings -> words
export { usualRun_s } from './usual-run.js'; // runs -> how long one takes here
