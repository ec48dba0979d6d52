import type { Fault } from '@soakbench/core/measure';
import { type Page, paint, wrap } from './page.js';

/** More faults at once than a person mends in one go. */
const shown = 20;

/** Where, what, what to do: one block for each fault. */
export function tellFaults(page: Page, faults: readonly Fault[]): string[] {
  const lines = faults
    .slice(0, shown)
    .flatMap(({ where, what, remedy }) => [
      paint(page, 'strong', where),
      ...wrap(page, what, '  '),
      ...(remedy === '' ? [] : wrap(page, remedy, '  ')),
    ]);
  return faults.length > shown ? [...lines, `and ${faults.length - shown} more of the kind`] : lines;
}
