import { formatNumber, formatPercent, type Sentence } from '../measure/index.js';
import type { LifeOutlook } from './forecast/forecast-life.js';
import type { SetupForecast } from './forecast/summarise-setup.js';
import { rangeMeaning, ratioRange, yearsRange } from './life-words.js';

/** A forecast in a line or two, for pages that are not about it. */
export interface OutlookView {
  /** Which set-up lasts longest, and how firm that is. */
  readonly answer: Sentence;
  /** How many years, and why they are not firm. */
  readonly years: Sentence;
  /** What set-ups that were never soaked would do, one sentence each. */
  readonly predicted: readonly Sentence[];
  /** The same in a few words, for a line of all stages. */
  readonly short: string;
}

/** Chances from which a ranking is called almost certain, likely, or a leaning. @assumed plain use of these words */
const firm = { certain: 0.95, likely: 0.8, leaning: 0.6 } as const;

export function presentOutlook(outlook: LifeOutlook): OutlookView {
  return {
    answer: answerOf(outlook),
    years: yearsOf(outlook),
    predicted: predictedOf(outlook),
    short: shortOf(outlook),
  };
}

function shortOf({ setups }: LifeOutlook): string {
  const [first] = setups;
  if (!first) return '';
  const best = longestOf(setups);
  const years = yearsRange(first.years).replace(/ years/, ' y');
  return setups.length === 1 ? years : `${best.name} ${formatPercent(best.chanceLongest)}, ${years}`;
}

function longestOf(setups: readonly SetupForecast[]): SetupForecast {
  return setups.reduce((most, each) => (each.chanceLongest > most.chanceLongest ? each : most));
}

function answerOf({ setups }: LifeOutlook): Sentence {
  const [first] = setups;
  if (!first) return ['No set-up was given.'];
  if (setups.length === 1) {
    return [
      `In ${first.name} the pack keeps 80 % of its capacity for `,
      { figure: yearsRange(first.years), why: rangeMeaning },
      ', which says more about the models than about the pack. Another set-up to compare with gives a firmer answer.',
    ];
  }
  const best = longestOf(setups);
  const chance = {
    figure: formatPercent(best.chanceLongest),
    why: 'Share of draws in which it outlasts all others.',
  };
  const opening =
    best.chanceLongest >= firm.certain
      ? `The pack almost certainly lasts longest in ${best.name} (chance `
      : best.chanceLongest >= firm.likely
        ? `The pack probably lasts longest in ${best.name} (chance `
        : best.chanceLongest >= firm.leaning
          ? `The pack perhaps lasts longest in ${best.name} (chance `
          : `Which set-up the pack lasts longest in is open; ${best.name} leads (chance `;
  if (!best.ratio) return [opening, chance, '): nothing else was found to lengthen its life.'];
  const beforeBelief = best.isPredicted ? ' Soak it before you believe it.' : '';
  return [
    opening,
    chance,
    `): `,
    {
      figure: ratioRange(best.ratio),
      why: `Life in it over life in ${first.name}, pack by pack. ${rangeMeaning}`,
    },
    ` as long as in ${first.name}.${beforeBelief}`,
  ];
}

/** Their names say that they are predicted. */
function predictedOf({ setups }: LifeOutlook): Sentence[] {
  const [first] = setups;
  return setups.flatMap(({ name, isPredicted, ratio, chanceLongest }) =>
    first && isPredicted && ratio
      ? [
          [
            `In ${name}, never soaked: `,
            { figure: ratioRange(ratio), why: `Life in it over life in ${first.name}. ${rangeMeaning}` },
            ` as long as in ${first.name}, and longest of all in ${formatPercent(chanceLongest)} of the draws.`,
          ],
        ]
      : [],
  );
}

function yearsOf({ setups, differ }: LifeOutlook): Sentence {
  const [first] = setups;
  if (!first) return [];
  const isRanked = setups.some(({ chanceLongest }) => chanceLongest >= firm.likely);
  const factors = `${formatNumber(differ.models, 1)} times between models, ${formatNumber(differ.setups, 2)} times between set-ups`;
  return [
    `How many years that is, is not firm: in ${first.name} `,
    { figure: yearsRange(first.years), why: rangeMeaning },
    ' to 80 %. ',
    setups.length > 1
      ? differ.models > differ.setups
        ? `Models differ more than set-ups do (${factors}): ${isRanked ? 'trust the order and not the years' : 'the years say little, and the order is not firm either'}.`
        : `Set-ups differ at least as much as models do (${factors}).`
      : `The models alone differ ${formatNumber(differ.models, 1)} times.`,
  ];
}
