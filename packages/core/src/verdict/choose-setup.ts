import type { Contest, Margin } from '../compare/index.js';
import type { Build } from '../records/index.js';

/** Which set-up, or why none. */
export type Choice =
  | { readonly kind: 'fit'; readonly setup: string; readonly coolest: string }
  | { readonly kind: 'nothing-better'; readonly setup: string }
  | { readonly kind: 'single-runs' }
  | { readonly kind: 'one-setup'; readonly setup: string }
  | { readonly kind: 'no-runs' };

/** Thickness of all layers together, mm. */
export function setupThickness_mm(build: Pick<Build, 'setups'>, setup: string): number {
  const layers = build.setups.find(({ id }) => id === setup)?.layers ?? [];
  return layers.reduce((sum, layer) => sum + layer.thickness_mm, 0);
}

/**
 * The set-up to fit: of those shown to be cooler than the baseline, and not shown to be warmer than the coolest of them, the
 * thinnest. Space is what the swelling pack needs, so it is not spent on a gain that was not shown.
 *
 * Set-ups that pass fewer stop limits under discharge go first: a limit outranks a millimetre.
 */
export function chooseSetup(
  build: Pick<Build, 'setups'>,
  contest: Contest | null,
  margins: readonly Margin[],
): Choice {
  if (contest === null) return { kind: 'no-runs' };
  const [first] = contest.setups;
  if (contest.setups.length === 1 && first !== undefined) return { kind: 'one-setup', setup: first.setup };
  const findings = [...contest.toBaseline, ...contest.pairs];
  if (findings.every(({ finding }) => finding === 'no-verdict')) return { kind: 'single-runs' };
  const better = contest.toBaseline
    .filter(({ finding, cooler_K }) => finding === 'shown' && cooler_K.value > 0)
    .map(({ setup }) => setup);
  if (better.length === 0) return { kind: 'nothing-better', setup: contest.baseline };
  const fails = (setup: string) =>
    margins.filter(
      (margin) => margin.setup === setup && margin.level === 'stop' && margin.use.startsWith('discharging'),
    ).length;
  const fewest = Math.min(...better.map(fails));
  const eligible = better.filter((setup) => fails(setup) === fewest);
  const rise = (setup: string) =>
    contest.setups.find((candidate) => candidate.setup === setup)?.rise_K.value ?? Number.POSITIVE_INFINITY;
  const coolest = eligible.reduce((best, setup) => (rise(setup) < rise(best) ? setup : best));
  const level = eligible.filter(
    (setup) =>
      !contest.pairs.some(
        (pair) => pair.setup === coolest && pair.other === setup && pair.finding === 'shown',
      ),
  );
  const thinnest = level.reduce((best, setup) =>
    setupThickness_mm(build, setup) < setupThickness_mm(build, best) ? setup : best,
  );
  return { kind: 'fit', setup: thinnest, coolest };
}
