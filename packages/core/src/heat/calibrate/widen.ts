import { usualError } from './fit-unknowns.js';
import type { LeaveOneOut, LeftOut } from './leave-one-out.js';

/** What leaving set-ups out says of the model's own error. */
export type LeftOutWords = Pick<LeaveOneOut, 'widening' | 'beyond'>;

/** Set-ups are too few to trust a good agreement: so many rows that agree as they should are added. @assumed common practice, no source */
const addedRows = 4;

/** Where only one set-up was soaked, nothing tells how the model predicts another. @assumed its usual error, doubled */
const unchecked = 2;

/** What doubts have to be multiplied by to cover what leaving out has shown; at least 1. */
export function widen(rows: readonly LeftOut[]): number {
  const squares = rows.reduce(
    (sum, { predicted_K, measured_K, predicted_u_K, measured_u_K }) =>
      sum + (predicted_K - measured_K) ** 2 / (predicted_u_K ** 2 + measured_u_K ** 2),
    0,
  );
  return Math.max(1, Math.sqrt((squares + addedRows) / (rows.length + addedRows)));
}

/**
 * What the model's own error is multiplied by in the prediction of a set-up.
 *
 * One that stays within what was soaked has what leaving out has shown. One that leaves it, in a material or a thickness, has no less than
 * the usual error of such a model, however well it followed the soaks; it is widened by what those left-out set-ups have shown that left the
 * others as well, doubled where none did; and each step beyond the farthest that was tested so counts as one more error of the model's own.
 *
 * @param leaves in how many layers the set-up leaves what was soaked
 * @assumed errors of steps are independent of one another and alike in size; common practice, no source
 */
export function wideningFor(
  { modelError }: { readonly modelError: number },
  left: LeftOutWords | null,
  leaves: number,
): number {
  const within = left?.widening ?? unchecked;
  if (leaves === 0) return within;
  const tested = left?.beyond ?? null;
  const farther = Math.sqrt((1 + leaves) / (1 + Math.min(leaves, tested?.layers ?? 0)));
  return (
    Math.max(within, tested?.widening ?? unchecked) * farther * Math.max(1, usualError.median / modelError)
  );
}
