import type { RankedCandidate } from './exploration.js';

export interface Chosen {
  readonly candidate: RankedCandidate;
  readonly because: string[];
}

/**
 * Those worth a prediction with an interval: the coolest, the thinnest, lightest and cheapest that are as cool for what it matters, and
 * the best of each kind.
 *
 * @param candidates coolest first
 * @param noWorse_K a difference that does not matter
 */
export function chooseFinalists(
  candidates: readonly RankedCandidate[],
  noWorse_K: number,
  most: number,
): Chosen[] {
  const chosen: Chosen[] = [];
  const choose = (candidate: RankedCandidate | undefined, because: string) => {
    if (candidate === undefined) return;
    const known = chosen.find((each) => each.candidate === candidate);
    if (known !== undefined) known.because.push(because);
    else if (chosen.length < most) chosen.push({ candidate, because: [because] });
  };
  const coolest = candidates[0];
  choose(coolest, 'coolest');
  if (coolest === undefined) return chosen;
  const asCool = candidates.filter(({ rises }) => rises.hottest_K <= coolest.rises.hottest_K + noWorse_K);
  const least = (of: (candidate: RankedCandidate) => number | null) =>
    asCool.reduce<RankedCandidate | undefined>((best, each) => {
      const value = of(each);
      if (value === null) return best;
      const known = best === undefined ? null : of(best);
      return known === null || value < known - 1e-9 ? each : best;
    }, undefined);
  choose(
    least(({ thickness_mm }) => thickness_mm),
    'thinnest of the coolest',
  );
  choose(
    least(({ mass_g }) => mass_g),
    'lightest of the coolest',
  );
  choose(
    least(({ price }) => price),
    'cheapest of the coolest',
  );
  for (const family of new Set(candidates.map((candidate) => candidate.family)))
    choose(
      candidates.find((candidate) => candidate.family === family),
      `best ${family.replace('-', ' on ')}`,
    );
  return chosen;
}
