import { median } from '../numerics/index.js';
import { averageBlocks, firstAt } from './block-means.js';
import { explainedByTwo, orthonormalBasis, product } from './orthonormal-basis.js';
import type { Phase } from './run-result.js';
import { cutBest, stretchCosts } from './segment-cost.kernel.js';

/** Points a run is reduced to while its phases are sought. */
const points = 240;
/** Shortest phase, in points: 3 % of the run. */
const least = 8;

/** Phases begin at every second point; the change itself is placed to the sample afterwards. */
const every = 2;

/** The phases of a run, with where the load seems to have weakened by itself. */
export interface FoundPhases {
  readonly phases: readonly Phase[];
  /** True where the log shows no step up: everything is one phase. */
  readonly withoutStep: boolean;
}

/**
 * Finds idle, load and cool in the rises of the device's probes.
 *
 * The run is cut where the sum of settling curves fits best; the cut behind which the
 * hottest probe climbs most at once is the load coming on, the one behind which it falls most, for good, the load going off.
 * The slope alone would not do: it also breaks where the first quick rise of a load is over. The cut is then placed to the sample by a straight line that there begins to bend into a settling.
 *
 * @param after_s seconds, rising
 * @param rises_K one array per probe of the device (not ambient), NaN where missing
 * @source [BAI-PERRON-03] dynamic programming over the sums of squares of all stretches
 */
export function findPhases(after_s: Float64Array, rises_K: readonly Float64Array[]): FoundPhases {
  const end_s = after_s.at(-1) as number;
  const whole = (kind: 'idle' | 'load'): FoundPhases => ({
    phases: [{ kind, from_s: 0, to_s: end_s, by: 'data' }],
    withoutStep: true,
  });
  const grid = commonGrid(after_s, rises_K, end_s);
  if (grid === null) return whole('load');
  const spans = [end_s / 60, end_s / 18, end_s / 6];
  const cost = stretchCosts(grid.t_s, grid.channels, spans, least, every);
  const cut = cutAsOftenAs(cost, grid.t_s.length, [5, 4, 3, 2]);
  if (cut === null) return whole('load');

  const hottest = warmest(grid.channels);
  const level = (index: number) => median([...hottest.slice(Math.max(0, index - 3), index + 3)]);
  const climb = (from: number, to: number) => level(to) - level(from);
  const last = grid.t_s.length - 1;
  const range = Math.max(...hottest) - Math.min(...hottest);
  /** What the next stretch brings against just before the change: the cut may stand a place late, on a point that is half of each. */
  const step = (index: number) =>
    (hottest[Math.min(last, index + least)] as number) - (hottest[Math.max(0, index - every - 1)] as number);
  const on = largest(cut.cuts, (index) => (climbAfter(index) > 0.25 * range ? step(index) : 0));
  if (on === null) return whole(climb(0, last) > 0.5 * range && range > 2 ? 'load' : 'idle');
  const off = largest(
    cut.cuts.filter((index) => index > on),
    (index) => (climb(index, last) < -0.35 * (level(index) - level(on)) ? -step(index) : 0),
  );
  const on_s = placeJump(after_s, rises_K, grid.t_s, on);
  const off_s = off === null ? end_s : placeJump(after_s, rises_K, grid.t_s, off);
  const phases: Phase[] = [
    { kind: 'idle', from_s: 0, to_s: on_s, by: 'data' },
    { kind: 'load', from_s: on_s, to_s: off_s, by: 'data' },
  ];
  if (off !== null) phases.push({ kind: 'cool', from_s: off_s, to_s: end_s, by: 'data' });
  return { phases, withoutStep: false };

  function climbAfter(index: number): number {
    let most = Number.NEGATIVE_INFINITY;
    for (let i = index; i <= last; i++) most = Math.max(most, hottest[i] as number);
    return most - level(index);
  }
}

/** The best cut into the first of these numbers of stretches that the run has room for. */
function cutAsOftenAs(cost: Float64Array, n: number, wanted: readonly number[]) {
  for (const parts of wanted) {
    const cut = cutBest(cost, n, parts, every);
    if (cut !== null) return cut;
  }
  return null;
}

function largest<T>(items: readonly T[], measure: (item: T) => number): T | null {
  let best: T | null = null;
  let most = 0;
  for (const item of items) {
    const size = measure(item);
    if (size > most) {
      most = size;
      best = item;
    }
  }
  return best;
}

/** All channels on one even grid, gaps bridged by straight lines; each scaled to its own noise would favour dull probes, so in K. */
function commonGrid(after_s: Float64Array, rises_K: readonly Float64Array[], end_s: number) {
  const count = Math.min(points, Math.floor(after_s.length / 2));
  if (count < 3 * least || rises_K.length === 0) return null;
  const t_s = Float64Array.from({ length: count }, (_, i) => ((i + 0.5) * end_s) / count);
  const channels = rises_K
    .map((rise) => averageBlocks(after_s, rise, 0, end_s, count))
    .filter((blocks) => blocks.level.length > count / 2)
    .map((blocks) => t_s.map((t) => interpolate(blocks.after_s, blocks.level, t)));
  return channels.length === 0 ? null : { t_s, channels };
}

function interpolate(x: Float64Array, y: Float64Array, at: number): number {
  const upper = firstAt(x, at);
  if (upper === 0) return y[0] as number;
  if (upper >= x.length) return y.at(-1) as number;
  const share = (at - (x[upper - 1] as number)) / ((x[upper] as number) - (x[upper - 1] as number));
  return (y[upper - 1] as number) * (1 - share) + (y[upper] as number) * share;
}

function warmest(channels: readonly Float64Array[]): Float64Array {
  const span = (channel: Float64Array) => Math.max(...channel) - Math.min(...channel);
  return channels.reduce((best, channel) => (span(channel) > span(best) ? channel : best));
}

/** Time of a change of power to the sample: a straight line that begins to climb and to bend there, least squares over all candidates. */
function placeJump(
  after_s: Float64Array,
  rises_K: readonly Float64Array[],
  grid_s: Float64Array,
  index: number,
): number {
  const step = (grid_s[1] as number) - (grid_s[0] as number);
  const coarse = (grid_s[index] as number) - step / 2;
  const from = firstAt(after_s, coarse - 6 * step);
  const to = firstAt(after_s, coarse + 6 * step);
  const stride = Math.max(1, Math.floor((to - from) / 100));
  const all = Array.from({ length: Math.floor((to - from) / stride) }, (_, k) => from + k * stride);
  const levelsOf = (rise: Float64Array, rows: readonly number[]) =>
    Float64Array.from(rows, (row) => rise[row] as number);
  const swing = (rise: Float64Array) => {
    const levels = levelsOf(rise, all).filter((value) => !Number.isNaN(value));
    return levels.length < 16 ? 0 : Math.max(...levels) - Math.min(...levels);
  };
  const liveliest = largest(rises_K, swing);
  if (liveliest === null) return coarse;
  const rows = all.filter((row) => !Number.isNaN(liveliest[row] as number));
  const channel = levelsOf(liveliest, rows);
  const t = Float64Array.from(rows, (row) => ((after_s[row] as number) - coarse) / step);
  // The line is the same for all candidates: what it can follow is taken out of everything once, and two products are left.
  const line = orthonormalBasis([new Float64Array(t.length).fill(1), t]);
  const left = line.clear(channel);
  let best = coarse;
  let most = Number.NEGATIVE_INFINITY;
  const after = new Float64Array(t.length);
  const bend = new Float64Array(t.length);
  for (const at of t) {
    if (at < -3.5 || at > 3.5) continue;
    for (let i = 0; i < t.length; i++) {
      const since = Math.max(0, (t[i] as number) - at);
      after[i] = since;
      bend[i] = since === 0 ? 0 : 1 - Math.exp(-since);
    }
    const x = line.clear(after);
    const z = line.clear(bend);
    const explained = explainedByTwo(
      product(x, x),
      product(x, z),
      product(z, z),
      product(x, left),
      product(z, left),
    );
    if (explained > most) {
      most = explained;
      best = coarse + at * step;
    }
  }
  return Math.round(best);
}
