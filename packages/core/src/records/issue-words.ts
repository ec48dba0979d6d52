import type * as z from 'zod';
import { unitEndings } from '../measure/index.js';

/** What is wrong with one field, and what to enter instead. */
export interface IssueWords {
  readonly what: string;
  readonly remedy: string;
}

/** Units in words, where they are not their own name. */
const unitWords: Readonly<Partial<Record<(typeof unitEndings)[number], string>>> = {
  C: '°C',
  h_per_day: 'hours a day',
  days_per_week: 'days a week',
  weeks_per_year: 'weeks a year',
  per_K: 'per kelvin',
  W_per_mK: 'W/(m K)',
  W_per_m2K: 'W/(m² K)',
  J_per_kgK: 'J/(kg K)',
};

/** With a space before it; empty where the field's name carries no unit. */
function unitOf(path: readonly PropertyKey[]): string {
  const name = String(path.findLast((step) => typeof step === 'string') ?? '');
  const endings = unitEndings.filter((ending) => name === ending || name.endsWith(`_${ending}`));
  const longest = endings.reduce<(typeof unitEndings)[number] | null>(
    (most, each) => (most === null || each.length > most.length ? each : most),
    null,
  );
  return longest === null ? '' : ` ${unitWords[longest] ?? longest.replace('_per_', '/')}`;
}

/** Words for values in a record, as a person typed them. */
function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

const kinds: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'text in quotation marks',
  boolean: 'true or false',
  array: 'a list in square brackets',
  object: 'a record in braces',
};

const inFull = 'docs/build.schema.json has what this field takes.';

/** A library's finding about a field, in plain words with the value, the bound and its unit. @param value what stands in the field */
export function issueWords(issue: z.core.$ZodIssue, value: unknown): IssueWords {
  const unit = unitOf(issue.path);
  // A rule of our own says what the field must be. That something is more than nought, or not empty, is said below.
  if (value !== undefined && value !== '' && /^must (?!be more)/.test(issue.message))
    return { what: `It is ${shown(value)}.`, remedy: `It ${issue.message}.` };
  switch (issue.code) {
    case 'invalid_type':
      return typeWords(issue.expected, value, unit);
    case 'too_big':
    case 'too_small':
      return boundWords(issue, value, unit);
    case 'invalid_value': {
      const known = issue.values.map((each) => shown(each)).join(', ');
      return {
        what:
          value === undefined
            ? 'It is missing.'
            : `It is ${shown(value)}, which is none of the words known here.`,
        remedy: `Enter ${issue.values.length > 1 ? 'one of ' : ''}${known}.`,
      };
    }
    case 'invalid_format':
      return {
        what: `It is ${shown(value)}, which is no ${issue.format}.`,
        remedy: issue.format.includes('date') ? 'Enter it as 2026-03-01T09:30:00Z.' : inFull,
      };
    case 'invalid_union':
      return { what: `It is ${shown(value)}, which fits none of the forms known here.`, remedy: inFull };
    default:
      return { what: `It is ${shown(value)}: ${issue.message}.`, remedy: inFull };
  }
}

function typeWords(expected: string, value: unknown, unit: string): IssueWords {
  const kind = kinds[expected] ?? expected;
  const wanted = expected === 'number' && unit !== '' ? `a number, in${unit}` : kind;
  if (value === undefined) return { what: 'It is missing.', remedy: `Enter ${wanted}.` };
  const isQuoted = expected === 'number' && typeof value === 'string' && value.trim() !== '';
  return {
    what: `It is ${shown(value)}, and must be ${kind}.`,
    remedy:
      isQuoted && Number.isFinite(Number(value))
        ? `Enter ${Number(value)} without the quotation marks.`
        : `Enter ${wanted}.`,
  };
}

type Bound = z.core.$ZodIssueTooBig | z.core.$ZodIssueTooSmall;

function boundWords(issue: Bound, value: unknown, unit: string): IssueWords {
  const isMost = issue.code === 'too_big';
  const bound = Number(isMost ? issue.maximum : issue.minimum);
  if (issue.origin === 'string')
    return isMost
      ? {
          what: `It has ${String(value).length} characters; at most ${bound} are kept.`,
          remedy: 'Shorten it.',
        }
      : { what: 'It is empty.', remedy: 'Enter a text.' };
  if (issue.origin === 'array') {
    const count = Array.isArray(value) ? value.length : 0;
    return {
      what: `It has ${count} ${count === 1 ? 'entry' : 'entries'}; ${isMost ? `at most ${bound} are taken` : `it needs ${bound}`}.`,
      remedy: isMost ? 'Leave some out.' : 'Enter those that are missing.',
    };
  }
  const limit = `${bound}${unit}`;
  const isPercent =
    isMost && bound <= 1 && unit === '' && typeof value === 'number' && value > 1 && value <= 100;
  return isMost
    ? {
        what: `It is ${shown(value)}; ${issue.inclusive === false ? `it must be less than ${limit}` : `at most ${limit}`}.`,
        remedy:
          isPercent && value >= 2
            ? `Enter a share of 1: ${value / 100} for ${value} %.`
            : `Enter ${issue.inclusive === false ? `less than ${limit}` : `${limit} or less`}.`,
      }
    : {
        what: `It is ${shown(value)}; ${issue.inclusive === false ? `it must be more than ${limit}` : `at least ${limit}`}.`,
        remedy: `Enter ${issue.inclusive === false ? `more than ${limit}` : `${limit} or more`}.`,
      };
}
