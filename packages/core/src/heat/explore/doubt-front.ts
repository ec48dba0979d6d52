import { type Estimate, found, type Result } from '../../measure/index.js';
import type { HeatBench } from '../assess-heat.js';
import type { Fit } from '../calibrate/fit-unknowns.js';
import type { PredictedRise, Use } from '../calibrate/predict.js';
import type { NoDeviceField } from '../device/solve-device.js';
import type { Finalist, RankedCandidate } from './exploration.js';

/**
 * Doubts for the whole front, at the hottest place of the pack.
 *
 * Finalists have theirs from a whole prediction. The others keep the value they were ranked by; what the runs left open is found by an adjoint
 * on merged cells, the model's own error is its share of the rise, and the grid is taken to be off by as much as at the finalist where it is
 * off most.
 *
 * @param candidates all, in any order; those off the front come back as they are
 */
export function doubtFront(
  bench: HeatBench,
  fit: Pick<Fit, 'modelError'>,
  use: Use,
  candidates: readonly RankedCandidate[],
  finalists: readonly Finalist[],
  options: { readonly isCancelled?: () => boolean; readonly onProgress?: (share: number) => void } = {},
): Result<RankedCandidate[], NoDeviceField> {
  const { onProgress, ...cancelling } = options;
  const known = new Map(finalists.map((each) => [each.setup, each.hottest_K]));
  const grid_K = Math.max(0, ...finalists.map(({ rises }) => hottestCell(rises)?.parts.grid_K ?? 0));
  const front = candidates.filter(({ onFront }) => onFront).length;
  let done = 0;
  const doubted: RankedCandidate[] = [];
  for (const candidate of candidates) {
    if (!candidate.onFront) {
      doubted.push(candidate);
      continue;
    }
    onProgress?.(done++ / front);
    const own = known.get(candidate.setup.id);
    if (own !== undefined) {
      doubted.push({ ...candidate, hottest_K: own });
      continue;
    }
    const rough = bench.predictRoughly(candidate.setup, use, cancelling);
    if (!rough.ok) return rough as Result<never, NoDeviceField>;
    const rise = hottestCell(rough.value.rises);
    const value = candidate.rises.hottest_K;
    const model = bench.wideningOf(candidate.setup) * fit.modelError;
    doubted.push({
      ...candidate,
      hottest_K: rise === undefined ? null : doubtOf(value, rise, model, grid_K),
    });
  }
  return found(doubted);
}

/** The doubt of a value from that of the same place on another grid, where rises are a little larger or smaller all through. */
function doubtOf(value: number, { rise_K, parts }: PredictedRise, model: number, grid_K: number): Estimate {
  const unknowns_K = parts.unknowns_K * (value / rise_K.value);
  return {
    value,
    u: Math.hypot(unknowns_K, model * value, grid_K),
    dof: rise_K.dof ?? null,
  };
}

function hottestCell(rises: readonly PredictedRise[]): PredictedRise | undefined {
  return rises
    .filter(({ target }) => target.kind === 'hottest' && target.id.startsWith('cell-'))
    .reduce<PredictedRise | undefined>(
      (most, each) => (most === undefined || each.rise_K.value > most.rise_K.value ? each : most),
      undefined,
    );
}
