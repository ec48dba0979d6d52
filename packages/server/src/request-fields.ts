import { BadInputError } from '@soakbench/core/measure';

/** A text field of a request. @throws BadInputError where it is absent, empty or longer than `longest` characters */
export function needText(value: unknown, where: string, longest: number): string {
  if (typeof value === 'string' && value.trim() !== '' && value.length <= longest) return value.trim();
  throw new BadInputError([
    {
      where,
      what: `Expected a text of 1 to ${longest} characters.`,
      remedy: 'Fill it in and send it again.',
    },
  ]);
}

/** The revision a change was made on; in a form it comes as text. @throws BadInputError where it is no whole number */
export function needRevision(value: unknown): number {
  const number = typeof value === 'string' && /^\d{1,15}$/.test(value) ? Number(value) : value;
  if (typeof number === 'number' && Number.isSafeInteger(number) && number >= 0) return number;
  throw new BadInputError([
    {
      where: 'revision',
      what: 'Expected the revision the change was made on.',
      remedy: 'Load the build and send its revision with the change.',
    },
  ]);
}
