import { ageingModels, type LifeBracket } from '@soakbench/core/life';
import { formatCelsius, formatNumber, type Sentence } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { setupName } from '../parts/names.js';
import type { Row } from '../parts/table.js';

type LifeRow = LifeBracket['rows'][number];
type Names = Pick<Build, 'setups'>;

/** The row a sentence speaks of: the chosen set-up, else the one that gains most; null where there is only the baseline. */
function spokenRow(life: LifeBracket, chosen: string | null): LifeRow | null {
  const others = life.rows.filter(({ setup }) => setup !== life.baseline);
  const byGain = [...others].sort((one, other) => other.factor[0] - one.factor[0]);
  return others.find(({ setup }) => setup === chosen) ?? byGain[0] ?? null;
}

function rangeWords([low, high]: readonly [number, number]): string {
  const [from, to] = [formatNumber(low, 2), formatNumber(high, 2)];
  return from === to ? from : `${from} to ${to}`;
}

/** The page's answer. It gives a ratio and says plainly that there is no year count. */
export function lifeAnswer(build: Names, life: LifeBracket, chosen: string | null): Sentence {
  const row = spokenRow(life, chosen);
  const baseline = setupName(build, life.baseline);
  if (row === null) return [`Only ${baseline} was measured, so there is nothing to hold its heat against.`];
  const isOpen = row.factor95[0] <= 1 && row.factor95[1] >= 1;
  return [
    `With ${setupName(build, row.setup)} the cells last `,
    {
      figure: `${rangeWords(row.factor)} times`,
      why: `The lowest and the highest of ${row.byModel.length} published temperature dependences, each weighted by the hours of the day at ${formatCelsius(row.load_C)} under load and ${formatCelsius(row.idle_C)} idle.`,
    },
    ` as long as with ${baseline}`,
    isOpen
      ? `; with the doubt of the temperatures, ${rangeWords(row.factor95)}, it may make no difference.`
      : `, ${rangeWords(row.factor95)} with the doubt of the temperatures.`,
    ' No year count: that needs the pack’s own history.',
  ];
}

/** The same in a line, for the verdict. */
export function bracketWords(build: Names, life: LifeBracket, chosen: string | null): string {
  const row = spokenRow(life, chosen);
  if (row === null) return 'Only one set-up was measured, so there is nothing to hold its heat against.';
  return `With ${setupName(build, row.setup)} the cells last ${rangeWords(row.factor)} times as long as with ${setupName(build, life.baseline)}. The ranking is firm, the years are not counted.`;
}

export function bracketRows(build: Names, life: LifeBracket, chosen: string | null): Row[] {
  return life.rows.map((row) => ({
    key: row.setup,
    pick: row.setup === chosen,
    cells: [
      setupName(build, row.setup),
      row.setup === life.baseline ? '1, the baseline' : `${rangeWords(row.factor)} ×`,
      row.setup === life.baseline ? '' : `${rangeWords(row.factor95)} ×`,
      formatCelsius(row.load_C),
      formatCelsius(row.idle_C),
    ],
  }));
}

/** One row per published model: its activation energy, and the factor of each set-up. */
export function modelRows(life: LifeBracket): Row[] {
  const others = life.rows.filter(({ setup }) => setup !== life.baseline);
  const models = life.rows[0]?.byModel ?? [];
  return models.map(({ model, activation_kJ_per_mol }) => ({
    key: model,
    cells: [
      model,
      ageingModels.find((each) => each.model === model)?.source.replace(/[[\]]/g, '') ?? '',
      formatNumber(activation_kJ_per_mol, 1),
      ...others.map((row) => {
        const factor = row.byModel.find((each) => each.model === model)?.factor;
        return factor === undefined ? '–' : `${formatNumber(factor, 2)} ×`;
      }),
    ],
  }));
}
