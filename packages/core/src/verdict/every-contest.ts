import type { Contest } from '../compare/index.js';
import type { CompareResult } from './verdict.js';

/** Every contest of an assessment in one list, the one that decides first. Where only charging was measured none decides, and they are there still. */
export function everyContest({ main, others }: Pick<CompareResult, 'main' | 'others'>): readonly Contest[] {
  return main === null ? others : [main, ...others];
}
