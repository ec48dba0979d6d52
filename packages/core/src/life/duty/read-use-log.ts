import { BadInputError, type Fault } from '../../measure/index.js';
import type { UseLog } from './duty-from-log.js';

/** A log of use as read, and where in the day it begins. */
export interface ReadUseLog {
  readonly log: UseLog;
  /** Hour of the day of the first row, 0 to 24; undefined where the log has no clock. */
  readonly startsAt_h: number | undefined;
  /** Which columns were taken for what, for the person to check. */
  readonly columns: readonly string[];
}

const delimiters = ['\t', ';', ','] as const;
/** More than this in one file is no log of use: a reading a second for half a year. */
const mostRows = 16_000_000;
const shownFaults = 5;
const day_s = 86_400;

/**
 * Reads a table of time and power, or time and charge, as a device or its charger writes it.
 *
 * One row of headings, then rows of a time (a date with a clock, seconds or milliseconds) and figures. The power may stand in W or mW, above
 * zero or below while it discharges; the charge in per cent or as a share. Cells that are empty count as not read.
 *
 * @param text of the file
 * @param file its name, for the faults
 * @throws BadInputError naming line and column where a row has no time, times run back, or no column is power or charge
 */
export function readUseLog(text: string, file: string): ReadUseLog {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  const top = lines.findIndex((line) => line.trim() !== '');
  const head = lines[top];
  if (head === undefined) throw refusal(file, 'The file is empty.', 'Export the log again.');
  const delimiter = delimiters.find((each) => head.includes(each));
  if (delimiter === undefined)
    throw refusal(
      `${file}:${top + 1}`,
      'The first row has one column only.',
      'Give a time and a power or a charge.',
    );
  const names = split(head, delimiter);
  const time = names.findIndex((name) =>
    /\b(time|date|timestamp|zeit|seconds?|elapsed|t)\b|_s\b/i.test(name),
  );
  const power = names.findIndex((name) => /power|watts?\b|(?:^|[[(_ ])m?W[\])]?$/i.test(name));
  const charge = names.findIndex((name) => /%|charge|battery|percent|soc\b|capacity|level/i.test(name));
  if (time < 0 || (power < 0 && charge < 0))
    throw refusal(
      `${file}:${top + 1}`,
      `Of the headings ${names.map((name) => `"${name}"`).join(', ')} none names ${time < 0 ? 'a time' : 'a power or a charge'}.`,
      'Name the columns in the first row, as in: time, power (W), charge (%).',
    );
  if (lines.length > mostRows)
    throw refusal(file, `It has more than ${mostRows} rows.`, 'Thin it out to one row a minute.');
  // Where commas part no columns, they may stand in figures.
  const isComma = delimiter !== ',';
  const figure = (cell: string | undefined) => {
    const typed = (cell ?? '').replace(/\s|%|m?W$/g, '');
    return typed === '' ? Number.NaN : Number(isComma ? typed.replace(',', '.') : typed);
  };
  const times: number[] = [];
  const powers: number[] = [];
  const charges: number[] = [];
  const faults: Fault[] = [];
  let hasClock = false;
  for (let i = top + 1; i < lines.length; i++) {
    const line = lines[i] as string;
    if (line.trim() === '') continue;
    const cells = split(line, delimiter);
    const stamp = readTime_s(cells[time] ?? '', isComma);
    const last = times.at(-1);
    const fault = (what: string, remedy: string) => faults.push({ where: `${file}:${i + 1}`, what, remedy });
    if (stamp === null) fault(`"${cells[time] ?? ''}" is no time.`, 'Write 2026-05-04 13:05:00, or seconds.');
    else if (last !== undefined && !(stamp.at_s > last))
      fault('Its time is not after that of the row above.', 'Sort the rows, and take out doubled ones.');
    else {
      hasClock ||= stamp.hasClock;
      times.push(stamp.at_s);
      powers.push(figure(cells[power]));
      charges.push(figure(cells[charge]));
    }
    if (faults.length >= shownFaults) break;
  }
  if (faults.length > 0) throw new BadInputError(faults);
  const [first] = times;
  if (first === undefined)
    throw refusal(file, 'There is no row below the headings.', 'Export the log again.');
  const timeScale = !hasClock && /\bms\b|milli/i.test(names[time] ?? '') ? 1e-3 : 1;
  const powerScale = /(?:^|[[(_ ])mW[\])]?$|milliwatt/i.test(names[power] ?? '') ? 1e-3 : 1;
  const chargeScale = charges.some((value) => value > 1) ? 1e-2 : 1;
  return {
    log: {
      after_s: times.map((at_s) => (at_s - first) * timeScale),
      ...(power < 0 ? {} : { power_W: drawnFrom(powers.map((value) => value * powerScale)) }),
      ...(charge < 0
        ? {}
        : {
            charge: heldToShares(
              charges.map((value) => value * chargeScale),
              file,
            ),
          }),
    },
    startsAt_h: hasClock ? (((first % day_s) + day_s) % day_s) / 3600 : undefined,
    columns: [
      `Time from "${names[time]}".`,
      ...(power < 0 ? [] : [`Power from "${names[power]}".`]),
      ...(charge < 0 ? [] : [`Charge from "${names[charge]}".`]),
    ],
  };
}

function split(line: string, delimiter: string): string[] {
  return line.split(delimiter).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1'));
}

/** A clock counts as it stands on the wall, without its zone: when in the day somebody sleeps is a matter of that. */
function readTime_s(cell: string, isComma: boolean): { at_s: number; hasClock: boolean } | null {
  const stamp = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})[T ](\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?/.exec(
    cell,
  );
  if (stamp) {
    const [, year, month, date, hour, minute, second = '0'] = stamp;
    const at_ms = Date.UTC(Number(year), Number(month) - 1, Number(date), Number(hour), Number(minute));
    return { at_s: at_ms / 1000 + Number(second.replace(',', '.')), hasClock: true };
  }
  const plain = cell.trim() === '' ? Number.NaN : Number(isComma ? cell.replace(',', '.') : cell);
  return Number.isFinite(plain) ? { at_s: plain, hasClock: false } : null;
}

/** Some devices log what flows out of the pack as a negative power: then above zero is charging, which is no use. */
function drawnFrom(powers: readonly number[]): number[] {
  const isSigned = powers.some((value) => value < 0);
  return powers.map((value) => (isSigned ? Math.max(0, -value) : value));
}

function heldToShares(charges: readonly number[], file: string): readonly number[] {
  const odd = charges.find((value) => value < 0 || value > 1.05);
  if (odd !== undefined)
    throw refusal(
      file,
      `A charge of ${Number((100 * odd).toFixed(1))} % stands in it.`,
      'Give the charge in per cent, 0 to 100.',
    );
  return charges;
}

function refusal(where: string, what: string, remedy: string): BadInputError {
  return new BadInputError([{ where, what, remedy }]);
}
