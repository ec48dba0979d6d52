import { interval_s } from './run-plan.mjs';

/**
 * The loggers' handwritings: each writes the same readings in its own way, and says how to read them back.
 *
 * @typedef {object} LogStyle
 * @property {string} extension
 * @property {'utf-8' | 'windows-1252'} encoding
 * @property {',' | ';' | '\t'} delimiter
 * @property {'.' | ','} decimal
 * @property {string} lineEnd
 * @property {'C' | 'F'} unit
 * @property {readonly string[]} preamble lines before the column heads
 * @property {readonly string[]} timeHeads heads of the columns before the readings
 * @property {Record<string, unknown>} time how a reader finds the time, as in a recipe
 * @property {(start_ms: number, row: number) => string[]} stamp cells before the readings
 * @property {readonly string[]} order probes from left to right
 * @property {(probe: string) => string} head
 * @property {string} open what stands where a sensor is open
 * @property {string} note what is true of the log, for the list in the README
 */

const two = (value) => String(value).padStart(2, '0');
const momentOf = (start_ms, row) => new Date(start_ms + 1000 * interval_s * row);
/** 2025-03-08T08:40:00 */
const isoOf = (start_ms, row) => momentOf(start_ms, row).toISOString().slice(0, 19);
const dayOf = (start_ms, row) => isoOf(start_ms, row).slice(0, 10);
const clockOf = (start_ms, row) => isoOf(start_ms, row).slice(11);
const hms = (time_s) =>
  `${Math.floor(time_s / 3600)}:${two(Math.floor(time_s / 60) % 60)}:${two(time_s % 60)}`;

/**
 * What most of them share.
 *
 * @type {Omit<LogStyle, 'timeHeads' | 'time' | 'stamp' | 'note'>}
 */
const plain = {
  extension: 'csv',
  encoding: 'utf-8',
  delimiter: ',',
  decimal: '.',
  lineEnd: '\n',
  unit: 'C',
  preamble: [],
  order: ['z1', 'c1', 'c2', 'a'],
  head: (probe) => probe.toUpperCase(),
  open: 'OL',
};

const dayFirst = (start_ms, row) => {
  const [year, month, day] = dayOf(start_ms, row).split('-');
  return `${day}.${month}.${year}`;
};

/** @type {Record<string, LogStyle>} */
export const logStyles = {
  iso: {
    ...plain,
    timeHeads: ['time'],
    time: { style: 'iso', columns: [0] },
    stamp: (start_ms, row) => [`${isoOf(start_ms, row)}Z`],
    note: 'ISO date and time, commas',
  },
  'iso-two-columns': {
    ...plain,
    lineEnd: '\r\n',
    timeHeads: ['date', 'time'],
    time: { style: 'iso', columns: [0, 1] },
    stamp: (start_ms, row) => [dayOf(start_ms, row), clockOf(start_ms, row)],
    head: (probe) => `${probe.toUpperCase()} [degC]`,
    note: 'ISO date and time of day in two columns, no offset, CRLF line ends',
  },
  'iso-offset': {
    ...plain,
    timeHeads: ['timestamp'],
    time: { style: 'iso', columns: [0] },
    stamp: (start_ms, row) => [`${isoOf(start_ms + 3_600_000, row)}+01:00`],
    order: ['a', 'c1', 'c2', 'z1'],
    note: 'ISO date and time one hour ahead of UTC, probes in another order',
  },
  'date-two-columns': {
    ...plain,
    delimiter: ';',
    decimal: ',',
    lineEnd: '\r\n',
    timeHeads: ['Datum', 'Zeit'],
    time: { style: 'date', columns: [0, 1], order: 'day-month' },
    stamp: (start_ms, row) => [dayFirst(start_ms, row), clockOf(start_ms, row)],
    head: (probe) => `${probe.toUpperCase()} (°C)`,
    note: 'day.month.year and time of day, semicolons, decimal commas; day and month cannot be told from the dates alone',
  },
  'month-first': {
    ...plain,
    lineEnd: '\r\n',
    timeHeads: ['Date/Time'],
    time: { style: 'date', columns: [0], order: 'month-day' },
    stamp: (start_ms, row) => {
      const [year, month, day] = dayOf(start_ms, row).split('-');
      return [`${month}/${day}/${year} ${clockOf(start_ms, row)}`];
    },
    note: 'month/day/year and time of day in one column',
  },
  fahrenheit: {
    ...plain,
    delimiter: ';',
    decimal: ',',
    unit: 'F',
    timeHeads: ['time'],
    time: { style: 'iso', columns: [0] },
    stamp: (start_ms, row) => [`${isoOf(start_ms, row)}Z`],
    head: (probe) => `${probe.toUpperCase()} (°F)`,
    note: 'degrees Fahrenheit, semicolons, decimal commas',
  },
  'clock-preamble': {
    ...plain,
    preamble: ['Bench logger, 4 channels (invented)', 'Device: Reedling R2 (invented)', 'Interval: 10 s', ''],
    timeHeads: ['clock'],
    time: { style: 'clock', columns: [0] },
    stamp: (start_ms, row) => [clockOf(start_ms, row)],
    note: 'time of day only, four lines of preamble',
  },
  clock: {
    ...plain,
    timeHeads: ['clock'],
    time: { style: 'clock', columns: [0] },
    stamp: (start_ms, row) => [clockOf(start_ms, row)],
    order: ['c1', 'c2', 'z1', 'a'],
    note: 'time of day only, and it passes midnight',
  },
  'elapsed-seconds': {
    ...plain,
    delimiter: ';',
    timeHeads: ['t_s'],
    time: { style: 'elapsed', columns: [0], unit: 's' },
    stamp: (_start_ms, row) => [String(interval_s * row)],
    note: 'seconds since the start, semicolons, decimal points',
  },
  'elapsed-hms': {
    ...plain,
    timeHeads: ['elapsed (h:mm:ss)'],
    time: { style: 'elapsed', columns: [0], unit: 'h:m:s' },
    stamp: (_start_ms, row) => [hms(interval_s * row)],
    note: 'hours, minutes and seconds since the start',
  },
  epoch: {
    ...plain,
    timeHeads: ['unix_time'],
    time: { style: 'epoch', columns: [0], unit: 's' },
    stamp: (start_ms, row) => [String(start_ms / 1000 + interval_s * row)],
    note: 'seconds since 1970',
  },
  'counted-rows': {
    ...plain,
    preamble: ['No clock set. Rows are 10 s apart. (invented)'],
    timeHeads: ['row'],
    time: { style: 'interval', interval_s },
    stamp: (_start_ms, row) => [String(row + 1)],
    note: 'no time at all, only a row number; the preamble gives the spacing',
  },
  'western-europe': {
    ...plain,
    encoding: 'windows-1252',
    delimiter: ';',
    decimal: ',',
    lineEnd: '\r\n',
    timeHeads: ['Zeit'],
    time: { style: 'iso', columns: [0] },
    stamp: (start_ms, row) => [isoOf(start_ms, row).replace('T', ' ')],
    head: (probe) => `${probe.toUpperCase()} °C`,
    note: 'Windows-1252 text, semicolons, decimal commas, ISO time without an offset, passing midnight',
  },
  tabs: {
    ...plain,
    extension: 'txt',
    delimiter: '\t',
    timeHeads: ['minutes'],
    time: { style: 'elapsed', columns: [0], unit: 'min' },
    stamp: (_start_ms, row) => [((interval_s * row) / 60).toFixed(4)],
    note: 'minutes since the start, tabs',
  },
};

/**
 * One log as bytes, and the recipe that reads it.
 *
 * @param {LogStyle} style
 * @param {string} startedAt ISO 8601
 * @param {Record<string, (number | 'empty' | 'open')[]>} readings_C
 * @returns {{ bytes: Uint8Array, recipe: object }}
 */
export function writeLog(style, startedAt, readings_C) {
  const start_ms = Date.parse(startedAt);
  const rows = readings_C.a.length;
  const lines = [
    ...style.preamble,
    [...style.timeHeads, ...style.order.map(style.head)].join(style.delimiter),
  ];
  let anyOpen = false;
  for (let row = 0; row < rows; row++) {
    const cells = style.order.map((probe) => {
      const reading = readings_C[probe][row];
      if (reading === 'open') anyOpen = true;
      return cellOf(style, reading);
    });
    lines.push([...style.stamp(start_ms, row), ...cells].join(style.delimiter));
  }
  const text = lines.map((line) => line + style.lineEnd).join('');
  // Windows-1252 and Latin-1 write the degree sign, the only character beyond ASCII here, alike.
  const bytes = new Uint8Array(Buffer.from(text, style.encoding === 'windows-1252' ? 'latin1' : 'utf8'));
  return { bytes, recipe: recipeOf(style, anyOpen) };
}

/** A reading in the logger's unit, to its last digit of 0.1. */
function cellOf(style, reading) {
  if (reading === 'empty') return '';
  if (reading === 'open') return style.open;
  const value = style.unit === 'F' ? 1.8 * reading + 32 : reading;
  return value.toFixed(1).replace('.', style.decimal);
}

function recipeOf(style, anyOpen) {
  return {
    encoding: style.encoding,
    delimiter: style.delimiter,
    decimal: style.decimal,
    headerLines: style.preamble.length + 1,
    time: style.time,
    channels: style.order.map((probe, index) => ({
      column: style.timeHeads.length + index,
      header: style.head(probe),
      probe,
      unit: style.unit,
    })),
    missing: anyOpen ? [style.open] : [],
  };
}
