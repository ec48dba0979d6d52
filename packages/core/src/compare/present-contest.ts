import type { IntervalRow, IntervalView } from '../drawing/index.js';
import { formatCount, formatEstimate, formatKelvin, formatList } from '../measure/index.js';
import { tQuantile } from '../numerics/index.js';
import type { Build } from '../records/index.js';
import type { Contest, Difference } from './contest.js';

/** A comparison as three drawings: the rises, each set-up against the baseline, and all pairs. */
export interface ContestView {
  readonly rises: IntervalView;
  readonly toBaseline: IntervalView;
  readonly pairs: IntervalView;
}

const findingWords: Readonly<Record<Difference['finding'], string>> = {
  shown: 'shown',
  'not-shown': 'not shown',
  'no-verdict': 'no verdict',
};

/**
 * Puts a contest into words and intervals; nothing is computed that the contest does not hold.
 *
 * @param chosen the set-up drawn in the accent, where one is chosen
 */
export function presentContest(
  build: Pick<Build, 'setups' | 'probes'>,
  contest: Contest,
  chosen?: string | null,
): ContestView {
  const nameOf = (id: string) => build.setups.find((setup) => setup.id === id)?.name ?? id;
  const probe =
    build.probes.find((each) => each.id === contest.quantity.probe)?.name ?? contest.quantity.probe;
  const where = `${probe}, ${contest.quantity.phase}${contest.quantity.charging ? ', charging' : ''}`;

  const rises = contest.setups.map((setup): IntervalRow => {
    const { value, u } = setup.rise_K;
    const isChosen = setup.setup === chosen;
    return {
      name: isChosen
        ? [{ words: nameOf(setup.setup) }, { words: 'chosen', quiet: true }]
        : [{ words: nameOf(setup.setup) }],
      mark: { value, thick: [value - u, value + u], thin: setup.interval95_K },
      isChosen,
      runs: setup.runs.map((run) => run.rise_K),
      figure: formatEstimate(setup.rise_K, 'K'),
      note: formatCount(setup.runs.length, 'run'),
    };
  });
  const risesLabel = `Rise above the room at ${where}: ${formatList(
    contest.setups.map(
      (each) =>
        `${nameOf(each.setup)} ${formatEstimate(each.rise_K, 'K')} from ${formatCount(each.runs.length, 'run')}`,
    ),
  )}.`;

  return {
    rises: { label: risesLabel, unit: 'K', rows: rises, hasGuides: true },
    toBaseline: presentDifferences(
      contest.toBaseline,
      nameOf,
      `Differences to ${nameOf(contest.baseline)} at ${where}`,
    ),
    pairs: {
      ...presentDifferences(contest.pairs, nameOf, `Differences between pairs at ${where}`),
      references: [
        {
          at: -contest.noWorse_K,
          words: `no worse by ${formatKelvin(contest.noWorse_K, contest.noWorse_K / 5)}`,
          isDotted: true,
        },
      ],
    },
  };
}

/**
 * Differences against a zero line. What is not shown is dashed, in stroke and in shape.
 * Where a finding was refused for want of repeats, the interval is drawn as it stands and says `no verdict`.
 */
function presentDifferences(
  differences: readonly Difference[],
  nameOf: (id: string) => string,
  title: string,
): IntervalView {
  // What is shown comes first; otherwise the contest's order stays.
  const ordered = [...differences].sort(
    (one, other) => Number(other.finding === 'shown') - Number(one.finding === 'shown'),
  );
  const rows = ordered.map((each): IntervalRow => {
    const { value, u } = each.cooler_K;
    return {
      name: [
        { words: nameOf(each.setup) },
        { words: value < 0 ? 'against' : 'cooler than', quiet: true },
        { words: nameOf(each.other) },
      ],
      mark: { value, thick: [value - u, value + u], thin: each.simultaneous95_K },
      isFirm: each.finding === 'shown',
      figure: formatEstimate(each.cooler_K, 'K'),
      note: findingWords[each.finding],
      look: each.finding === 'shown' ? 'shown' : 'not-shown',
    };
  });
  const listed = ordered.map(
    (each) =>
      `${nameOf(each.setup)} ${formatKelvin(Math.abs(each.cooler_K.value), each.cooler_K.u)} ${each.cooler_K.value < 0 ? 'warmer' : 'cooler'} than ${nameOf(each.other)}, ${findingWords[each.finding]}`,
  );
  return {
    label: listed.length === 0 ? `${title}: none.` : `${title}: ${listed.join('; ')}.`,
    unit: 'K',
    rows,
    zero: { at: 0, words: 'no difference', toward: 'cooler →' },
  };
}

/** Two-sided 95 % interval of one estimate alone. @source [JCGM-100] annex G.3 */
export function interval95(estimate: {
  readonly value: number;
  readonly u: number;
  readonly dof: number | null;
}): [number, number] {
  const half = tQuantile(0.975, estimate.dof ?? Number.POSITIVE_INFINITY) * estimate.u;
  return [estimate.value - half, estimate.value + half];
}
