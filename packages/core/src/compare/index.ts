/** Compare: is the better one really better? Runs in, differences with their doubt and margins to every limit out. */
export { collectObservations, listQuantities } from './collect-observations.js'; // runs -> one observation each
export { assumedRunToRun_K, compareSetups } from './compare-setups.js'; // observations -> means, differences, findings
export type * from './contest.js';
export { drawRunPlan, type PlanRequest } from './draw-run-plan.js'; // runs wanted -> blocks in an order drawn by lot
export type { Observation } from './fit-setups.js';
export { type FollowedRun, followRunPlan } from './follow-run-plan.js'; // plan and runs -> what is done, what is next
export { judgeMargins } from './judge-margins.js'; // means and limits -> which limits hold, by how much
export type * from './margin.js';
export { planRepeats, type RepeatPlan } from './plan-repeats.js'; // an open difference -> runs that would settle it
export { type ContestView, presentContest } from './present-contest.js'; // findings -> what a drawing shows
export { presentMargins } from './present-margins.js'; // margins -> what a drawing shows
export { usualRun_s } from './usual-run.js'; // runs -> how long one takes here
