/** What each search for a fault could have seen in one run: the least that would have been flagged, so that silence is not taken for proof. */
import { formatDuration, formatKelvin, formatNumber } from '../measure/index.js';
import { runToRun_K, unlikeBy } from './cross-check.js';
import { still_s } from './find-frozen.js';
import { leastGap_s, restless_K, throttling } from './flag-run.js';
import type { RunResult } from './run-result.js';

/**
 * Sentences on the weakest fault that each search would have found in this run.
 *
 * @param results all runs, of which those of the same set-up show what one run alone cannot
 * @returns nothing for a run without a load phase
 */
export function tellSight(run: RunResult, results: readonly RunResult[]): string[] {
  const load = run.phases.find(({ kind }) => kind === 'load');
  if (load === undefined) return [];
  const risen_K = run.plateaus.flatMap(({ phase, result }) =>
    phase === 'load' && result.ok ? [result.value.rise_K.value] : [],
  );
  const hottest_K = Math.max(0, ...risen_K);
  const peers = results.filter(
    (other) =>
      other.run !== run.run && other.counted && other.setup === run.setup && other.charging === run.charging,
  ).length;
  return [
    `Throttling: a fall of ${formatKelvin(Math.max(throttling.least_K, throttling.share * hottest_K))} under load.`,
    run.span_s - load.to_s >= still_s
      ? 'A probe that stuck: at any moment of the load, for the log goes on behind it.'
      : 'A probe that stuck: before the load came on, or in a climb of several steps of its display. The log ends with the load, so one that stuck later reads like one that has settled.',
    `Missing readings: ${formatDuration(leastGap_s(run.report.interval_s))} without one. Room: a move of ${formatKelvin(restless_K)} under load, where it was logged.`,
    loadWords(peers, hottest_K),
    peers === 0
      ? 'Exchanged probes: not at all without another run of this set-up.'
      : 'Exchanged probes: places 2 K apart nearly always, 1 K apart half of the time.',
  ];
}

function loadWords(peers: number, hottest_K: number): string {
  if (peers < 2)
    return `Another load than noted: not at all; it takes two other runs of this set-up, and there is ${peers === 0 ? 'none' : 'one'}.`;
  if (hottest_K <= 0)
    return 'Another load than noted: not at all; it takes a plateau, and this run has none.';
  const share = (unlikeBy * runToRun_K * Math.sqrt(1 + 1 / peers)) / hottest_K;
  return `Another load than noted: ${formatNumber(100 * share, 0)} % more or less heat.`;
}
