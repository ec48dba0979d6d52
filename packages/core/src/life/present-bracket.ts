import type { IntervalView } from '../drawing/index.js';
import { formatNumber } from '../measure/index.js';
import type { Build } from '../records/index.js';
import type { LifeBracket } from './bracket.js';

function rangeWords([low, high]: readonly [number, number]): string {
  const [from, to] = [formatNumber(low, 2), formatNumber(high, 2)];
  return from === to ? from : `${from} to ${to}`;
}

/**
 * Life factors: thick stroke the range over the published activation energies, thin stroke with the temperatures' own
 * doubt, ticks the single models. There is no dot, because no model is the best one.
 *
 * @param chosen the set-up drawn in the accent, where one is chosen
 */
export function presentBracket(
  build: Pick<Build, 'setups'>,
  bracket: LifeBracket,
  chosen?: string | null,
): IntervalView {
  const nameOf = (id: string) => build.setups.find((setup) => setup.id === id)?.name ?? id;
  const baseline = nameOf(bracket.baseline);
  const rows = bracket.rows.filter((row) => row.setup !== bracket.baseline);
  return {
    label:
      rows.length === 0
        ? `Life against ${baseline}: no other set-up to compare with.`
        : `Life as a multiple of that in ${baseline}: ${rows.map((row) => `${nameOf(row.setup)} ${rangeWords(row.factor)}`).join('; ')}.`,
    unit: '×',
    rows: rows.map((row) => ({
      name: [{ words: nameOf(row.setup) }],
      mark: { value: null, thick: row.factor, thin: row.factor95 },
      isFirm: row.factor95[0] > 1 || row.factor95[1] < 1,
      isChosen: row.setup === chosen,
      runs: row.byModel.map((each) => each.factor),
      figure: `${rangeWords(row.factor)} ×`,
      note: '',
    })),
    zero: { at: 1, words: `as ${baseline}`, toward: 'longer →' },
  };
}
