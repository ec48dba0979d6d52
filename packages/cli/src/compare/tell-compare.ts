import {
  type Contest,
  chanceOfCoolestWords,
  type Difference,
  noWorseWords,
  type PerWatt,
  perWattWords,
  type Rank,
  resolutionWords,
  sessionWords,
} from '@soakbench/core/compare';
import { formatEstimate, formatKelvin, formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { CompareResult } from '@soakbench/core/verdict';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { type Cell, layTable } from '../parts/table.js';
import { caution, closing, namesOf, opening } from '../parts/words.js';
import { layCeilings } from './lay-ceilings.js';

/** The comparison as a person reads it: answer, rises, differences with their intervals, what could be told apart. */
export function tellCompare(page: Page, build: Build, compare: CompareResult, resolve_K: number): string[] {
  const { main, others } = compare;
  return [
    ...opening(page, compare.answer, compare.condition),
    ...(main === null ? [] : tellContest(page, build, main, compare.coolest)),
    ...tellPerWatt(page, build, compare.perWatt),
    ...(main === null || main.setups.length < 2
      ? []
      : [
          ...heading(page, `Runs to tell ${formatKelvin(resolve_K, resolve_K / 10)} apart`),
          ...wrap(page, resolutionWords(compare.resolution, resolve_K, namesOf(build).setup), '  '),
        ]),
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

function tellContest(page: Page, build: Build, contest: Contest, ranks: readonly Rank[]): string[] {
  const { setup } = namesOf(build);
  const coolest = (id: string) => {
    const rank = ranks.find((each) => each.setup === id);
    return rank === undefined ? '' : chanceOfCoolestWords(rank);
  };
  const session = sessionWords(contest);
  const rises = contest.setups.map((each) => [
    setup(each.setup),
    formatEstimate(each.rise_K, '').trimEnd(),
    intervalText(each.interval95_K),
    coolest(each.setup),
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
        { title: 'coolest', right: true },
        { title: 'runs', right: true },
        { title: 'each run K' },
      ],
      rises,
    ),
    ...tellDifferences(page, build, `Against ${setup(contest.baseline)}`, contest.toBaseline),
    ...tellDifferences(page, build, 'All pairs', contest.pairs),
    ...tellNoWorse(page, build, contest),
    ...(contest.setups.length > 1
      ? [
          '',
          ...wrap(
            page,
            `These runs can tell apart ${formatKelvin(contest.canShow_K ?? Number.NaN)} or more.`,
          ),
        ]
      : []),
    ...list(page, 'To know', session === null ? contest.notes : [session, ...contest.notes]),
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

/** Rises per watt, and each set-up against the baseline at one power. */
function tellPerWatt(page: Page, build: Build, perWatt: PerWatt | null): string[] {
  if (perWatt === null || perWatt.contest.setups.length < 2) return [];
  const { setup } = namesOf(build);
  const { contest, load_W } = perWatt;
  return [
    ...heading(page, `Rise per watt; differences at ${formatNumber(load_W)} W`),
    ...layTable(
      page,
      [
        { title: 'set-up' },
        { title: 'rise', right: true },
        { title: 'cooler by K', right: true },
        { title: '' },
      ],
      contest.setups.map((each) => {
        const against = contest.toBaseline.find((difference) => difference.setup === each.setup);
        return [
          setup(each.setup),
          perWattWords(perWatt, each.setup),
          against === undefined ? '' : formatEstimate(against.cooler_K, '').trimEnd(),
          against === undefined ? '' : findingCell(against.finding),
        ];
      }),
    ),
  ];
}

/** Which of each pair is shown to be no worse than the other by more than the stated difference. */
function tellNoWorse(page: Page, build: Build, { pairs, noWorse_K }: Contest): string[] {
  if (pairs.every(({ finding }) => finding === 'no-verdict')) return [];
  const { setup } = namesOf(build);
  return [
    ...heading(page, `No worse by more than ${formatKelvin(noWorse_K, noWorse_K / 10)}`),
    ...layTable(
      page,
      [{ title: 'pair' }, { title: 'shown to be no worse' }],
      pairs.map((each) => [`${setup(each.setup)}, ${setup(each.other)}`, noWorseWords(each, setup)]),
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
