import type { Probe, Recipe } from '../records/index.js';
import type { ImportQuestion } from './import-question.js';
import { datedCandidates } from './sniff-dates.js';
import { clockCandidates, isRowCount, numberCandidates } from './sniff-elapsed.js';
import type { SampleTable } from './sniff-table.js';
import { evenSpacing_s, judgeTime } from './time-candidate.js';

export interface SniffedTime {
  readonly time: Recipe['time'];
  /** Columns that tell time or count rows, used or not; none of them is a temperature. */
  readonly columns: readonly number[];
  readonly conclusions: readonly string[];
  readonly questions: readonly ImportQuestion[];
}

/** What separates words in a header must not hide them: `elapsed_s`, `Time[ms]`. */
function headerWords(header: string): string {
  return header.replace(/[_()[\]{}/:,;.-]+/g, ' ').trim();
}

/**
 * How the log tells time, from its header and its rows.
 *
 * A date with a time of day is preferred to a number, and a number to a time of day alone; a clock that repeats its stamps is
 * passed over where another one is finer. What the rows leave open becomes a question.
 */
export function sniffTime(
  table: SampleTable,
  header: readonly string[],
  probes: readonly Probe[],
): SniffedTime {
  const headers = Array.from({ length: table.width }, (_, column) => headerWords(header[column] ?? ''));
  const dated = datedCandidates(table);
  // The time of day beside a date is not a clock of its own: it would take a jump back for a midnight passed.
  const ofDates = new Set(dated.flatMap(({ time }) => time.columns));
  const candidates = [
    ...dated,
    ...numberCandidates(table, headers, probes),
    ...clockCandidates(table, headers).filter(
      ({ time }) => !time.columns.some((column) => ofDates.has(column)),
    ),
  ].map((candidate) => ({ ...candidate, ...judgeTime(candidate.time, table) }));
  const readable = candidates.filter(({ unread }) => unread <= 0.2);
  const certain = readable.filter(({ isGuess }) => !isGuess);
  const pool = certain.length > 0 ? certain : readable;
  const best =
    pool.find(({ falls, repeats }) => falls === 0 && repeats <= 0.2) ??
    pool.find(({ falls }) => falls === 0) ??
    pool[0];

  const columns = new Set<number>();
  for (const candidate of candidates) {
    if (candidate.isGuess && candidate !== best) continue;
    for (const column of candidate.time.columns) columns.add(column);
  }
  for (const [column, words] of headers.entries()) if (isRowCount(table, column, words)) columns.add(column);
  if (best === undefined) return { ...noClock(), columns: [...columns] };

  const questions = [...(best.questions ?? [])];
  if (best.repeats > 0.2 && questions.length === 0) {
    const spacing_s = evenSpacing_s(best.times_s);
    if (spacing_s !== undefined) {
      questions.push({
        field: 'time',
        question: 'Many rows repeat the stamp of the row before. How is their time to be taken?',
        options: [
          { label: 'By the stamp: keep the first row of each', set: { time: best.time } },
          {
            label: `Rows ${spacing_s} s apart, as the stamps average`,
            set: { time: { style: 'interval', interval_s: spacing_s } },
          },
        ],
        chosen: 0,
      });
    }
  }
  const passedOver = pool
    .filter((candidate) => candidate !== best && candidate.falls > 0 && best.falls === 0)
    .map((candidate) => `${candidate.why} It is not used, as it jumps back.`);
  return { time: best.time, columns: [...columns], conclusions: [best.why, ...passedOver], questions };
}

/** No column tells time: the spacing of the rows has to come from a person. */
function noClock(): Omit<SniffedTime, 'columns'> {
  const spacings_s = [1, 2, 5, 10, 30, 60];
  return {
    time: { style: 'interval', interval_s: 1 },
    conclusions: ['No column tells time; rows are taken to be 1 s apart for now.'],
    questions: [
      {
        field: 'time',
        question: 'No column tells time. How far apart are the rows?',
        options: spacings_s.map((interval_s) => ({
          label: `${interval_s} s`,
          set: { time: { style: 'interval', interval_s } },
        })),
        chosen: 0,
      },
    ],
  };
}
