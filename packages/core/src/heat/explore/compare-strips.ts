import type { RankedCandidate, StripsEffect, StripsPair } from './exploration.js';

/**
 * What strips under a plate do: each plate on strips against the same plate without them.
 *
 * Strips hold a plate off the pack. That keeps heat from the pack where the air between insulates it, and takes away from the plate what the
 * pack would have carried off; where they conduct well, or are wide, they bring the heat back in stripes.
 *
 * @returns null where no such pair was computed
 */
export function compareStrips(candidates: readonly RankedCandidate[]): StripsEffect | null {
  const byLayers = new Map(candidates.map((each) => [JSON.stringify(each.setup.layers), each]));
  const pairs = candidates.flatMap(({ setup, rises }): StripsPair[] => {
    if (!setup.layers.some(({ strips }) => strips !== undefined)) return [];
    const without = byLayers.get(JSON.stringify(setup.layers.filter(({ strips }) => strips === undefined)));
    if (without === undefined) return [];
    return [
      {
        setup: setup.id,
        without: without.setup.id,
        change_K: rises.hottest_K - without.rises.hottest_K,
      },
    ];
  });
  if (pairs.length === 0) return null;
  const sorted = [...pairs].sort((one, other) => one.change_K - other.change_K);
  return {
    pairs: pairs.length,
    warmer: pairs.filter(({ change_K }) => change_K > 0).length,
    best: sorted[0] as StripsPair,
    worst: sorted.at(-1) as StripsPair,
  };
}
