/** What the log itself is short of: rows and cells left out, readings that are none, stamps out of order, coarse steps. */
import { formatCount, formatNumber } from '../measure/index.js';
import { doubtReason, linesText } from './describe-doubts.js';
import { findResolution } from './find-resolution.js';
import type { ImportReport, ReadingDoubt, RunFlag, RunSeries } from './run-result.js';

interface SeenLog {
  readonly series: RunSeries;
  readonly report: ImportReport;
  /** The name of a probe by its id. */
  readonly nameOf: (probe: string) => string;
}

export function flagLog(seen: SeenLog): RunFlag[] {
  return [
    ...seen.report.doubts.map((doubt) => flagDoubt(seen, doubt)),
    ...flagRestarts(seen.report),
    ...flagLate(seen.report),
    ...flagCoarse(seen),
    ...flagUnread(seen.report),
  ];
}

function flagDoubt({ nameOf }: SeenLog, doubt: ReadingDoubt): RunFlag {
  const name = doubt.probe === null ? `column ${doubt.column + 1}` : nameOf(doubt.probe);
  const titles = {
    'power-on': 'power-on value',
    'fault-code': 'fault code',
    'lost-decimal': 'lost decimal point',
  };
  return {
    kind: doubt.kind,
    level: doubt.leftOut ? 'holds' : 'look',
    title: `${titles[doubt.kind]}, ${name}`,
    detail: `${formatCount(doubt.count, 'reading')} in ${linesText(doubt.lines, doubt.count)}: ${doubtReason(doubt)}`,
    effect: doubt.leftOut ? 'left out and counted' : 'kept as read; the recipe can leave such readings out',
  };
}

function flagRestarts({ restarts }: ImportReport): RunFlag[] {
  if (restarts.length === 0) return [];
  return [
    {
      kind: 'restart',
      level: 'look',
      title: 'the logger started again',
      detail: `the elapsed time begins again in ${linesText(restarts, restarts.length)}; the parts are joined as if one row apart`,
      effect: 'for how long it was off is not known; time constants across the joint are too short',
    },
  ];
}

function flagLate({ late }: ImportReport): RunFlag[] {
  if (late.length === 0) return [];
  return [
    {
      kind: 'out-of-order',
      level: 'holds',
      title: 'rows out of order',
      detail: `${formatCount(late.length, 'row')} stood later in the file than the stamp says, in ${linesText(late, late.length)}`,
      effect: 'sorted in by the stamp',
    },
  ];
}

/** A coarser step than this shows beside the doubt of a good plateau. @assumed a twentieth of a kelvin, against gains of one */
const least_u_K = 0.05;

function flagCoarse({ series, nameOf }: SeenLog): RunFlag[] {
  return series.channels.flatMap(({ probe, reading_C }): RunFlag[] => {
    const found = findResolution(reading_C);
    if (found === null || found.u_K < least_u_K) return [];
    return [
      {
        kind: 'coarse-steps',
        level: 'look',
        title: `coarse steps, ${nameOf(probe)}`,
        detail: `the readings move in steps of ${formatNumber(found.step_K, 2)} K`,
        effect: `u ${formatNumber(found.u_K, 2)} K of a reading that stands on one step; not part of the plateau’s own u`,
      },
    ];
  });
}

function flagUnread({ unread }: ImportReport): RunFlag[] {
  const count = unread.reduce((sum, entry) => sum + entry.count, 0);
  if (count === 0) return [];
  return [
    {
      kind: 'unread-rows',
      level: 'holds',
      title: 'unread rows or cells',
      detail: unread
        .map((entry) => `${entry.count} × ${entry.reason}, first in line ${entry.firstLine}`)
        .join('; '),
      effect: 'left out and counted',
    },
  ];
}
