import { type Correction, correctReading_C } from '../probes/index.js';
import type { Build, Run } from '../records/index.js';
import { convertSignals } from './convert-signals.js';
import { type LogBytes, readLog } from './read-log.js';
import type { ImportReport, RunSeries, SeriesChannel } from './run-result.js';

/**
 * Reads a run's log by its recipe, makes temperatures of raw signals and corrects every probe: raw log in, calibrated series out.
 *
 * @param run with the recipe its log is to be read by
 * @param bytes the log as it came from the logger
 * @throws BadInputError as `readLog` and `convertSignals`
 */
export function readSeries(
  build: Pick<Build, 'probes'>,
  run: Pick<Run, 'recipe' | 'log'>,
  corrections: readonly Correction[],
  bytes: LogBytes,
): { series: RunSeries; report: ImportReport } {
  const log = convertSignals(readLog(bytes, run.recipe, run.log.file), build.probes, run.log.file);
  const channels = log.channels.flatMap(({ probe, reading_C }): SeriesChannel[] => {
    if (probe === undefined) return [];
    const correction = corrections.find((candidate) => candidate.probe === probe);
    const level_C =
      correction === undefined ? reading_C : reading_C.map((value) => correctReading_C(correction, value));
    return [{ probe, reading_C, level_C }];
  });
  return { series: { after_s: log.after_s, startedAt: log.startedAt, channels }, report: log.report };
}
