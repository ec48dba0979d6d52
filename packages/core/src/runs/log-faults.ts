import { BadInputError, type Fault, formatCount } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import type { UnreadTally } from './unread-tally.js';

/** A row's place and its stamp as written. */
export interface StampedLine {
  readonly line: number;
  readonly stamp: string;
}

/** A clock that goes back, or leaps ahead as one that was set while logging. */
export function clockFault(
  file: string,
  before: StampedLine,
  after: StampedLine,
  isBack: boolean,
  recipe: Recipe,
): BadInputError {
  const stamps = `line ${before.line} says ${before.stamp}, line ${after.line} says ${after.stamp}.`;
  const order =
    recipe.time.style === 'date' ? ' If day and month are mixed up, correct their order in the recipe.' : '';
  return new BadInputError([
    {
      where: `${file}:${after.line}`,
      what: `The clock ${isBack ? 'jumps back' : 'leaps ahead by more than a week'}: ${stamps}`,
      remedy: `Split the file before line ${after.line} and import the parts as logs of their own, or import it again with time style \`interval\` and a stated spacing.${order}`,
    },
  ]);
}

/** A file that gives no series says why, with the reasons it was left out by. */
export function refuseBarren(
  rows: number,
  anyReading: boolean,
  tally: UnreadTally,
  recipe: Recipe,
  file: string,
): void {
  if (rows >= 2 && anyReading) return;
  const why = tally
    .list()
    .slice(0, 4)
    .map(
      ({ reason, count, firstLine }) =>
        `${reason} (${formatCount(count, 'row')}, first in line ${firstLine})`,
    )
    .join('; ');
  const what = !anyReading
    ? 'There is no row of numbers in this file.'
    : 'There is only one usable row in this file; a run needs at least two.';
  const fault: Fault = {
    where: `${file}:${recipe.headerLines + 1}`,
    what: why === '' ? what : `${what} Found: ${why}.`,
    remedy:
      'Check the delimiter, the decimal mark, the time style and the columns of the recipe, or export the log again.',
  };
  throw new BadInputError([fault]);
}
