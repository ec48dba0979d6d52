import { type Contest, judgePredicted, type Margin, type ModelledRise } from '../compare/index.js';
import type { Build } from '../records/index.js';
import type { HeatAssessment } from './assess-heat.js';

/**
 * Margins of what was not measured: untried set-ups, and a charge of tried ones. Each is marked as predicted, and none replaces a measured one.
 *
 * The model knows the hottest place of a cell, a zone or a shell; a probe may not sit there. So a predicted margin can be smaller than that of a
 * measured set-up that is no cooler.
 */
export function predictMargins(
  build: Build,
  { predictions }: Pick<HeatAssessment, 'predictions'>,
  contests: readonly Contest[],
): Margin[] {
  const rises = predictions
    .filter(({ measured }) => !measured)
    .flatMap(({ setup, charging, rises }) =>
      rises.flatMap(({ target, rise_K }): ModelledRise[] => {
        const place = placeOf(target.id);
        return target.kind === 'hottest' && place !== null
          ? [{ setup, ...place, phase: 'load', charging, rise_K }]
          : [];
      }),
    );
  const margins = judgePredicted(build, rises, contests);
  // A tried set-up without a measured charge has only its charge predicted: the rest of its margins are measured.
  const tried = new Set(predictions.filter(({ measured }) => measured).map(({ setup }) => setup));
  return margins.filter(
    ({ setup, use, expected_C, lowerBound }) =>
      !tried.has(setup) || (use === 'charging-load' && expected_C !== null && !lowerBound),
  );
}

function placeOf(target: string): Pick<ModelledRise, 'where' | 'zone'> | null {
  if (target.startsWith('cell-')) return { where: 'cell', zone: null };
  if (target.startsWith('zone:')) return { where: 'zone', zone: target.slice('zone:'.length) };
  return target.startsWith('shell-') ? { where: 'touch', zone: null } : null;
}
