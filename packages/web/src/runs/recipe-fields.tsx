import type { Recipe } from '@soakbench/core/records';
import { ChoiceField, NumberField, TextField } from '../parts/fields.js';
import { setTimeStyle, type TimeStyle } from './import-draft.js';

interface RecipeFieldsProps {
  readonly recipe: Recipe;
  /** How many columns the rows have, as far as it is known. */
  readonly width: number;
  readonly headers: readonly string[];
  readonly onRecipe: (recipe: Recipe) => void;
}

const encodings = [
  ['utf-8', 'UTF-8'],
  ['utf-16le', 'UTF-16, little-endian'],
  ['utf-16be', 'UTF-16, big-endian'],
  ['windows-1252', 'windows-1252'],
] as const;

const delimiters = [
  [',', 'comma'],
  [';', 'semicolon'],
  ['\t', 'tab'],
  ['|', 'bar'],
  [' ', 'blanks'],
] as const;

const timeStyles: readonly (readonly [TimeStyle, string])[] = [
  ['iso', 'date and time, year first'],
  ['date', 'date and time, day and month first'],
  ['clock', 'time of day'],
  ['elapsed', 'elapsed since the start'],
  ['epoch', 'counted since 1970'],
  ['interval', 'no usable clock: rows evenly apart'],
];

/** How a log is read, each part of it correctable. */
export function RecipeFields({ recipe, width, headers, onRecipe }: RecipeFieldsProps) {
  const change = (part: Partial<Recipe>) => onRecipe({ ...recipe, ...part });
  return (
    <>
      <fieldset class="fields">
        <legend>Text</legend>
        <ChoiceField
          label="Encoding"
          value={recipe.encoding}
          options={encodings}
          onValue={(value) => change({ encoding: value as Recipe['encoding'] })}
        />
        <ChoiceField
          label="Cells are parted by"
          value={recipe.delimiter}
          options={delimiters}
          onValue={(value) => change({ delimiter: value as Recipe['delimiter'] })}
        />
        <ChoiceField
          label="Decimal mark"
          value={recipe.decimal}
          options={[
            ['.', 'point'],
            [',', 'comma'],
          ]}
          onValue={(value) => change({ decimal: value as Recipe['decimal'] })}
        />
        <NumberField
          label="Header lines"
          value={recipe.headerLines}
          min={0}
          max={500}
          whole
          required
          onValue={(value) => value !== undefined && change({ headerLines: value })}
        />
        <TextField
          label="Cells that mean “no reading”"
          size="half"
          value={recipe.missing.join(' ')}
          hint="Besides empty ones, parted by blanks: OL -999"
          onValue={(value) => change({ missing: value === undefined ? [] : value.split(/\s+/) })}
        />
      </fieldset>
      <fieldset class="fields">
        <legend>Time</legend>
        <ChoiceField
          label="Style"
          size="half"
          value={recipe.time.style}
          options={timeStyles}
          onValue={(style) => onRecipe(setTimeStyle(recipe, style as TimeStyle))}
        />
        <TimeFields recipe={recipe} width={width} headers={headers} onRecipe={onRecipe} />
      </fieldset>
    </>
  );
}

function TimeFields({ recipe, width, headers, onRecipe }: RecipeFieldsProps) {
  const { time } = recipe;
  const setTime = (next: Recipe['time']) => onRecipe({ ...recipe, time: next });
  if (time.style === 'interval') {
    return (
      <NumberField
        label="Rows are apart by"
        unit="s"
        value={time.interval_s}
        above={0}
        max={86_400}
        required
        onValue={(value) => value !== undefined && setTime({ ...time, interval_s: value })}
      />
    );
  }
  const columns = Array.from(
    { length: width },
    (_, column) => [String(column), columnName(column, headers)] as const,
  );
  const [first = 0, second] = time.columns;
  const withColumns = (next: number[]) => setTime({ ...time, columns: next } as Recipe['time']);
  const mayHaveTwo = time.style === 'iso' || time.style === 'date';
  return (
    <>
      <ChoiceField
        label={mayHaveTwo && second !== undefined ? 'Date column' : 'Time column'}
        value={String(first)}
        options={columns}
        onValue={(value) => withColumns(second === undefined ? [Number(value)] : [Number(value), second])}
      />
      {mayHaveTwo && (
        <ChoiceField
          label="Second column"
          value={second === undefined ? undefined : String(second)}
          none="none"
          options={columns}
          onValue={(value) => withColumns(value === undefined ? [first] : [first, Number(value)])}
        />
      )}
      {time.style === 'date' && (
        <ChoiceField
          label="Order"
          value={time.order}
          options={[
            ['day-month', 'day before month'],
            ['month-day', 'month before day'],
          ]}
          onValue={(order) => setTime({ ...time, order: order as 'day-month' | 'month-day' })}
        />
      )}
      {time.style === 'epoch' && (
        <ChoiceField
          label="Counted in"
          value={time.unit}
          options={[
            ['s', 'seconds'],
            ['ms', 'milliseconds'],
          ]}
          onValue={(unit) => setTime({ ...time, unit: unit as 's' | 'ms' })}
        />
      )}
      {time.style === 'elapsed' && (
        <ChoiceField
          label="Counted in"
          value={time.unit}
          options={[
            ['s', 'seconds'],
            ['min', 'minutes'],
            ['h', 'hours'],
            ['ms', 'milliseconds'],
            ['h:m:s', 'h:m:s'],
          ]}
          onValue={(unit) => setTime({ ...time, unit: unit as 's' | 'min' | 'h' | 'ms' | 'h:m:s' })}
        />
      )}
    </>
  );
}

/** "3, C1 (°C)": counted from 1, as a spreadsheet does. */
export function columnName(column: number, headers: readonly string[]): string {
  const header = headers[column] ?? '';
  return header === '' ? `column ${column + 1}` : `${column + 1}, ${header}`;
}
