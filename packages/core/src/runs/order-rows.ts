/** Rows whose stamps do not rise: which of them are late, which wrong, and whether the clock itself was set. */

/** Where a row stood and why it is not on the time axis. */
export interface StrayRow {
  readonly row: number;
  readonly reason: string;
}

export type OrderedRows =
  | {
      readonly ok: true;
      /** Indexes of the rows on the time axis, in the order of their times. */
      readonly order: readonly number[];
      /** Rows of `order` that stood later in the file than their time says. */
      readonly late: readonly number[];
      readonly strays: readonly StrayRow[];
    }
  /** The clock was set: from `row` on it goes another way. */
  | { readonly ok: false; readonly before: number; readonly row: number; readonly isBack: boolean };

/** More rows than this in a row with an earlier time are a clock that was set back. @assumed a logger's write buffer holds a few */
const mostStray = 5;
/** More strays than this share of a log and its clock is not to be trusted. @assumed */
const mostStrayShare = 0.1;

/**
 * Sorts what came late into its place and leaves out what cannot be placed.
 *
 * A row is late where its time falls among the last few rows and none of them has it. A row far ahead of both neighbours, or
 * before rows long past, has a damaged stamp. Where more rows than a few disagree it is the clock that was set, and only a
 * person can say what is meant: that is the answer `ok: false`.
 *
 * @param times_s of all rows in the order of the file
 * @param rows how many of them there are
 * @param longestGap_s a longer step ahead is a clock that was set, not a pause
 */
export function orderRows(times_s: Float64Array, rows: number, longestGap_s: number): OrderedRows {
  const kept: number[] = [];
  const strays: StrayRow[] = [];
  let behind: number[] = [];
  const late: number[] = [];
  /** Times of late rows: a set, since a log written by two clocks has them by the thousand. */
  const lateTimes_s = new Set<number>();
  const time = (row: number | undefined) => (row === undefined ? Number.NaN : (times_s[row] as number));

  const settle = (row: number): boolean => {
    if (lateTimes_s.has(time(row))) {
      strays.push({ row, reason: 'same time as another row' });
      return true;
    }
    const top = kept.at(-1);
    if (top === undefined || time(row) > time(top)) {
      for (const each of behind) placeLate(each);
      behind = [];
      kept.push(row);
      return true;
    }
    behind.push(row);
    if (behind.length <= mostStray) return true;
    // So many rows agree with each other: perhaps it was the few before them that ran ahead.
    const first = time(behind[0]);
    let ahead = 0;
    while (ahead <= mostStray && ahead < kept.length && time(kept.at(-1 - ahead)) >= first) ahead++;
    if (ahead > mostStray) return false;
    for (const each of kept.splice(kept.length - ahead))
      strays.push({ row: each, reason: 'its time is ahead of the rows that follow' });
    const again = behind;
    behind = [];
    return again.every(settle);
  };
  const placeLate = (row: number): void => {
    const near = kept.slice(-1 - mostStray);
    const lowest = near[0];
    if (lateTimes_s.has(time(row)) || near.some((each) => time(each) === time(row)))
      strays.push({ row, reason: 'same time as another row' });
    else if (lowest !== undefined && time(row) > time(lowest)) {
      late.push(row);
      lateTimes_s.add(time(row));
    } else strays.push({ row, reason: 'its time lies before rows that stand above it' });
  };

  for (let row = 0; row < rows; row++) {
    if (!settle(row))
      return { ok: false, before: (behind[0] as number) - 1, row: behind[0] as number, isBack: true };
  }
  for (const row of behind) placeLate(row);

  const refused = dropStrayEnds(kept, strays, time, longestGap_s);
  if (refused !== undefined) return refused;
  if (late.length + strays.length > mostStrayShare * rows) {
    for (let row = 1; row < rows; row++) {
      const step_s = time(row) - time(row - 1);
      if (step_s < 0 || step_s > longestGap_s) return { ok: false, before: row - 1, row, isBack: step_s < 0 };
    }
  }
  const order = [...kept, ...late].sort((one, other) => time(one) - time(other));
  return { ok: true, order, late, strays: strays.sort((one, other) => one.row - other.row) };
}

/** A few rows at the beginning or end whose stamps lie more than the longest gap away: a clock not yet set, a damaged stamp. */
function dropStrayEnds(
  kept: number[],
  strays: StrayRow[],
  time: (row: number | undefined) => number,
  longestGap_s: number,
): Extract<OrderedRows, { ok: false }> | undefined {
  for (let at = kept.length - 1; at > 0; at--) {
    if (time(kept[at]) - time(kept[at - 1]) <= longestGap_s) continue;
    const reason = 'its time is more than a week away from the other rows';
    if (kept.length - at <= mostStray && at > mostStray) {
      for (const row of kept.splice(at)) strays.push({ row, reason });
    } else if (at <= mostStray && kept.length - at > mostStray) {
      for (const row of kept.splice(0, at)) strays.push({ row, reason });
      return undefined;
    } else {
      return { ok: false, before: kept[at - 1] as number, row: kept[at] as number, isBack: false };
    }
  }
  return undefined;
}
