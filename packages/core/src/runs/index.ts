/** Runs: what did the bench measure? Log in, phases and plateaus out. Judging them is the work of `compare`. */

export { averageBlocks, firstAt } from './block-means.js';
export { isRawUnit, unitNames } from './channel-unit.js';
export { convertSignals } from './convert-signals.js'; // raw signals -> temperatures
export { crossCheckRuns } from './cross-check.js'; // all runs -> flags that need the others
export { describeDoubt, linesText } from './describe-doubts.js'; // readings that are none, in words
export { describeRecipe } from './describe-recipe.js'; // recipe -> sentences
export { findPhases } from './find-phases.js'; // series -> idle, load, cool
export { findPlateau } from './find-plateau.js'; // phase -> settled rise, or why not
export { describeRefusal } from './flag-run.js'; // why not, in words
export { applyOption, type ImportOption, type ImportQuestion } from './import-question.js'; // what the bytes cannot tell
export type { LogChannel, LogReading } from './log-reading.js';
export { measureRun } from './measure-run.js'; // all of it, with flags
export { presentRunChart } from './present-run-chart.js'; // a run -> its chart
export { presentStopRules } from './present-stop-rules.js'; // plateau -> what the usual stop rules would have missed
export { type LogBytes, type LogPieces, type LogProgress, readLog, readLogInPieces } from './read-log.js'; // bytes and recipe -> raw readings
export { readSeries } from './read-series.js'; // raw readings -> calibrated series
export { beginningOf, type ReusedRecipe, reuseRecipe } from './reuse-recipe.js'; // an earlier log of the same shape -> its recipe
export type * from './run-result.js';
export { type SniffedLog, sniffLog } from './sniff-log.js'; // bytes -> recipe, to be looked at
export type { GivenLong, GivenText } from './sniff-table.js';
export { tellSight } from './tell-sight.js'; // a run -> the least fault that would have been seen in it
export { leftOut } from './unread-tally.js';
export { warmestCell } from './warmest-cell.js'; // the plateau a run is told by
