import type { Probe, Recipe } from '../records/index.js';
import type { ImportQuestion } from './import-question.js';
import { orderRows } from './order-rows.js';
import { day_s } from './read-stamp.js';
import { datedCandidates } from './sniff-dates.js';
import { clockCandidates, isRowCount, numberCandidates } from './sniff-elapsed.js';
import type { SampleTable } from './sniff-table.js';
import { sniffOffset_min, stampsNameOffset, statedInterval_s } from './sniff-zone.js';
import {
  type ClockTime,
  evenSpacing_s,
  judgeTime,
  type TimeCandidate,
  type TimeQuality,
} from './time-candidate.js';

export interface SniffedTime {
  readonly time: Recipe['time'];
  /** Columns that tell time or count rows, used or not; none of them is a temperature. */
  readonly columns: readonly number[];
  readonly conclusions: readonly string[];
  readonly questions: readonly ImportQuestion[];
}

/** What separates words in a header must not hide them: `elapsed_s`, `Time[ms]`. */
function headerWords(header: string): string {
  return header.replace(/[\s_()[\]{}/:,;.-]+/g, ' ').trim();
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
  preamble = '',
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
  const stated_s = statedInterval_s(preamble);
  if (best === undefined) return { ...noClock(stated_s), columns: [...columns] };
  if (best.times_s.length > 2 && best.repeats === 1) {
    return { ...noClock(stated_s, `${best.why} It stands still.`), columns: [...columns] };
  }

  const { time, why } = refineTime(best, table, header, preamble);
  const questions = [...(best.questions ?? [])];
  const quality = time === best.time ? best : judgeTime(time, table);
  if (quality.repeats > 0.2 && questions.length === 0) {
    const spacing_s = evenSpacing_s(quality.times_s);
    if (spacing_s !== undefined) {
      questions.push({
        field: 'time',
        question: 'Many rows repeat the stamp of the row before. How is their time to be taken?',
        options: [
          { label: 'By the stamp: keep the first row of each', set: { time } },
          {
            label: `Rows ${spacing_s} s apart, as the stamps average`,
            set: { time: { style: 'interval', interval_s: spacing_s } },
          },
        ],
        chosen: 0,
      });
    }
  }
  const backwards = askBackwards(time, quality, stated_s);
  if (backwards && questions.length === 0) questions.push(backwards.question);
  const passedOver = pool
    .filter((candidate) => candidate !== best && candidate.falls > 0 && best.falls === 0)
    .map((candidate) => `${candidate.why} It is not used, as it jumps back.`);
  return {
    time: backwards && questions.includes(backwards.question) ? backwards.time : time,
    columns: [...columns],
    conclusions: [best.why, ...why, ...passedOver],
    questions,
  };
}

/** What the header and the rows say besides: the zone of the clock, and a dial of twelve hours. */
function refineTime(
  best: TimeCandidate & TimeQuality,
  table: SampleTable,
  header: readonly string[],
  preamble: string,
): { time: ClockTime; why: string[] } {
  const { time } = best;
  if (time.style === 'clock' && best.falls > 0) {
    const onDial: ClockTime = { ...time, dial_h: 12 };
    if (judgeTime(onDial, table).falls === 0)
      return { time: onDial, why: ['Its hours go from 12 to 1, so it is read as a dial of twelve hours.'] };
  }
  if ((time.style === 'iso' || time.style === 'date') && !stampsNameOffset(table, time.columns)) {
    const timeHeader = time.columns.map((column) => header[column] ?? '').join(' ');
    const offset_min = sniffOffset_min(timeHeader, preamble);
    if (offset_min !== undefined && offset_min !== 0) {
      const hours = `${Math.abs(offset_min) / 60} h`;
      return {
        time: { ...time, utcOffset_min: offset_min },
        why: [`Its clock is ${hours} ${offset_min > 0 ? 'ahead of' : 'behind'} UTC, as the header says.`],
      };
    }
  }
  return { time, why: [] };
}

/** A clock that goes back for more than a few rows: only a person can say what it means. */
function askBackwards(
  time: ClockTime,
  { times_s }: TimeQuality,
  stated_s: number | undefined,
): { question: ImportQuestion; time: ClockTime } | undefined {
  if (orderRows(Float64Array.from(times_s), times_s.length, 7 * day_s).ok) return undefined;
  const steps_s = times_s
    .slice(1)
    .map((time_s, row) => time_s - (times_s[row] ?? 0))
    .filter((step_s) => step_s > 0)
    .sort((one, other) => one - other);
  const usual_s = stated_s ?? Number((steps_s[steps_s.length >> 1] ?? 1).toPrecision(3));
  const byIndex = {
    label: `Take no notice of the clock: rows ${usual_s} s apart${stated_s === undefined ? ', as most of them are' : ', as the header says'}`,
    set: { time: { style: 'interval', interval_s: usual_s } },
  };
  const asIs = {
    label: 'By the clock all the same; the import is refused where it goes back',
    set: { time },
  };
  if (time.style !== 'elapsed') {
    return {
      time,
      question: {
        field: 'time',
        question: 'The clock goes back. How is the time to be taken?',
        options: [asIs, byIndex],
        chosen: 0,
      },
    };
  }
  const joined: ClockTime = { ...time, restart: 'join' };
  return {
    time: joined,
    question: {
      field: 'time',
      question: 'The elapsed time begins again. How are the parts to be joined?',
      options: [
        { label: 'Go on one row later; for how long the logger was off is not known', set: { time: joined } },
        asIs,
        byIndex,
      ],
      chosen: 0,
    },
  };
}

/** No column tells time: the spacing of the rows is what the header states, or has to come from a person. */
function noClock(stated_s: number | undefined, why = 'No column tells time.'): Omit<SniffedTime, 'columns'> {
  if (stated_s !== undefined) {
    return {
      time: { style: 'interval', interval_s: stated_s },
      conclusions: [`${why} Rows are ${stated_s} s apart, as stated above the table.`],
      questions: [],
    };
  }
  const spacings_s = [1, 2, 5, 10, 30, 60];
  return {
    time: { style: 'interval', interval_s: 1 },
    conclusions: [`${why} Rows are taken to be 1 s apart for now.`],
    questions: [
      {
        field: 'time',
        question: `${why} How far apart are the rows?`,
        options: spacings_s.map((interval_s) => ({
          label: `${interval_s} s`,
          set: { time: { style: 'interval', interval_s } },
        })),
        chosen: 0,
      },
    ],
  };
}
