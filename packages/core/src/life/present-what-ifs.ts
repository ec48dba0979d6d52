import type { WhatIfs } from './forecast/what-ifs.js';
import { ratioRange, yearsRange } from './life-words.js';
import { costWords, deliveredWords, runTimeWords } from './present-life.js';

export interface WhatIfRow {
  readonly id: string;
  readonly title: string;
  readonly years: string;
  /** Life over that as it is; empty for the first row and for other packs. */
  readonly ratio: string;
  readonly delivered: string;
  readonly runTime: string;
  readonly costPerYear: string;
  readonly note: string;
}

export interface WhatIfTable {
  /** What helps most, in a sentence. */
  readonly answer: string;
  readonly rows: readonly WhatIfRow[];
  readonly leftOut: readonly string[];
}

/** Below this a change is not worth a sentence. */
const worth = 1.05;

/** What other habits would do, as a table with its answer above it. */
export function presentWhatIfs({ rows, leftOut }: WhatIfs): WhatIfTable {
  const best = rows
    .filter(({ ratio }) => ratio !== null && ratio.p50 >= worth)
    .sort((a, b) => (b.ratio?.p50 ?? 0) - (a.ratio?.p50 ?? 0))[0];
  return {
    answer: best?.ratio
      ? `Of these, "${best.title}" helps most: ${ratioRange(best.ratio)} as long.`
      : 'None of these changes makes the pack last clearly longer.',
    leftOut: leftOut.map(({ title, why }) => `${title}: ${why}`),
    rows: rows.map((each) => ({
      id: each.id,
      title: each.title,
      years: yearsRange(each.years),
      ratio: each.ratio ? ratioRange(each.ratio) : '',
      delivered: deliveredWords(each.delivered_Wh),
      runTime: runTimeWords(each.runTime),
      costPerYear: costWords(each.costPerYear),
      note: each.note,
    })),
  };
}
