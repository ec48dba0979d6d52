import { type Estimate, effectiveDof } from '../measure/index.js';
import { mean, standardDeviation, studentizedRangeCdf, studentizedRangeQuantile } from '../numerics/index.js';
import type { Contest, Finding } from './contest.js';

/** A pair compared with each set-up's own spread. */
export interface UnequalDifference {
  readonly setup: string;
  readonly other: string;
  /** How much cooler `setup` is than `other`. */
  readonly cooler_K: Estimate;
  /** Holds for all pairs at once. */
  readonly simultaneous95_K: readonly [number, number];
  readonly p: number;
  readonly finding: Finding;
}

/**
 * All pairs with each set-up's own spread, by Games and Howell: the view for someone who doubts that one spread serves all.
 *
 * It decides nothing here. Sessions are left in, runs count alike, and each set-up's spread rests on its own few runs, so that
 * the intervals are wide; with two or three runs they are also known to err by a point or two.
 *
 * @returns null unless every set-up has two mountings, each run its own, and there are two set-ups
 * @source [GAMES-HOWELL-76]; degrees of freedom [WELCH-47], for each pair its own
 */
export function compareUnequal({
  setups,
  gain_u,
}: Pick<Contest, 'setups' | 'gain_u'>): UnequalDifference[] | null {
  const groups = setups.map(({ setup, runs }) => ({
    setup,
    count: runs.length,
    mountings: new Set(runs.map(({ mounting }) => mounting)).size,
    rises: runs.map(({ rise_K }) => rise_K),
  }));
  if (groups.length < 2 || groups.some(({ count, mountings }) => count < 2 || mountings < count)) return null;
  const summaries = groups.map(({ setup, count, rises }) => ({
    setup,
    mean_K: mean(rises),
    part: { u: standardDeviation(rises) / Math.sqrt(count), dof: count - 1 },
  }));
  return summaries.flatMap((one, at) =>
    summaries.slice(at + 1).flatMap((two): UnequalDifference[] => {
      const [cool, warm] = one.mean_K <= two.mean_K ? [one, two] : [two, one];
      const value = warm.mean_K - cool.mean_K;
      const parts = [cool.part, warm.part, { u: gain_u * value, dof: null }];
      const u = Math.hypot(...parts.map((part) => part.u));
      if (!(u > 0)) return [];
      const dof = effectiveDof(parts);
      const half = (studentizedRangeQuantile(0.95, groups.length, dof) / Math.SQRT2) * u;
      const p = 1 - studentizedRangeCdf((Math.SQRT2 * value) / u, groups.length, dof);
      return [
        {
          setup: cool.setup,
          other: warm.setup,
          cooler_K: { value, u, dof },
          simultaneous95_K: [value - half, value + half],
          p,
          finding: p < 0.05 ? 'shown' : 'not-shown',
        },
      ];
    }),
  );
}
