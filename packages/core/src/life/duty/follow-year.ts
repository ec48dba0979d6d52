import type { YearOfUse } from './lay-out-year.js';

/** The course of one cell through a year, one value for each of its 8760 hours. */
export interface CellYear {
  readonly room_C: Float64Array;
  readonly cell_C: Float64Array;
  /** State of charge, 0 to 1. */
  readonly charge: Float64Array;
  /** Current over capacity, 1/h, above 0 discharging. */
  readonly rate: Float64Array;
}

const hours_per_year = 8760;

/**
 * Temperature, charge and current of one cell through the year, as means over each hour.
 *
 * A cell is taken to be at its settled rise from the first minute of an activity: packs of handhelds settle within an hour, and the heat of
 * that hour is counted a little too warm at its beginning and too cool at its end.
 *
 * @param rises_K rise of the cell above the room in each of `year.states`
 */
export function followYear(year: YearOfUse, rises_K: readonly number[]): CellYear {
  const [room_C, cell_C, charge, rate] = [0, 0, 0, 0].map(() => new Float64Array(hours_per_year)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (const stretch of year.stretches) {
    const hour = Math.min(hours_per_year - 1, Math.floor(24 * stretch.day + 1e-6));
    const add = (to: Float64Array, value: number) => {
      to[hour] = (to[hour] as number) + stretch.hours * value;
    };
    add(room_C, stretch.room_C);
    add(cell_C, stretch.room_C + (rises_K[stretch.state] ?? 0));
    add(charge, stretch.charge);
    add(rate, stretch.rate);
  }
  return { room_C, cell_C, charge, rate };
}

/** One cell's rises in the order of `year.states`, out of rises by name; what is not named is at the room's temperature. */
export function risesInOrder(
  year: Pick<YearOfUse, 'states'>,
  rises: Readonly<Record<string, readonly { readonly value: number }[]>>,
  cell = 0,
): number[] {
  return year.states.map((state) => {
    const cells = rises[state] ?? [];
    return (cells.length === 1 ? cells[0] : cells[cell])?.value ?? 0;
  });
}
