/** Marks of an axis: round numbers, and finer marks without words between them. */
export interface Ticks {
  readonly step: number;
  readonly decimals: number;
  readonly values: readonly number[];
  readonly between: readonly number[];
}

function multiplesWithin(step: number, low: number, high: number): number[] {
  const values: number[] = [];
  // Counted in whole steps, so that rounding errors do not add up and 0 is exactly 0.
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  for (let count = first; count <= last && values.length < 400; count += 1)
    values.push(count === 0 ? 0 : count * step);
  return values;
}

/**
 * Round values (1, 2 or 5 times a power of ten apart) inside a range.
 *
 * @param most how many may be named at most; at least 2
 */
export function findTicks(low: number, high: number, most: number): Ticks {
  const span = Math.max(high - low, Number.MIN_VALUE);
  const coarse = span / Math.max(most, 2);
  let exponent = Math.floor(Math.log10(coarse));
  let lead = [1, 2, 5].find((each) => each * 10 ** exponent >= coarse * (1 - 1e-9));
  if (lead === undefined) {
    exponent += 1;
    lead = 1;
  }
  const step = lead * 10 ** exponent;
  const finer = lead === 5 ? step / 5 : step / 2;
  const values = multiplesWithin(step, low, high);
  const named = new Set(values.map((value) => Math.round(value / finer)));
  return {
    step,
    decimals: Math.max(0, -exponent),
    values,
    between: multiplesWithin(finer, low, high).filter((value) => !named.has(Math.round(value / finer))),
  };
}

const timeSteps_s = [60, 120, 300, 600, 900, 1800, 3600, 7200, 10_800, 21_600, 43_200, 86_400];

/** Times on a clock face: minutes and hours that people count in, whole days beyond; seconds only in a short window. */
export function findTimeTicks(to_s: number, most: number, from_s = 0): number[] {
  const coarse = (to_s - from_s) / Math.max(most, 1);
  const day = 86_400;
  const steps = coarse < 30 ? [1, 2, 5, 10, 15, 30, ...timeSteps_s] : timeSteps_s;
  const step = steps.find((each) => each >= coarse) ?? Math.ceil(coarse / day) * day;
  return multiplesWithin(step, from_s, to_s);
}
