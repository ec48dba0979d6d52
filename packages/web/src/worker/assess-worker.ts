/** The computing half of the page. It holds the logs and the memo of what was computed, so an edit costs only its own part. */
import type { Build } from '@soakbench/core/records';
import type { RunSeries } from '@soakbench/core/runs';
import { type Assessment, assessBuild, seriesOfRun } from '@soakbench/core/verdict';
import { expose, transfer } from 'comlink';

/** Raw logs by the SHA-256 of their bytes: the same file name may mean different bytes in another build. */
const held = new Map<string, Uint8Array>();
const cache = new Map<string, unknown>();

function hold(logs: ReadonlyMap<string, Uint8Array>): void {
  for (const [sha256, bytes] of logs) held.set(sha256, bytes);
}

function logOf(build: Build, file: string): Uint8Array | undefined {
  const run = build.runs.find((candidate) => candidate.log.file === file);
  return run && held.get(run.log.sha256);
}

const bench = {
  /** Everything that follows from the build. `logs` are those the worker does not hold yet, by SHA-256. */
  assess(build: Build, logs: ReadonlyMap<string, Uint8Array>): Assessment {
    hold(logs);
    return assessBuild(build, (file) => logOf(build, file), cache);
  },
  /** One run's readings, as logged and as corrected. */
  series(build: Build, runId: string, logs: ReadonlyMap<string, Uint8Array>): RunSeries {
    hold(logs);
    const file = build.runs.find((run) => run.id === runId)?.log.file;
    const bytes = file === undefined ? undefined : logOf(build, file);
    if (bytes === undefined) throw new Error(`The log of run "${runId}" is not here.`);
    const series = seriesOfRun(build, runId, bytes);
    // Handed over, not copied: nothing here keeps them, and a long run has a hundred megabytes of readings.
    const kept = [
      series.after_s,
      ...series.channels.flatMap(({ reading_C, level_C }) => [reading_C, level_C]),
    ];
    return transfer(series, [...new Set(kept.map(({ buffer }) => buffer as ArrayBuffer))]);
  },
};

export type BenchWorker = typeof bench;

expose(bench);
