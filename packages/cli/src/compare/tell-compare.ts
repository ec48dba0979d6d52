import type { Contest, Difference } from '@soakbench/core/compare';
import { formatEstimate, formatKelvin, formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { CompareResult } from '@soakbench/core/verdict';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { type Cell, layTable } from '../parts/table.js';
import { caution, closing, namesOf, opening } from '../parts/words.js';
import { layCeilings } from './lay-ceilings.js';

/** The comparison as a person reads it: answer, rises, differences with their intervals, what could be told apart. */
export function tellCompare(page: Page, build: Build, compare: CompareResult): string[] {
  const { main, others } = compare;
  return [
    ...opening(page, compare.answer, compare.condition),
    ...(main === null ? [] : tellContest(page, build, main)),
    ...layCeilings(page, build, compare.margins),
    ...list(
      page,
      'Also compared, in full with --json',
      others.map((contest) => describeQuantity(build, contest)),
    ),
    ...closing(page, build),
    ...caution(page),
  ];
}

function describeQuantity(build: Build, { quantity, setups }: Contest): string {
  const { setup, probe } = namesOf(build);
  const rises = setups.map((each) => `${setup(each.setup)} ${formatEstimate(each.rise_K, 'K')}`);
  return `${probe(quantity.probe)}, ${quantity.phase}${quantity.charging ? ', charging' : ''}: ${rises.join(', ')}`;
}

function tellContest(page: Page, build: Build, contest: Contest): string[] {
  const { setup } = namesOf(build);
  const rises = contest.setups.map((each) => [
    setup(each.setup),
    formatEstimate(each.rise_K, '').trimEnd(),
    intervalText(each.interval95_K),
    String(each.runs.length),
    each.runs.map(({ rise_K }) => formatNumber(rise_K)).join('  '),
  ]);
  return [
    ...heading(page, 'Rise above the room'),
    ...layTable(
      page,
      [
        { title: 'set-up' },
        { title: 'rise K', right: true },
        { title: '95 % interval K', right: true },
        { title: 'runs', right: true },
        { title: 'each run K' },
      ],
      rises,
    ),
    ...tellDifferences(page, build, `Against ${setup(contest.baseline)}`, contest.toBaseline),
    ...tellDifferences(page, build, 'All pairs', contest.pairs),
    ...(contest.setups.length > 1
      ? [
          '',
          ...wrap(
            page,
            `These runs can tell apart ${formatKelvin(contest.canShow_K ?? Number.NaN)} or more.`,
          ),
        ]
      : []),
    ...list(page, 'To know', contest.notes),
  ];
}

function tellDifferences(
  page: Page,
  build: Build,
  title: string,
  differences: readonly Difference[],
): string[] {
  if (differences.length === 0) return [];
  const { setup } = namesOf(build);
  return [
    ...heading(page, title),
    ...layTable(
      page,
      [
        { title: 'set-up' },
        { title: 'than' },
        { title: 'cooler by K', right: true },
        { title: '95 % interval K', right: true },
        { title: 'p', right: true },
        { title: '' },
      ],
      differences.map((each) => [
        setup(each.setup),
        setup(each.other),
        formatEstimate(each.cooler_K, '').trimEnd(),
        each.finding === 'no-verdict' ? '' : intervalText(each.simultaneous95_K),
        each.finding === 'no-verdict' ? '' : each.p < 0.001 ? '< 0.001' : each.p.toFixed(3),
        findingCell(each.finding),
      ]),
    ),
  ];
}

function findingCell(finding: Difference['finding']): Cell {
  if (finding === 'shown') return { text: '● shown', look: 'holds' };
  return { text: finding === 'not-shown' ? '○ not shown' : '○ no finding', look: 'none' };
}

function intervalText([low, high]: readonly [number, number]): string {
  return `${formatNumber(low)} to ${formatNumber(high)}`;
}
