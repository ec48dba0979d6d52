import { BadInputError, type Fault } from '@soakbench/core/measure';
import { readNumber } from '../parts/read-number.js';

/** Differences that are asked about unless another is typed: what shields are compared for. */
const usual_K = 1;
const range_K = [0.05, 50] as const;

/** @throws BadInputError where it is no number, or none that a bench could resolve */
export function readResolve(typed: string | undefined): number {
  const faults: Fault[] = [];
  const resolve_K = readNumber('--resolve', typed, 'kelvins', faults) ?? usual_K;
  if (resolve_K < range_K[0] || resolve_K > range_K[1])
    faults.push({
      where: '--resolve',
      what: `${typed} K is not between ${range_K[0]} and ${range_K[1]} K.`,
      remedy: 'Give the difference that would matter, as in --resolve 1.0',
    });
  if (faults.length > 0) throw new BadInputError(faults);
  return resolve_K;
}
