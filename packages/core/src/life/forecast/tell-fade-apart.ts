import { OutOfRangeError } from '../../measure/index.js';

/** How clearly a pack's own fade would show the difference between two set-ups after so many years, in standard uncertainties. */
export interface FadeContrast {
  readonly years: number;
  readonly sigmas: number;
}

const step_d = 30;

/**
 * Whether two packs' capacity tests, one a month, could show that one set-up lasts longer: mostly they cannot within a year.
 *
 * Takes the loss to follow the square root of time, and both packs to be alike but for the set-up, which is kinder than life.
 *
 * @param lifeRatio of the longer life to the shorter, 1 to 20
 * @param lossInYear of the shorter-lived one, as a fraction, above 0 to 0.5
 * @param test_u standard uncertainty of one capacity test, as a fraction of the initial capacity
 * @param years whole years of monthly tests
 * @source derived: slope of a line through the origin in sqrt(t), variance u² / Σt; the loss ratio is the root of the life ratio
 */
export function tellFadeApart(
  lifeRatio: number,
  lossInYear: number,
  test_u: number,
  years: readonly number[],
): FadeContrast[] {
  if (!(lifeRatio >= 1 && lifeRatio <= 20))
    throw new OutOfRangeError('lifeRatio', lifeRatio, [1, 20], 'Longer life over shorter.');
  if (!(lossInYear > 0 && lossInYear <= 0.5))
    throw new OutOfRangeError('lossInYear', lossInYear, [0, 0.5], 'It is a fraction.');
  const slope = lossInYear / Math.sqrt(365);
  const difference = slope * (1 - 1 / Math.sqrt(lifeRatio));
  return years.map((count) => {
    const tests = Math.round(12 * count);
    const variance = test_u ** 2 / ((step_d * tests * (tests + 1)) / 2);
    return { years: count, sigmas: difference / Math.sqrt(2 * variance) };
  });
}
