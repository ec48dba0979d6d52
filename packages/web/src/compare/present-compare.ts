import {
  type Contest,
  chanceOfCoolestWords,
  type Difference,
  type Margin,
  noWorseWords,
  type PerWatt,
  perWattWords,
  type Quantity,
  type Rank,
  type UnequalDifference,
} from '@soakbench/core/compare';
import { formatCount, formatEstimate, formatKelvin, formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Level } from '../parts/level.js';
import { probeName, setupName } from '../parts/names.js';
import type { Column, Row } from '../parts/table.js';

const nothing = '–';

/** "cell 1, load": what is compared, in the words of the choice on the page. */
export function quantityWords(build: Pick<Build, 'probes'>, quantity: Quantity): string {
  const phase = quantity.phase === 'load' ? 'under load' : 'at idle';
  return `${probeName(build, quantity.probe)}, ${phase}${quantity.charging ? ', charging' : ''}`;
}

export function quantityKey({ probe, phase, charging }: Quantity): string {
  return [probe, phase, charging].join(' ');
}

/** "Four of six can be told apart", or why nothing was tested. */
export function findingsWords(differences: readonly Difference[]): string {
  const shown = differences.filter(({ finding }) => finding === 'shown').length;
  const refused = differences.filter(({ finding }) => finding === 'no-verdict').length;
  if (differences.length === 0) return 'There is only one set-up, so there is no difference to show.';
  if (refused === differences.length) {
    return 'No verdict on any difference: one run per set-up does not tell a shield from the way it was mounted.';
  }
  const rest = refused > 0 ? `; on ${refused} there is no verdict` : '';
  return `${shown} of ${formatCount(differences.length, 'difference')} ${shown === 1 ? 'is' : 'are'} shown${rest}.`;
}

/** The spread between runs in one sentence, assumed or found. */
export function spreadWords({ runToRun, blocks }: Pick<Contest, 'runToRun' | 'blocks'>): string {
  const sd = formatKelvin(runToRun.sd_K, runToRun.sd_K / 10);
  if (runToRun.assumed) {
    return `Re-mounting is taken to scatter by ${sd}: with no repeats it could not be found from these runs.`;
  }
  const freedom = runToRun.dof === null ? '' : `, ${formatNumber(runToRun.dof, 0)} degrees of freedom`;
  const within = blocks === 'session' ? 'Within a session, from run to run' : 'From run to run';
  return `${within}: standard deviation ${sd}${freedom}.`;
}

/** Mean rises, each with its chance to be the coolest where set-ups are ranked. */
export function riseRows(
  build: Pick<Build, 'setups'>,
  contest: Contest,
  chosen: string | null,
  ranks: readonly Rank[],
): Row[] {
  const coolest = (id: string) => {
    const rank = ranks.find(({ setup }) => setup === id);
    return rank === undefined ? nothing : chanceOfCoolestWords(rank);
  };
  return contest.setups.map(({ setup, rise_K, interval95_K, runs }) => ({
    key: setup,
    pick: setup === chosen,
    cells: [
      setupName(build, setup),
      formatEstimate(rise_K, 'K'),
      rangeWords(interval95_K),
      coolest(setup),
      runs.map((run) => formatNumber(run.rise_K, 1)).join(', '),
    ],
  }));
}

export const differenceColumns: readonly Column[] = [
  { title: 'pair' },
  { title: 'cooler by', right: true },
  { title: '95 % of all at once, K', right: true },
  { title: 'p', right: true },
  { title: 'finding' },
];

export function differenceRows(build: Pick<Build, 'setups'>, differences: readonly Difference[]): Row[] {
  return differences.map((each) => ({
    key: `${each.setup} ${each.other}`,
    cells: [
      `${setupName(build, each.setup)} ${each.cooler_K.value < 0 ? 'against' : 'cooler than'} ${setupName(build, each.other)}`,
      formatEstimate(each.cooler_K, 'K'),
      rangeWords(each.simultaneous95_K),
      each.finding === 'no-verdict' ? 'none' : chanceWords(each.p),
      findingWord(each),
    ],
  }));
}

/** Rises per watt, and each set-up against the baseline at one power. */
export function perWattRows(build: Pick<Build, 'setups'>, perWatt: PerWatt): Row[] {
  const { setups, toBaseline } = perWatt.contest;
  return setups.map(({ setup }) => {
    const against = toBaseline.find((each) => each.setup === setup);
    return {
      key: setup,
      cells: [
        setupName(build, setup),
        perWattWords(perWatt, setup),
        against === undefined ? nothing : formatEstimate(against.cooler_K, 'K'),
        against === undefined ? 'baseline' : findingWord(against),
      ],
    };
  });
}

/** Who of each pair is no worse than the other, for the table beneath all pairs. */
export function noWorseRows(build: Pick<Build, 'setups'>, differences: readonly Difference[]): Row[] {
  return differences.map((each) => ({
    key: `${each.setup} ${each.other}`,
    cells: [
      `${setupName(build, each.setup)}, ${setupName(build, each.other)}`,
      noWorseWords(each, (id) => setupName(build, id)),
    ],
  }));
}

/** Pairs with each set-up’s own spread: the columns of `differenceColumns`. */
export function unequalRows(build: Pick<Build, 'setups'>, differences: readonly UnequalDifference[]): Row[] {
  return differences.map((each) => ({
    key: `${each.setup} ${each.other}`,
    cells: [
      `${setupName(build, each.setup)} cooler than ${setupName(build, each.other)}`,
      formatEstimate(each.cooler_K, 'K'),
      rangeWords(each.simultaneous95_K),
      chanceWords(each.p),
      findingWord(each),
    ],
  }));
}

function findingWord({ finding }: Pick<Difference, 'finding'>): string {
  return { shown: 'shown', 'not-shown': 'not shown', 'no-verdict': 'no verdict' }[finding];
}

function chanceWords(p: number): string {
  return p < 0.001 ? 'under 0.001' : formatNumber(p, 3);
}

function rangeWords([low, high]: readonly [number, number]): string {
  return `${formatNumber(low, 1)} to ${formatNumber(high, 1)}`;
}

/** One state of the device with the limit it is held against, and how each set-up fares in it. */
export interface MarginGroup {
  readonly key: string;
  readonly title: string;
  readonly limit: string;
  readonly source: string;
  /** A preferred level and not a limit: passing it wears the cells and no more. */
  readonly isPreferred: boolean;
  readonly rows: readonly MarginRow[];
}

export interface MarginRow {
  readonly setup: string;
  readonly name: string;
  readonly probe: string;
  readonly expected: string;
  readonly margin: string;
  readonly atLeast: string;
  readonly highestAmbient: string;
  readonly level: Level;
  readonly word: string;
  readonly missing: string | null;
}

const limitWords = { prefer: 'preferred below', wear: 'wears above', stop: 'limit' } as const;

/** Margins by state, then by set-up, in the order in which they were computed. */
export function marginGroups(
  build: Pick<Build, 'setups' | 'probes' | 'zones'>,
  margins: readonly Margin[],
): MarginGroup[] {
  const groups = new Map<string, Margin[]>();
  for (const margin of margins) {
    const key = `${margin.use} ${margin.limit.id}`;
    groups.set(key, [...(groups.get(key) ?? []), margin]);
  }
  return [...groups].flatMap(([key, all]) => {
    const [first] = all;
    if (first === undefined) return [];
    const { limit } = first;
    const zone = limit.zone === undefined ? undefined : build.zones.find(({ id }) => id === limit.zone)?.name;
    const place = { cell: 'cell', zone: zone ?? 'zone', touch: 'shell, to the touch' }[limit.where];
    return [
      {
        key,
        title: first.title,
        limit: `${place}, ${limitWords[limit.level]} ${formatNumber(limit.limit_C, Number.isInteger(limit.limit_C) ? 0 : 1)} °C`,
        source: limit.source,
        isPreferred: limit.level !== 'stop',
        rows: all.map((margin) => marginRow(build, margin)),
      },
    ];
  });
}

function marginRow(build: Pick<Build, 'setups' | 'probes'>, margin: Margin): MarginRow {
  const { expected_C, margin_K, atLeast_K, highestAmbient_C, lowerBound } = margin;
  const bound = lowerBound ? '≥ ' : '';
  return {
    setup: margin.setup,
    name: setupName(build, margin.setup),
    probe: margin.probe === null ? nothing : probeName(build, margin.probe),
    expected: expected_C === null ? nothing : `${bound}${formatNumber(expected_C.value, 1)}`,
    margin: margin_K === null ? nothing : `${lowerBound ? '≤ ' : ''}${formatNumber(margin_K, 1)}`,
    atLeast: atLeast_K === null || lowerBound ? nothing : formatNumber(atLeast_K, 1),
    highestAmbient:
      highestAmbient_C === null
        ? nothing
        : `${lowerBound ? 'below ' : ''}${formatNumber(highestAmbient_C, 1)}`,
    ...judgeWord(margin),
    missing: margin.missing,
  };
}

/** A stop limit judges a margin (holds, look, stop); a preferred level judges a temperature (prefer, wear). */
function judgeWord({ level, limit }: Margin): { level: Level; word: string } {
  if (level === 'unknown') return { level, word: 'not measured' };
  if (limit.level === 'stop') return { level, word: level };
  return level === 'holds' ? { level: 'prefer', word: 'prefer' } : { level: 'wear', word: 'wear' };
}
