import { followYear } from './duty/follow-year.js';
import type { YearOfUse } from './duty/lay-out-year.js';

/** A small picture of the year: months in temperature, and a day in the middle of the year hour by hour. */
export interface YearView {
  readonly months: readonly {
    readonly room_C: number;
    readonly cell_C: number;
    readonly warmest_C: number;
    readonly charge: number;
  }[];
  readonly day: readonly { readonly hour: number; readonly cell_C: number; readonly charge: number }[];
  readonly words: string;
}

const hours_per_month = 730;
/** A Monday-to-Sunday year begins with a day of use; this is such a day near midsummer. */
const shownDay = 182;

/** @param rises_K rise of the cell above the room in each of `year.states` */
export function presentYear(year: YearOfUse, rises_K: readonly number[]): YearView {
  const { room_C, cell_C, charge } = followYear(year, rises_K);
  const mean = (values: Float64Array, from: number, to: number) =>
    values.subarray(from, to).reduce((sum, value) => sum + value, 0) / (to - from);
  const months = Array.from({ length: 12 }, (_, month) => {
    const [from, to] = [month * hours_per_month, (month + 1) * hours_per_month];
    return {
      room_C: mean(room_C, from, to),
      cell_C: mean(cell_C, from, to),
      warmest_C: Math.max(...cell_C.subarray(from, to)),
      charge: mean(charge, from, to),
    };
  });
  const all = mean(cell_C, 0, cell_C.length);
  const hot = cell_C.reduce((count, value) => count + (value > 35 ? 1 : 0), 0) / cell_C.length;
  return {
    months,
    day: Array.from({ length: 24 }, (_, hour) => ({
      hour,
      cell_C: cell_C[24 * shownDay + hour] ?? Number.NaN,
      charge: charge[24 * shownDay + hour] ?? Number.NaN,
    })),
    words: `Over the year the cell is at ${all.toFixed(0)} °C on average, above 35 °C for ${(100 * hot).toFixed(0)} % of the time, and ${(100 * mean(charge, 0, charge.length)).toFixed(0)} % full.`,
  };
}
