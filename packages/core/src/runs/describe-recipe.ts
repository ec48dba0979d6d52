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
    `Text is ${encodingNames[recipe.encoding]}; cells are parted by ${delimiterNames[recipe.delimiter]}; the decimal mark is a ${recipe.decimal === ',' ? 'comma' : 'point'}.`,
    recipe.headerLines === 0
      ? 'The first row of numbers is line 1.'
      : `Lines 1 to ${recipe.headerLines} are header; the first row of numbers is line ${recipe.headerLines + 1}.`,
    describeTime(recipe.time),
    ...recipe.channels.map(describeChannel),
  ];
}

export function describeTime(time: Recipe['time']): string {
  switch (time.style) {
    case 'interval':
      return `There is no usable clock: rows are taken to be ${time.interval_s} s apart.`;
    case 'iso':
      return `Date and time (year first) are in ${columnsText(time.columns)}; without an offset they are read as UTC.`;
    case 'date':
      return `Date and time are in ${columnsText(time.columns)}, ${time.order === 'day-month' ? 'day before month' : 'month before day'}; without an offset they are read as UTC.`;
    case 'epoch':
      return `Time is in ${columnsText(time.columns)}, counted in ${elapsedNames[time.unit]} since 1970.`;
    case 'elapsed':
      return `Time is in ${columnsText(time.columns)}, elapsed ${time.unit === 'h:m:s' ? 'as h:m:s' : `in ${elapsedNames[time.unit]}`}.`;
    case 'clock':
      return `Time of day is in ${columnsText(time.columns)}; it may pass midnight, and the date is not known.`;
  }
}

function columnsText(columns: readonly number[]): string {
  return `${columns.length === 1 ? 'column' : 'columns'} ${formatList(columns.map((column) => String(column + 1)))}`;
}

function describeChannel({ column, header, unit, probe, coldJunction }: Recipe['channels'][number]): string {
  const name = header === '' ? `Column ${column + 1}` : `Column ${column + 1} ("${header}")`;
  const role = coldJunction ? 'is the cold junction' : '';
  const owner = probe === undefined ? (role === '' ? 'belongs to no probe yet' : '') : `is probe "${probe}"`;
  const use = [owner, role].filter((part) => part !== '').join(' and ');
  const kind = isRawUnit(unit) ? ', a raw signal' : unit === 'C' ? '' : ', converted to °C';
  return `${name} ${use}, in ${unitNames[unit]}${kind}.`;
}
