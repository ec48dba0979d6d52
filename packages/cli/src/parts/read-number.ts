import type { Fault } from '@soakbench/core/measure';

/** A number as typed, with a point or a comma; a fault where it is none, undefined where nothing was typed. */
export function readNumber(
  option: string,
  typed: string | undefined,
  unit: string,
  faults: Fault[],
): number | undefined {
  if (typed === undefined) return undefined;
  if (/^[+-]?\d+([.,]\d+)?$/.test(typed.trim())) return Number(typed.trim().replace(',', '.'));
  faults.push({
    where: option,
    what: `"${typed}" is not a number.`,
    remedy: `Give it in ${unit}, as in ${option} 5.2`,
  });
  return undefined;
}
