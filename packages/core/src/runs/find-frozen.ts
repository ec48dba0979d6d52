/** A sensor that is stuck repeats itself. So does a steady one that is read to a coarse step: what tells them apart is a load that changes, or noise. */
import { averageBlocks, firstAt } from './block-means.js';
import { fitSettling, remainingAt } from './settling-fit.js';

/** A stretch of rows with one and the same reading, s from the first row. */
export interface FrozenStretch {
  readonly from_s: number;
  readonly to_s: number;
  /** Whether it lasted through a change of load, lacks the noise that the sensor had before, or broke off a climb that others went on with. */
  readonly by: 'load' | 'noise' | 'climb';
}

/** What else the log tells while a probe stands still; rows are those of the probe. */
export interface Company {
  /** Readings of the other probes of the device. */
  readonly others_C: readonly Float64Array[];
  /** Readings of the room, where it was logged. */
  readonly room_C: Float64Array | undefined;
  /** Period of the load, where it is looped. */
  readonly loop_s: number | null;
}

/** A reading that stands still this long while the load comes on or goes off is a stuck sensor. @assumed */
export const still_s = 900;

/** So long behind a change of load is looked at, where the log has so much. @assumed */
const looked_s = 2 * still_s;

/** Noise is judged in windows of this length, longer where they would hold too few rows; of fewer windows it is not. @assumed */
const window_s = 300;
const windowRows = 20;
const fewestWindows = 6;

/** Chance of so still a stretch from a sensor that works, at most. @assumed */
const chance = 1e-4;

/** A climb is judged by so many means at most, and not by fewer than the second. */
const climbBlocks = 60;
const fewestBlocks = 12;

/** Share of the climb foretold that must be missing: the curve is carried on for as long again as it was seen. @assumed */
const trusted = 0.5;

/** So many steps of the display are no climb. @assumed */
const fewSteps = 2;

/**
 * The stretch in which a probe of the device seems stuck; null where there is none.
 *
 * A reading is stuck where it stays the same for a quarter of an hour and more behind a change of load. In a log that ends under load
 * it is stuck where it repeats itself to the end without the noise it had in idle. Noise counts there where a window spans one and a half steps of the display
 * more than it drifts: then noise reaches the steps on either side of a level, wherever that lies, so a window without a change is less
 * likely than one without such noise. A quiet sensor is stuck there where the curve it followed under load would have gone on by several steps,
 * more than the room moved, while another probe of the device did go on. One that sticks when all have settled cannot be told from them.
 *
 * @param reading_C as logged; NaN where there is no reading, which neither breaks a stretch nor counts for it
 * @param load when the load came on and went off
 */
export function findFrozen(
  after_s: Float64Array,
  reading_C: Float64Array,
  load: { readonly from_s: number; readonly to_s: number },
  company: Company = { others_C: [], room_C: undefined, loop_s: null },
): FrozenStretch | null {
  for (const stretch of stillStretches(after_s, reading_C)) {
    if (lastsThrough(stretch, load, after_s)) return { ...stretch, by: 'load' };
    const isLast = stretch.to_s >= (after_s.at(-1) ?? 0) - still_s / 10;
    if (!isLast || stretch.from_s <= load.from_s) continue;
    if (isTooStill(stretch, load.from_s, after_s, reading_C)) return { ...stretch, by: 'noise' };
    if (brokeOff(stretch, load.from_s, after_s, reading_C, company)) return { ...stretch, by: 'climb' };
  }
  return null;
}

type Stretch = Omit<FrozenStretch, 'by'>;

/** Stretches of one reading, long enough to be looked at and of ten rows or more. */
function stillStretches(after_s: Float64Array, reading_C: Float64Array): Stretch[] {
  const found: Stretch[] = [];
  let first = -1;
  let last = -1;
  let rows = 0;
  const close = () => {
    const [from_s, to_s] = [after_s[first] ?? 0, after_s[last] ?? 0];
    if (rows >= 10 && to_s - from_s >= still_s) found.push({ from_s, to_s });
  };
  for (let row = 0; row < reading_C.length; row++) {
    const value = reading_C[row] as number;
    if (Number.isNaN(value)) continue;
    if (first < 0 || value !== reading_C[first]) {
      close();
      first = row;
      rows = 0;
    }
    last = row;
    rows++;
  }
  close();
  return found;
}

function lastsThrough(
  { from_s, to_s }: Stretch,
  load: { readonly from_s: number; readonly to_s: number },
  after_s: Float64Array,
): boolean {
  const end_s = after_s.at(-1) ?? 0;
  const looked = [
    [load.from_s, Math.min(load.from_s + looked_s, load.to_s)],
    [load.to_s, Math.min(load.to_s + looked_s, end_s)],
  ] as const;
  // The change may fall between two rows, and where it is found has a doubt of its own.
  const grace_s = still_s / 10;
  return looked.some(
    ([change_s, until_s]) =>
      until_s - change_s >= still_s && from_s <= change_s + grace_s && to_s >= until_s - grace_s,
  );
}

function isTooStill(
  { from_s, to_s }: Stretch,
  idleEnd_s: number,
  after_s: Float64Array,
  reading_C: Float64Array,
): boolean {
  const idle = reading_C.subarray(0, firstAt(after_s, idleEnd_s));
  const rows = Math.max(windowRows, Math.ceil((window_s * idle.length) / idleEnd_s));
  // Two writings of one level after a change of unit differ in the last bits only.
  const step_K = leastStep(reading_C) - 1e-6;
  let windows = 0;
  let noisy = 0;
  for (let from = 0; from + rows <= idle.length; from += rows) {
    const values = idle.subarray(from, from + rows).filter((value) => !Number.isNaN(value));
    if (values.length < rows / 2) continue;
    const span_K = Math.max(...values) - Math.min(...values);
    const half = values.length >> 1;
    const drift_K = 2 * Math.abs(meanOf(values.subarray(half)) - meanOf(values.subarray(0, half)));
    windows++;
    if (span_K - drift_K >= 1.5 * step_K) noisy++;
  }
  if (windows < fewestWindows) return false;
  // Laplace's rule of succession: a few noisy windows do not make a quiet one impossible.
  const quiet = (windows - noisy + 1) / (windows + 2);
  const window = (rows * idleEnd_s) / idle.length;
  return quiet ** ((to_s - from_s) / window) < chance;
}

function brokeOff(
  { from_s, to_s }: Stretch,
  loadFrom_s: number,
  after_s: Float64Array,
  reading_C: Float64Array,
  { others_C, room_C, loop_s }: Company,
): boolean {
  const rows: [number, number] = [firstAt(after_s, from_s), firstAt(after_s, to_s)];
  const goesOn = others_C.some(
    (other_C) => spanOf(other_C.subarray(...rows)) > fewSteps * leastStep(other_C),
  );
  const seen = averageBlocks(after_s, reading_C, loadFrom_s, from_s, climbBlocks);
  if (!goesOn || seen.level.length < fewestBlocks) return false;
  const t_s = seen.after_s.map((at) => at - loadFrom_s);
  const fit = fitSettling(t_s, seen.level, loop_s);
  if (fit === null) return false;
  const seen_s = from_s - loadFrom_s;
  const ahead_s = Math.min(to_s - from_s, seen_s);
  const climb_K = remainingAt(fit, seen_s) - remainingAt(fit, seen_s + ahead_s);
  const room_K = room_C === undefined ? 0 : spanOf(room_C.subarray(...rows));
  return trusted * Math.abs(climb_K) > fewSteps * leastStep(reading_C) + room_K;
}

/** How far the mean of the last quarter lies from that of the first, K; 0 where either holds nothing. */
function spanOf(values: Float64Array): number {
  const quarter = Math.ceil(values.length / 4);
  const [first, last] = [values.subarray(0, quarter), values.subarray(-quarter)].map((part) =>
    meanOf(part.filter((value) => !Number.isNaN(value))),
  );
  return Math.abs((last ?? 0) - (first ?? 0)) || 0;
}

const meanOf = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** The least by which a reading differs from the one before it, K. */
function leastStep(reading_C: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (let row = 1; row < reading_C.length; row++) {
    const step = Math.abs((reading_C[row] as number) - (reading_C[row - 1] as number));
    if (step > 1e-6 && step < least) least = step;
  }
  return least;
}
