import { celsiusFromFahrenheit, celsiusFromKelvin } from '../measure/index.js';
import type { LogRows } from './log-rows.js';
import type { PlainPlan } from './plain-log.js';
import { readable_C } from './read-cell.js';

/** Powers of ten that a double holds exactly, so that one division rounds correctly. */
export const tens = Float64Array.from({ length: 16 }, (_, exponent) => Number(`1e${exponent}`));

/**
 * Takes the plain rows of a log, straight from its bytes, up to the first that is not plain.
 *   b      bytes of the log; b[end - 1] is a line end, so no search for one runs past `end`
 *   at     where to begin: the start of a line
 *   rows   what has been read so far; read and written
 *   plan   what the columns hold
 * Returns where it stopped: `end`, or the start of the first row it leaves to the general reader.
 *
 * A row is plain where nothing is quoted, the stamp differs from the last one learnt in its time of day only (or is a
 * number), time goes forward, and no cell is left over. A cell that is no plain number (empty, a word, a code for a fault)
 * goes to the general reader by itself. Numbers have at most 15 digits, so mantissa and power of ten are exact and their
 * quotient is what `Number` gives ([CLINGER-90]); the few with more are left to `Number` as well. Whatever is taken
 * here comes out bit for bit as `LogRows.takeText` has it.
 *
 * @source [CLINGER-90] a quotient of two exact doubles is rounded once, so it is the nearest double
 */
export function takePlainRows(
  b: Uint8Array,
  at: number,
  end: number,
  rows: LogRows,
  plan: PlainPlan,
): number {
  const { kinds, slots, delimiter, mark, lineEnd, width, unit_s, units, codes, isLone, from, to, stamp } =
    plan;
  const { start_s, readings_C, counted, after_s } = rows;
  const { prefix, suffix, date_s, offset_s } = stamp;
  if (rows.rows === 0 || (unit_s === 0 && !stamp.isKnown)) return at;
  const [low_C, high_C] = readable_C;
  const capacity = after_s.length;
  const last = kinds.length - 1;
  const m = units.length; // channels; slot m is the time
  const words = new DataView(b.buffer, b.byteOffset, b.byteLength);
  // Date, hours and minutes of a stamp: where the bytes are those of the row before, they mean the same.
  const head = prefix.length + 5;
  let headAt = -1; // where they stand in the last row that was read in full
  let minute_s = 0;
  isLone.fill(0);
  let n = rows.rows;
  let last_s = rows.last_s;
  let line = rows.line;
  let anyReading = rows.anyReading;
  let p = at;

  row: while (p < end && n < capacity) {
    at = p;
    let c = b[p]!;
    while (c === 0x20) c = b[++p]!;
    // A note, a blank line or something rarer; and a cell that begins with a blank of another kind.
    if (c <= 0x20 || c === 0x23 || c >= 0x80) break;
    let clock_s = 0;
    let number = 0; // the time, where it is one
    let anyLone = false; // a cell the general reader has to look at
    let hasReading = false;
    for (let column = 0; column <= last; column++) {
      while (c === 0x20 || (c === 0x09 && delimiter !== 0x09)) c = b[++p]!;
      const kind = kinds[column]!;
      if (kind === 1) {
        const slot = slots[column]!;
        const cellFrom = p;
        const negative = c === 0x2d;
        if (negative || c === 0x2b) c = b[++p]!;
        let value = 0;
        const digitsFrom = p;
        let d = c - 0x30;
        while (d >= 0 && d <= 9) {
          value = value * 10 + d;
          c = b[++p]!;
          d = c - 0x30;
        }
        let digits = p - digitsFrom;
        let decimals = 0;
        if (c === mark) {
          const decimalsFrom = p + 1;
          c = b[++p]!;
          d = c - 0x30;
          while (d >= 0 && d <= 9) {
            value = value * 10 + d;
            c = b[++p]!;
            d = c - 0x30;
          }
          decimals = p - decimalsFrom;
          digits += decimals;
        }
        if (decimals > 0 && digits <= 15) value /= tens[decimals]!;
        while (c === 0x20) c = b[++p]!;
        if (c === 0x0d && lineEnd === 0x0a && b[p + 1]! === 0x0a) c = b[++p]!;
        if ((c === delimiter || c === lineEnd) && digits > 0 && digits <= 15) {
          if (negative) value = -value;
          if (slot === m) number = value;
          else {
            let isCode = false;
            for (let code = 0; code < codes.length; code++) if (value === codes[code]!) isCode = true;
            const unit = units[slot]!;
            if (unit === 1) value = celsiusFromFahrenheit(value);
            else if (unit === 2) value = celsiusFromKelvin(value);
            if (value >= low_C && value <= high_C && !isCode) {
              readings_C[slot]![n] = value;
              if (counted[slot]!) hasReading = true;
            } else {
              isLone[slot] = 1;
              from[slot] = cellFrom;
              to[slot] = p;
              anyLone = true;
            }
          }
        } else {
          // The time is left to the general reader with its row, a reading by its cell.
          if (slot === m) break row;
          while (c !== delimiter && c !== lineEnd) {
            if (c === 0x22 || c >= 0x80 || (c < 0x20 && (c !== 0x0d || b[p + 1]! !== lineEnd))) break row;
            c = b[++p]!;
          }
          isLone[slot] = 1;
          from[slot] = cellFrom;
          to[slot] = p;
          anyLone = true;
        }
      } else if (kind === 0) {
        while (c !== delimiter && c !== lineEnd) {
          if (c === 0x22) break row;
          c = b[++p]!;
        }
      } else {
        const stampFrom = p;
        let k = 0;
        if (kind === 2 && headAt >= 0 && p + head <= end) {
          while (k + 4 <= head && words.getInt32(p + k) === words.getInt32(headAt + k)) k += 4;
          if (k + 4 > head) while (k < head && b[p + k]! === b[headAt + k]!) k++;
        }
        const isSame = k === head;
        if (isSame) {
          p += head;
          c = b[p]!;
        } else if (kind !== 4) {
          for (let k = 0; k < prefix.length; k++) if (b[p + k]! !== prefix[k]!) break row;
          p += prefix.length;
          c = b[p]!;
        }
        if (kind !== 3) {
          // h:mm or hh:mm, then :ss, then a fraction of up to nine digits.
          if (!isSame) {
            let h = c - 0x30;
            if (!(h >= 0 && h <= 9)) break row;
            c = b[++p]!;
            if (c !== 0x3a) {
              const d = c - 0x30;
              if (!(d >= 0 && d <= 9)) break row;
              h = h * 10 + d;
              c = b[++p]!;
              if (c !== 0x3a || h > 23) break row;
            }
            const m1 = b[p + 1]! - 0x30;
            const m2 = b[p + 2]! - 0x30;
            if (!(m1 >= 0 && m1 <= 5 && m2 >= 0 && m2 <= 9)) break row;
            p += 3;
            c = b[p]!;
            minute_s = h * 3600 + (m1 * 10 + m2) * 60;
            headAt = p - stampFrom === head ? stampFrom : -1;
          }
          let s = 0;
          if (c === 0x3a) {
            const s1 = b[p + 1]! - 0x30;
            const s2 = b[p + 2]! - 0x30;
            if (!(s1 >= 0 && s1 <= 5 && s2 >= 0 && s2 <= 9)) break row;
            s = s1 * 10 + s2;
            p += 3;
            c = b[p]!;
            if (c === 0x2e || (c === 0x2c && delimiter !== 0x2c)) {
              const digitsFrom = p + 1;
              let value = 0;
              c = b[++p]!;
              let d = c - 0x30;
              while (d >= 0 && d <= 9) {
                value = value * 10 + d;
                c = b[++p]!;
                d = c - 0x30;
              }
              const w = p - digitsFrom;
              if (w === 0 || w > 9) break row;
              s += value / tens[w]!;
            }
          }
          for (let k = 0; k < suffix.length; k++) if (b[p + k]! !== suffix[k]!) break row;
          p += suffix.length;
          c = b[p]!;
          clock_s = minute_s + s;
        }
        while (c === 0x20) c = b[++p]!;
        if (c === 0x0d && lineEnd === 0x0a && b[p + 1]! === 0x0a) c = b[++p]!;
        if (c !== delimiter && c !== lineEnd) break row;
      }
      if (column < last) {
        if (c === lineEnd) break row;
        c = b[++p]!;
      }
    }
    // What is left of the row: columns nobody uses, as many as there should be.
    let cells = last + 1;
    while (c !== lineEnd) {
      if (c === delimiter) cells++;
      else if (c === 0x22) break row;
      c = b[++p]!;
    }
    if (cells > width) break;

    let t = 0;
    if (unit_s === 0) t = date_s + clock_s - offset_s;
    else {
      t = unit_s === 1e-3 ? number / 1000 : number * unit_s;
      if (!(Math.abs(t) <= 8.64e12)) break;
    }
    const now_s = Math.round((t - start_s) * 1e6) / 1e6;
    const step_s = now_s - last_s;
    if (!(now_s > last_s && step_s <= 604_800)) break;

    line++;
    for (let k = 0; anyLone && k < m; k++) {
      if (isLone[k] === 0) continue;
      isLone[k] = 0;
      const value = rows.readLone_C(b, from[k]!, to[k]!, k, line);
      readings_C[k]![n] = value;
      if (counted[k]! && !Number.isNaN(value)) hasReading = true;
    }
    if (hasReading) anyReading = true;
    after_s[n] = now_s;
    last_s = now_s;
    n++;
    p++;
    at = p;
  }
  if (n === rows.rows) return at;
  rows.lines.note(rows.rows, rows.line + 1); // every line up to here is a row
  rows.rows = n;
  rows.last_s = last_s;
  rows.lastLine = line;
  rows.line = line;
  rows.anyReading = anyReading;
  return at;
}
