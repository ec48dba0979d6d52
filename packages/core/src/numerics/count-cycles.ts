/** One cycle of a series: from one turning point to another, counted as a whole (1) or as half (0.5). */
export interface CountedCycle {
  readonly range: number;
  readonly mean: number;
  readonly count: number;
  /** Places of its two turning points in the series. */
  readonly from: number;
  readonly to: number;
}

/** Places where a series turns round, with its two ends. Equal neighbours count once, at the first of them. */
function findTurns(values: ArrayLike<number>): number[] {
  const turns: number[] = [];
  let direction = 0;
  for (let i = 0; i < values.length; i++) {
    const last = turns.at(-1);
    if (last === undefined) {
      turns.push(i);
      continue;
    }
    const step = Math.sign((values[i] as number) - (values[last] as number));
    if (step === 0) continue;
    if (step === direction) turns[turns.length - 1] = i;
    else turns.push(i);
    direction = step;
  }
  return turns;
}

/**
 * Rainflow counting: which closed cycles a series is made of, in the order in which they close.
 *
 * Small swings inside large ones are counted as cycles of their own, and the large one stays whole. What never closes counts half;
 * of a series that goes round and round, as a year of days does, that is a handful at the ends.
 *
 * @param values at least two, evenly spaced or not: only the turning points count
 * @source [ASTM-E1049] section 5.4.4, rainflow counting; whole cycles 1, those that begin at the series' start and the rest 0.5
 */
export function countCycles(values: ArrayLike<number>): CountedCycle[] {
  const cycles: CountedCycle[] = [];
  const at = (place: number | undefined) => values[place as number] as number;
  const note = (from: number | undefined, to: number | undefined, count: number) => {
    const [a, b] = [at(from), at(to)];
    cycles.push({ range: Math.abs(a - b), mean: (a + b) / 2, count, from: from as number, to: to as number });
  };
  const open: number[] = [];
  for (const turn of findTurns(values)) {
    open.push(turn);
    while (open.length >= 3) {
      const [before, middle, last] = open.slice(-3);
      const range = Math.abs(at(last) - at(middle));
      if (range < Math.abs(at(middle) - at(before))) break;
      if (open.length === 3) {
        note(before, middle, 0.5);
        open.shift();
      } else {
        note(before, middle, 1);
        open.splice(-3, 2);
      }
    }
  }
  for (let i = 1; i < open.length; i++) note(open[i - 1], open[i], 0.5);
  return cycles;
}
