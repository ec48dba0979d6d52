import { presentOutlook } from '@soakbench/core/life';
import type { StageName } from '@soakbench/core/stages';
import type { StageRow } from '../parts/stage-rows.js';
import type { LifeAnswer } from '../worker/life-worker.js';

/** What the stage line says of life once a forecast is made: it lives on the page, not in the assessment. */
export function lifeStates(
  answer: LifeAnswer | null,
): ReadonlyMap<StageName, Pick<StageRow, 'level' | 'words'>> {
  return answer?.kind === 'forecast'
    ? new Map([['life', { level: 'look', words: presentOutlook(answer.made.forecast).short }]])
    : new Map();
}
