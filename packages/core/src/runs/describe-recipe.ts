import { formatList } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { isRawUnit, unitNames } from './channel-unit.js';

const delimiterNames: Record<Recipe['delimiter'], string> = {
  ',': 'a comma',
  ';': 'a semicolon',
  '\t': 'a tab',
  '|': 'a bar',
  ' ': 'blanks',
};

const encodingNames: Record<Recipe['encoding'], string> = {
  'utf-8': 'UTF-8',
  'utf-16le': 'UTF-16 (little-endian)',
  'utf-16be': 'UTF-16 (big-endian)',
  'windows-1252': 'windows-1252',
};

const groupNames = { ',': 'a comma', '.': 'a point', ' ': 'a blank', "'": 'an apostrophe' } as const;

const scaleNames = { 0.1: 'tenths of ', 0.01: 'hundredths of ', 0.001: 'thousandths of ' } as const;

const elapsedNames = {
  s: 'seconds',
  min: 'minutes',
  h: 'hours',
  ms: 'milliseconds',
  'h:m:s': 'h:m:s',
} as const;

/** The recipe in sentences a person can check against the file; columns are counted from 1. */
export function describeRecipe(recipe: Recipe): string[] {
  return [
    `Text is ${encodingNames[recipe.encoding]}; ${describeLayout(recipe)}; the decimal mark is a ${recipe.decimal === ',' ? 'comma' : 'point'}${recipe.thousands === undefined ? '' : `, and ${groupNames[recipe.thousands]} groups thousands`}.`,
    recipe.headerLines === 0
      ? 'The first row of numbers is line 1.'
      : `${recipe.headerLines === 1 ? 'Line 1 is' : `Lines 1 to ${recipe.headerLines} are`} header; the first row of numbers is line ${recipe.headerLines + 1}.`,
    describeTime(recipe.time),
    ...recipe.channels.map((channel) => describeChannel(recipe, channel)),
  ];
}

function describeLayout({ layout, delimiter }: Recipe): string {
  const parted = `cells are parted by ${delimiterNames[delimiter]}`;
  switch (layout?.form) {
    case undefined:
      return parted;
    case 'fixed':
      return `columns begin at fixed places: ${formatList(layout.starts.map((start) => String(start + 1)))}`;
    case 'long':
      return `${parted}, one reading a line: its name in column ${layout.name + 1}, its value in column ${layout.value + 1}; ${layout.by === 'stamp' ? 'lines of one stamp' : 'one cycle of names, timed by its first line,'} ${layout.by === 'stamp' ? 'make' : 'makes'} a row`;
    case 'sentence':
      return 'each line is a sentence, in which a number follows the words that name it';
  }
}

export function describeTime(time: Recipe['time']): string {
  switch (time.style) {
    case 'interval':
      return `There is no usable clock: rows are taken to be ${time.interval_s} s apart.`;
    case 'iso':
      return `Date and time (year first) are in ${columnsText(time.columns)}; ${offsetText(time.utcOffset_min)}.`;
    case 'date':
      return `Date and time are in ${columnsText(time.columns)}, ${time.order === 'day-month' ? 'day before month' : 'month before day'}; ${offsetText(time.utcOffset_min)}.`;
    case 'epoch':
      return `Time is in ${columnsText(time.columns)}, counted in ${elapsedNames[time.unit]} since 1970.`;
    case 'elapsed':
      return `Time is in ${columnsText(time.columns)}, elapsed ${time.unit === 'h:m:s' ? 'as h:m:s' : `in ${elapsedNames[time.unit]}`}${time.restart === 'join' ? '; where it begins again it goes on one row later' : ''}.`;
    case 'clock':
      return `Time of day is in ${columnsText(time.columns)}${time.dial_h === 12 ? ', on a dial of twelve hours' : ''}; it may pass midnight, and the date is not known.`;
  }
}

function columnsText(columns: readonly number[]): string {
  return `${columns.length === 1 ? 'column' : 'columns'} ${formatList(columns.map((column) => String(column + 1)))}`;
}

function offsetText(offset_min: number | undefined): string {
  if (offset_min === undefined || offset_min === 0) return 'without an offset they are read as UTC';
  const size = Math.abs(offset_min);
  const clock = `${Math.floor(size / 60)}:${String(size % 60).padStart(2, '0')}`;
  return `without an offset they are read as ${clock} ${offset_min > 0 ? 'ahead of' : 'behind'} UTC`;
}

function describeChannel(
  { layout }: Recipe,
  { column, header, unit, probe, scale, coldJunction }: Recipe['channels'][number],
): string {
  const isByName = layout?.form === 'long' || layout?.form === 'sentence';
  const place = header === '' ? `Column ${column + 1}` : `Column ${column + 1} ("${header}")`;
  const name = isByName ? `"${header}"` : place;
  const role = coldJunction ? 'is the cold junction' : '';
  const owner = probe === undefined ? (role === '' ? 'belongs to no probe yet' : '') : `is probe "${probe}"`;
  const use = [owner, role].filter((part) => part !== '').join(' and ');
  if (isRawUnit(unit)) return `${name} ${use}, in ${unitNames[unit]}, a raw signal.`;
  const parts = scale === undefined ? '' : scaleNames[scale];
  const kind = unit === 'C' && scale === undefined ? '' : ', converted to °C';
  return `${name} ${use}, in ${parts}${unitNames[unit]}${kind}.`;
}
