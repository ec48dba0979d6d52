import {
  probeTag,
  probeTitle,
  type RunChartLine,
  type RunChartPlateau,
  type RunChartView,
} from '../drawing/index.js';
import {
  formatCelsius,
  formatDuration,
  formatElapsed,
  formatEstimate,
  formatList,
  formatNumber,
} from '../measure/index.js';
import type { Build } from '../records/index.js';
import type { Plateau, RunResult, RunSeries } from './run-result.js';

type Records = Pick<Build, 'probes' | 'runs'>;

/** Points of the fitted curve; it is smooth, so these are enough at any width. */
const curvePoints = 96;

/**
 * A run as a chart: every logged probe, one of them chosen, with its plateau.
 *
 * @param chosen the probe to draw in the accent; without one, the warmest cell probe that has a plateau under load
 * @param phase the plateau to show; without one, that under load where there is one, else that at idle
 */
export function presentRunChart(
  build: Records,
  result: RunResult,
  series: RunSeries,
  options: { readonly chosen?: string; readonly phase?: 'idle' | 'load' } = {},
): RunChartView {
  const plateau = choosePlateau(build, result, options);
  const chosen =
    options.chosen ??
    plateau?.probe ??
    series.channels.find((each) => placeOf(build, each.probe) === 'cell')?.probe;
  const last = series.after_s.length === 0 ? 0 : (series.after_s[series.after_s.length - 1] ?? 0);
  const span_s = Math.max(result.span_s, last);
  // In the order of the probes, not of the log's columns: a probe keeps its dash from run to run.
  const order = (id: string) => build.probes.findIndex((probe) => probe.id === id);
  const channels = [...series.channels].sort((one, other) => order(one.probe) - order(other.probe));
  const lines = channels.map((channel): RunChartLine => {
    const probe = build.probes.find((each) => each.id === channel.probe) ?? {
      id: channel.probe,
      name: channel.probe,
    };
    const isAmbient = placeOf(build, channel.probe) === 'ambient';
    return {
      probe: channel.probe,
      name: probeTitle(probe),
      shortName: probeTag(probe),
      role: channel.probe === chosen ? 'chosen' : isAmbient ? 'ambient' : 'other',
      level_C: channel.level_C,
    };
  });
  const shown = plateau === null ? null : presentPlateau(build, plateau, series);
  return {
    label: describeRun(result, lines, span_s, shown),
    after_s: series.after_s,
    span_s,
    lines,
    phases: result.phases,
    plateau: shown,
    flags: result.flags.flatMap((flag, index) =>
      flag.at_s === undefined ? [] : [{ number: index + 1, at_s: flag.at_s, title: flag.title }],
    ),
  };
}

function placeOf(build: Records, probe: string): string | undefined {
  return build.probes.find((each) => each.id === probe)?.place;
}

function choosePlateau(
  build: Records,
  result: RunResult,
  options: { readonly chosen?: string; readonly phase?: 'idle' | 'load' },
): Plateau | null {
  const found = result.plateaus.flatMap(({ result: each }) => (each.ok ? [each.value] : []));
  const fitting = found.filter(
    (each) =>
      (options.chosen === undefined
        ? placeOf(build, each.probe) !== 'ambient'
        : each.probe === options.chosen) &&
      (options.phase === undefined || each.phase === options.phase),
  );
  const order = (each: Plateau) => [
    each.phase === 'load' ? 1 : 0,
    placeOf(build, each.probe) === 'cell' ? 1 : 0,
    each.level_C,
  ];
  const sorted = [...fitting].sort((one, other) => {
    const [mine, theirs] = [order(one), order(other)];
    const differing = mine.findIndex((value, index) => value !== theirs[index]);
    return differing < 0 ? 0 : (theirs[differing] ?? 0) - (mine[differing] ?? 0);
  });
  return sorted[0] ?? null;
}

/**
 * The fitted rise lies on the room's own course, so that a drifting room bends the drawn curve as it bent the reading.
 * Without a logged room the mean stands in.
 */
function traceCurve(
  build: Records,
  plateau: Plateau,
  series: RunSeries,
): { after_s: number; level_C: number }[] {
  const room = series.channels.find((channel) => placeOf(build, channel.probe) === 'ambient');
  const width_s = (plateau.to_s - plateau.from_s) / curvePoints;
  const sums = new Float64Array(curvePoints + 1);
  const counts = new Float64Array(curvePoints + 1);
  for (let row = 0; room !== undefined && row < series.after_s.length; row += 1) {
    const [after_s, level_C] = [series.after_s[row] ?? 0, room.level_C[row] ?? Number.NaN];
    if (after_s < plateau.from_s - width_s || after_s > plateau.to_s || !Number.isFinite(level_C)) continue;
    const bin = Math.max(0, Math.min(curvePoints, Math.round((after_s - plateau.from_s) / width_s)));
    sums[bin] = (sums[bin] ?? 0) + level_C;
    counts[bin] = (counts[bin] ?? 0) + 1;
  }
  return Array.from({ length: curvePoints + 1 }, (_, bin) => {
    const after_s = plateau.from_s + bin * width_s;
    const ambient_C = (counts[bin] ?? 0) > 0 ? (sums[bin] ?? 0) / (counts[bin] ?? 1) : plateau.ambient_C;
    return { after_s, level_C: ambient_C + fittedRise_K(plateau, after_s) };
  });
}

/** The fitted curve of a plateau: `rise - sum(amplitude exp(-t/tau))`, t from the start of its phase. */
function fittedRise_K(plateau: Plateau, after_s: number): number {
  return plateau.timeConstants.reduce(
    (rise, { tau_s }, index) =>
      rise - (plateau.amplitudes_K[index] ?? 0) * Math.exp(-(after_s - plateau.from_s) / tau_s),
    plateau.rise_K.value,
  );
}

function presentPlateau(build: Records, plateau: Plateau, series: RunSeries): RunChartPlateau {
  const probe = build.probes.find((each) => each.id === plateau.probe) ?? {
    id: plateau.probe,
    name: plateau.probe,
  };
  const slowest = plateau.timeConstants.at(-1);
  const reached = plateau.reached ? 'plateau' : 'extrapolated to';
  const level = { value: plateau.level_C, u: plateau.rise_K.u };
  const hasCurve = plateau.timeConstants.length > 0;
  return {
    level_C: plateau.level_C,
    u_K: plateau.rise_K.u,
    from_s: plateau.from_s,
    to_s: plateau.to_s,
    words: `${probeTitle(probe)}, ${reached} ${formatEstimate(level, '°C')}`,
    shortWords: `${probeTag(probe)} ${formatEstimate(level, '').trim()}`,
    curve: hasCurve ? traceCurve(build, plateau, series) : [],
    settled_s: plateau.settledFrom_s === null ? null : [plateau.settledFrom_s, plateau.to_s],
    // A time constant known to no better than half of itself says nothing.
    timeConstant:
      slowest === undefined || slowest.u_s > 0.5 * slowest.tau_s
        ? null
        : {
            tau_s: slowest.tau_s,
            level_C: plateau.ambient_C + fittedRise_K(plateau, plateau.from_s + slowest.tau_s),
            words: `${plateau.timeConstants.length > 1 ? 'slower ' : ''}time constant ${minutesWords(slowest)}`,
            shortWords: formatDuration(slowest.tau_s),
          },
  };
}

function minutesWords({ tau_s, u_s }: { tau_s: number; u_s: number }): string {
  return tau_s < 120
    ? formatEstimate({ value: tau_s, u: u_s }, 's')
    : formatEstimate({ value: tau_s / 60, u: u_s / 60 }, 'min');
}

function describeRun(
  result: RunResult,
  lines: readonly RunChartLine[],
  span_s: number,
  plateau: RunChartPlateau | null,
): string {
  const phases = result.phases.map((phase) => `${phase.kind} ${formatElapsed(phase.to_s - phase.from_s)}`);
  const levels = lines.map((line) => {
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let row = 0; row < line.level_C.length; row += 1) {
      const level = line.level_C[row] ?? Number.NaN;
      if (level < low) low = level;
      if (level > high) high = level;
    }
    return low <= high
      ? `${line.name} from ${formatNumber(low)} to ${formatCelsius(high)}`
      : `${line.name} without readings`;
  });
  const settled = plateau === null ? 'No plateau is shown.' : `${plateau.words}.`;
  return `Run ${result.run} over ${formatElapsed(span_s)} h${phases.length > 0 ? `, ${formatList(phases)}` : ''}. ${levels.join('; ')}. ${settled}`;
}
