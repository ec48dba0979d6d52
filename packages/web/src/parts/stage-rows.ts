import { builtStages, type StageName, stages } from '@soakbench/core/stages';
import type { Assessment } from '@soakbench/core/verdict';
import type { PageName } from '../router.js';
import type { Level } from './level.js';

export interface StageRow {
  readonly name: StageName;
  readonly question: string;
  readonly level: Level;
  readonly words: string;
  /** The page it leads to; null where this version does not carry the stage out. */
  readonly page: PageName | null;
  /** Past the work done, the rule is only pencilled. */
  readonly later: boolean;
}

/** The verdict is the zero of the line; the stages follow in the order of the work. */
const lineOrder: readonly StageName[] = [
  'verdict',
  ...stages.map((stage) => stage.name).filter((name) => name !== 'verdict'),
];

/**
 * What the stage line shows: each stage with its state, also before anything is computed.
 *
 * @param more states that the assessment does not hold, because they are worked out on their own page
 */
export function stageRows(
  assessment: Assessment | null,
  more: ReadonlyMap<StageName, Pick<StageRow, 'level' | 'words'>> = new Map(),
): readonly StageRow[] {
  return lineOrder.map((name) => {
    const question = stages.find((stage) => stage.name === name)?.question ?? '';
    const page = builtStages.includes(name) ? (name as PageName) : null;
    if (page === null) return { name, question, page, level: 'none', words: 'not built yet', later: true };
    const state = more.get(name) ?? assessment?.stages.find((candidate) => candidate.stage === name);
    const level = state?.level ?? 'none';
    return {
      name,
      question,
      page,
      level,
      words: state?.words ?? 'reading the logs',
      later: level === 'none',
    };
  });
}
