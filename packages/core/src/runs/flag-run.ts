/** What a reader must know about a run before believing it: each fault with what it does to the result. */
import { formatCount, formatDuration, formatElapsed, formatKelvin, formatNumber } from '../measure/index.js';
import type { Probe, Run } from '../records/index.js';
import { averageBlocks } from './block-means.js';
import { findFrozen } from './find-frozen.js';
import { flagLog } from './flag-log.js';
import {
  type ImportReport,
  type Phase,
  type Plateau,
  type RunFlag,
  type RunResult,
  type RunSeries,
  sortFlags,
} from './run-result.js';

interface Seen {
  readonly run: Run;
  readonly probes: readonly Probe[];
  readonly series: RunSeries;
  readonly report: ImportReport;
  readonly phases: readonly Phase[];
  readonly loop_s: number | null;
  readonly plateaus: RunResult['plateaus'];
  readonly withoutStep: boolean;
}

/** All flags of a run, gravest first. */
export function flagRun(seen: Seen): RunFlag[] {
  const flags = [
    ...flagMissingPhases(seen),
    ...flagThrottling(seen),
    ...flagLength(seen),
    ...flagIdle(seen),
    ...flagAmbient(seen),
    ...flagDropouts(seen),
    ...flagFrozen(seen),
    ...flagLog({ ...seen, nameOf: (probe) => nameOf(seen, probe) }),
    ...flagLoop(seen),
  ];
  return sortFlags(flags);
}

function phaseOf(seen: Seen, kind: Phase['kind']): Phase | undefined {
  return seen.phases.find((phase) => phase.kind === kind);
}

function plateauOf(seen: Seen, probe: string, phase: 'idle' | 'load'): Plateau | null {
  const entry = seen.plateaus.find((plateau) => plateau.probe === probe && plateau.phase === phase);
  return entry?.result.ok ? entry.result.value : null;
}

function nameOf(seen: Seen, probe: string): string {
  return seen.probes.find(({ id }) => id === probe)?.name ?? probe;
}

function flagMissingPhases(seen: Seen): RunFlag[] {
  if (phaseOf(seen, 'load') === undefined) {
    return [
      {
        kind: 'no-load-phase',
        level: 'stop',
        title: 'no load phase',
        detail: 'the log shows no step up in any probe',
        effect: 'not counted; mark the phases by hand',
      },
    ];
  }
  if (!seen.withoutStep) return [];
  return [
    {
      kind: 'no-load-phase',
      level: 'look',
      title: 'no idle phase',
      detail: 'the log shows no step from idle to load; all of it is taken as load',
      effect: 'check the phase limits',
    },
  ];
}

/** Below this a fall under load may be noise or the room. @assumed one kelvin, or 6 % of the rise: the effect at stake is 1 K */
export const throttling = { least_K: 1, share: 0.06 };

function flagThrottling(seen: Seen): RunFlag[] {
  const load = phaseOf(seen, 'load');
  if (load === undefined) return [];
  const hottest = hottestChannel(seen, load);
  if (hottest === null) return [];
  // Means over whole loops, or over a sixtieth of the phase, so that neither loop nor noise looks like a fall.
  const width_s = seen.loop_s ?? (load.to_s - load.from_s) / 60;
  const count = Math.max(4, Math.floor((load.to_s - load.from_s) / width_s));
  const to_s = load.from_s + count * width_s;
  const { after_s, level } = averageBlocks(
    seen.series.after_s,
    hottest.level_C,
    load.from_s,
    Math.min(to_s, load.to_s),
    count,
  );
  const peak = level.reduce((best, value, i) => (value > (level[best] as number) ? i : best), 0);
  const tail = level.slice(Math.max(peak + 1, level.length - Math.ceil(level.length / 8)));
  if (tail.length === 0) return [];
  const end_C = tail.reduce((sum, value) => sum + value, 0) / tail.length;
  const fall_K = (level[peak] as number) - end_C;
  const step_K = (level[peak] as number) - (level[0] as number);
  if (fall_K < Math.max(throttling.least_K, throttling.share * step_K)) return [];
  return [
    {
      kind: 'throttled',
      level: 'stop',
      title: 'throttled',
      detail: `${nameOf(seen, hottest.probe)} fell by ${formatKelvin(fall_K)} under load after ${formatElapsed(after_s[peak] as number)}: the device seems to have cut its own power`,
      effect: 'not counted: the load was not the same',
      at_s: after_s[peak] as number,
    },
  ];
}

function hottestChannel(seen: Seen, phase: Phase) {
  const ends = seen.series.channels
    .filter(({ probe }) => seen.probes.find(({ id }) => id === probe)?.place !== 'ambient')
    .map((channel) => {
      const { level } = averageBlocks(seen.series.after_s, channel.level_C, phase.from_s, phase.to_s, 60);
      return { channel, most: level.length === 0 ? Number.NEGATIVE_INFINITY : Math.max(...level) };
    });
  const best = ends.reduce<(typeof ends)[number] | null>(
    (top, end) => (top === null || end.most > top.most ? end : top),
    null,
  );
  return best === null || !Number.isFinite(best.most) ? null : best.channel;
}

/** Fewer time constants than this and the plateau is mostly extrapolated. */
const enoughTimeConstants = 3;

function flagLength(seen: Seen): RunFlag[] {
  const load = phaseOf(seen, 'load');
  if (load === undefined) return [];
  return seen.plateaus.flatMap(({ probe, phase, result }): RunFlag[] => {
    if (phase !== 'load' || seen.probes.find(({ id }) => id === probe)?.place !== 'cell') return [];
    const span_s = load.to_s - load.from_s;
    if (!result.ok) {
      return [
        {
          kind: 'too-short',
          level: 'stop',
          title: `${nameOf(seen, probe)} has no plateau`,
          detail: describeRefusal(result.reason),
          effect: 'this probe is not counted in this run',
        },
      ];
    }
    const slowest_s = result.value.timeConstants.at(-1)?.tau_s ?? 0;
    if (span_s >= enoughTimeConstants * slowest_s || result.value.reached) return [];
    const u_K = result.value.parts.find(({ name }) => name === 'still to come')?.u_K ?? 0;
    return [
      {
        kind: 'too-short',
        level: 'look',
        title: `${nameOf(seen, probe)} soaked too short`,
        detail: `${formatDuration(span_s)} of load are ${formatNumber(span_s / slowest_s, 1)} time constants; ${formatKelvin(result.value.remaining_K)} were still to come`,
        effect: `u ${formatKelvin(u_K, u_K)}`,
      },
    ];
  });
}

/** Why there is no plateau, with what would help. */
export function describeRefusal(
  reason: Extract<RunResult['plateaus'][number]['result'], { ok: false }>['reason'],
): string {
  switch (reason.kind) {
    case 'too-short':
      return `${formatDuration(reason.have_s)} are too short to extrapolate from; soak for ${formatDuration(reason.need_s)}`;
    case 'too-few':
      return `${formatCount(reason.have, 'reading')} left in the phase; ${reason.need} are needed`;
    case 'still-rising':
      return `still rising by ${formatNumber(reason.slope_K_per_h, 1)} K per hour, with no bend to extrapolate from; soak longer than ${formatDuration(2 * reason.have_s)}`;
    case 'no-curve':
      return 'the readings follow no settling curve; look for a step, a throttled load or a moved probe in the chart';
    case 'no-ambient':
      return 'the room’s temperature was neither logged nor noted; add it to the run’s conditions';
    case 'too-uncertain':
      return `the plateau would be uncertain by ${formatKelvin(reason.u_K)} on a step of ${formatKelvin(reason.step_K)}; soak longer`;
  }
}

function flagIdle(seen: Seen): RunFlag[] {
  const cell = seen.plateaus.find(
    ({ probe, phase }) => phase === 'idle' && seen.probes.find(({ id }) => id === probe)?.place === 'cell',
  );
  if (cell === undefined || (cell.result.ok && cell.result.value.reached)) return [];
  return [
    {
      kind: 'idle-not-settled',
      level: 'look',
      title: 'idle not settled',
      detail: cell.result.ok
        ? `${nameOf(seen, cell.probe)} had ${formatKelvin(cell.result.value.remaining_K)} to go when the load came on`
        : describeRefusal(cell.result.reason),
      effect: cell.result.ok
        ? 'idle rise is extrapolated; load not affected'
        : 'no idle rise from this probe; load not affected',
    },
  ];
}

/** A room that moves more than this within the load is worth a flag. @assumed */
export const restless_K = 0.3;

function flagAmbient(seen: Seen): RunFlag[] {
  const load = phaseOf(seen, 'load');
  const ambient = seen.series.channels.find(
    ({ probe }) => seen.probes.find(({ id }) => id === probe)?.place === 'ambient',
  );
  if (ambient === undefined) {
    return [
      {
        kind: 'no-ambient',
        level: 'look',
        title: 'room not logged',
        detail: 'the rise is taken against the temperature noted for the run',
        effect: `u ${formatKelvin(seen.run.conditions?.ambient_u_K ?? notedAmbientU_K)}`,
      },
    ];
  }
  if (load === undefined) return [];
  const { level } = averageBlocks(seen.series.after_s, ambient.level_C, load.from_s, load.to_s, 24);
  if (level.length === 0) return [];
  const range_K = Math.max(...level) - Math.min(...level);
  if (range_K < restless_K) return [];
  const u_K = Math.max(
    0,
    ...seen.plateaus.map(({ phase, result }) =>
      phase === 'load' && result.ok
        ? (result.value.parts.find(({ name }) => name === 'ambient drift')?.u_K ?? 0)
        : 0,
    ),
  );
  return [
    {
      kind: 'ambient-drift',
      level: 'look',
      title: 'ambient drift',
      detail: `the room moved by ${formatKelvin(range_K)} in ${formatDuration(load.to_s - load.from_s)} of load; followed with the device’s own lag`,
      effect: `u ${formatKelvin(u_K, u_K)}`,
    },
  ];
}

/** Doubt of a room temperature that was noted, not logged. @assumed one kelvin: rooms drift and thermostats swing by that */
export const notedAmbientU_K = 1;

/** Readings missing for less than this are the logger’s own stumbling. @assumed half a minute, or three rows */
export const leastGap_s = (interval_s: number) => Math.max(30, 3 * interval_s);

function flagDropouts(seen: Seen): RunFlag[] {
  const { after_s, channels } = seen.series;
  const least_s = leastGap_s(seen.report.interval_s);
  return channels.flatMap(({ probe, level_C }): RunFlag[] => {
    const gaps = gapsOf(after_s, level_C).filter((gap) => gap.to_s - gap.from_s >= least_s);
    const longest = gaps.reduce<(typeof gaps)[number] | null>(
      (top, gap) => (top === null || gap.to_s - gap.from_s > top.to_s - top.from_s ? gap : top),
      null,
    );
    if (longest === null) return [];
    const settled_s = plateauOf(seen, probe, 'load')?.settledFrom_s ?? Number.POSITIVE_INFINITY;
    const load = phaseOf(seen, 'load');
    const inside = load !== undefined && gaps.some((gap) => gap.to_s > settled_s && gap.from_s < load.to_s);
    return [
      {
        kind: 'dropout',
        level: inside ? 'look' : 'holds',
        title: `dropout, ${nameOf(seen, probe)}`,
        detail: `${formatDuration(longest.to_s - longest.from_s)} without readings at ${formatElapsed(longest.from_s)}${gaps.length > 1 ? `, and ${formatCount(gaps.length - 1, 'shorter one')}` : ''}${inside ? ', inside the settled part' : ''}`,
        effect: inside ? 'fewer readings; u grows with the gap' : 'no effect',
        at_s: longest.from_s,
      },
    ];
  });
}

function gapsOf(after_s: Float64Array, level_C: Float64Array): { from_s: number; to_s: number }[] {
  const gaps: { from_s: number; to_s: number }[] = [];
  let start = -1;
  for (let i = 0; i <= level_C.length; i++) {
    const missing = i < level_C.length && Number.isNaN(level_C[i] as number);
    if (missing && start < 0) start = i;
    if (!missing && start >= 0) {
      gaps.push({
        from_s: after_s[start] as number,
        to_s: after_s[Math.min(i, level_C.length - 1)] as number,
      });
      start = -1;
    }
  }
  return gaps;
}

const stillBy = {
  load: ', through a change of load',
  noise: ' to the end, without the noise it had in idle',
  climb: ' to the end, in the middle of a climb that other probes went on with',
} as const;

function flagFrozen(seen: Seen): RunFlag[] {
  const load = phaseOf(seen, 'load');
  if (load === undefined) return [];
  const isRoom = (probe: string) => seen.probes.find(({ id }) => id === probe)?.place === 'ambient';
  const { channels, after_s } = seen.series;
  const room_C = channels.find(({ probe }) => isRoom(probe))?.reading_C;
  return channels.flatMap(({ probe, reading_C }): RunFlag[] => {
    if (isRoom(probe)) return [];
    const others = channels.filter((other) => other.probe !== probe && !isRoom(other.probe));
    const others_C = others.map((other) => other.reading_C);
    const stuck = findFrozen(after_s, reading_C, load, { others_C, room_C, loop_s: seen.loop_s });
    if (stuck === null) return [];
    const still = formatDuration(stuck.to_s - stuck.from_s);
    return [
      {
        kind: 'frozen',
        level: 'stop',
        title: `frozen, ${nameOf(seen, probe)}`,
        detail: `the same reading for ${still}${stillBy[stuck.by]}`,
        effect: 'not counted: check the probe and its plug',
        at_s: stuck.from_s,
      },
    ];
  });
}

function flagLoop(seen: Seen): RunFlag[] {
  if (seen.loop_s === null) return [];
  return [
    {
      kind: 'looped-load',
      level: 'holds',
      title: 'looped load',
      detail: `period ${formatNumber(seen.loop_s / 60, 1)} min; the plateau is the mean over whole loops`,
      effect: 'peaks lie above the plateau',
    },
  ];
}
