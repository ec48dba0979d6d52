import {
  type Exploration,
  type RankedCandidate,
  shortFront,
  tellCounts,
  tellExploration,
  tellLevers,
  tellModelError,
  tellStrips,
} from '@soakbench/core/heat';
import { formatNumber, plainText } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { caution, closing } from '../parts/words.js';
import { layMargins } from '../verdict/lay-margins.js';
import { estimateText, intervalText } from './tell-predictions.js';

/** Rows of the front on paper; all of it is in the JSON. */
const frontRows = 16;
/** Levers told one by one. */
const leverRows = 10;

/** A sweep as a person reads it: answer, finalists beside the measured set-ups, front, what matters, what was left out. */
export function tellSweep(page: Page, build: Build, exploration: Exploration): string[] {
  const { ranked, levers, objectives } = exploration;
  const strips = tellStrips(exploration);
  const front = shortFront(ranked, frontRows);
  const onFront = ranked.filter((each) => each.onFront).length;
  return [
    ...wrap(page, plainText(tellExploration(exploration))),
    '',
    ...wrap(page, tellModelError(exploration)),
    ...wrap(page, tellCounts(exploration)),
    ...heading(page, 'The best of each kind beside what was soaked, K above the room'),
    ...layFinalists(page, exploration),
    ...layStops(page, build, exploration),
    ...heading(page, `Front: nothing else is as small in ${objectives.join(', ')}`),
    ...layFront(page, front, objectives.includes('price')),
    ...wrap(
      page,
      `${onFront > front.length ? `${front.length} of ${onFront}, evenly; all of them with --json. ` : ''}Every set-up of the front carries its 95 % interval; the other ${ranked.length - onFront} were ranked without one.`,
      '  ',
    ),
    ...heading(page, `What matters most with ${nameOf(exploration, levers.setup)}`),
    ...layTable(
      page,
      [
        { title: 'change' },
        { title: '' },
        { title: 'hottest K', right: true },
        { title: 'mean K', right: true },
      ],
      levers.all
        .slice(0, leverRows)
        .map(({ name, change, hottest_K, mean_K }) => [
          name,
          change,
          formatNumber(hottest_K, 2),
          formatNumber(mean_K, 2),
        ]),
    ),
    ...wrap(page, [...tellLevers(exploration), ...(strips === null ? [] : [strips])].join(' '), '  '),
    ...list(page, 'Taken for granted', exploration.notes),
    ...closing(page, build),
    ...caution(page),
  ];
}

function nameOf({ finalists }: Exploration, id: string): string {
  return finalists.find(({ setup }) => setup === id)?.name ?? id;
}

function layFinalists(page: Page, { finalists, ranked }: Exploration): string[] {
  const facts = new Map(ranked.map((each) => [each.setup.id, each]));
  const sorted = [...finalists].sort((one, other) => one.hottest_K.value - other.hottest_K.value);
  return layTable(
    page,
    [
      { title: 'pack, hottest', right: true },
      { title: '95 % interval', right: true },
      { title: 'cooler by', right: true },
      { title: 'mm', right: true },
      { title: 'g', right: true },
      { title: 'set-up' },
    ],
    sorted.map((each) => {
      const own = facts.get(each.setup);
      return [
        estimateText(each.hottest_K),
        intervalText(each.hottest_K),
        each.cooler_K === null ? '' : estimateText(each.cooler_K),
        own === undefined ? '' : formatNumber(own.thickness_mm, 2),
        own === undefined ? '' : formatNumber(own.mass_g),
        `${each.measured ? '● soaked: ' : '○ '}${each.name}${each.because.length > 0 ? ` (${each.because.join(', ')})` : ''}`,
      ];
    }),
  );
}

/** Limits of the set-up that the answer speaks of. */
function layStops(page: Page, build: Build, { best: id, finalists }: Exploration): string[] {
  const best = finalists.find(({ setup }) => setup === id);
  const known = (best?.margins ?? []).filter(
    ({ expected_C, use }) => expected_C !== null && use !== 'stored',
  );
  if (best === undefined || known.length === 0) return [];
  const title = `Predicted margins with ${best.name} at ${formatNumber(build.designAmbient?.ambient_C ?? 0)} °C`;
  return [...heading(page, title), ...layMargins(page, build, known)];
}

function layFront(page: Page, front: readonly RankedCandidate[], isPriced: boolean): string[] {
  return layTable(
    page,
    [
      { title: 'hottest', right: true },
      { title: '95 % interval', right: true },
      { title: 'mean', right: true },
      { title: 'zone', right: true },
      { title: 'mm', right: true },
      { title: 'g', right: true },
      ...(isPriced ? [{ title: 'price', right: true }] : []),
      { title: 'set-up' },
    ],
    front.map(({ rises, hottest_K, thickness_mm, mass_g, price, setup }) => [
      hottest_K === null ? formatNumber(rises.hottest_K) : estimateText(hottest_K),
      hottest_K === null ? 'none' : intervalText(hottest_K),
      formatNumber(rises.mean_K),
      formatNumber(Math.max(0, ...Object.values(rises.zones_K))),
      formatNumber(thickness_mm, 2),
      formatNumber(mass_g),
      ...(isPriced ? [price === null ? '' : formatNumber(price, 2)] : []),
      setup.name,
    ]),
  );
}
