import type { Fault } from '@soakbench/core/measure';
import type { Recipe } from '@soakbench/core/records';
import type { GivenLong, GivenText } from '@soakbench/core/runs';
import { useState } from 'preact/hooks';
import { ChoiceField, NumberField, TextField } from '../parts/fields.js';
import { setTimeStyle, type TimeStyle } from './import-draft.js';

interface RecipeFieldsProps {
  readonly recipe: Recipe;
  /** How many columns the rows have, as far as it is known. */
  readonly width: number;
  readonly headers: readonly string[];
  readonly onRecipe: (recipe: Recipe) => void;
  /** What a person says of the text, where the file is at hand to be looked at again; without it the recipe is changed. */
  readonly text?: {
    /** What a person said of the text so far. */
    readonly said: GivenText;
    /** Why the file cannot be read as was said; none where it can. */
    readonly faults: readonly Fault[];
    readonly onSay: (part: GivenText) => void;
  };
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

const groupMarks = [
  [',', 'comma'],
  ['.', 'point'],
  [' ', 'blank'],
  ["'", 'apostrophe'],
] as const;

const layouts = [
  ['delimited', 'a row a line'],
  ['fixed', 'columns at fixed places'],
  ['long', 'a reading a line'],
  ['sentence', 'sentences'],
] as const;

/** Places as typed, counted from 1, in rising order. */
function placesOf(typed: string | undefined): number[] {
  const places = (typed ?? '').split(/[\s,;]+/).map((each) => Number(each) - 1);
  return [...new Set(places.filter((place) => Number.isInteger(place) && place >= 0))].sort(
    (one, other) => one - other,
  );
}

/** The record knows no empty parts. */
function withoutEmpty<T extends object>(record: T): T {
  return Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined)) as T;
}

const timeStyles: readonly (readonly [TimeStyle, string])[] = [
  ['iso', 'date and time, year first'],
  ['date', 'date and time, day and month first'],
  ['clock', 'time of day'],
  ['elapsed', 'elapsed since the start'],
  ['epoch', 'counted since 1970'],
  ['interval', 'no usable clock: rows evenly apart'],
];

/** How a log is read, each part of it correctable. */
export function RecipeFields({ recipe, width, headers, onRecipe, text }: RecipeFieldsProps) {
  const change = (part: Partial<Recipe>) => onRecipe(withoutEmpty({ ...recipe, ...part }));
  // What is wrong with the text as it was said shows at the field it was last said in.
  const [lastSaid, setLastSaid] = useState('');
  const say = (field: string, part: GivenText) => {
    setLastSaid(field);
    if (text) text.onSay(part);
    else change(part as Partial<Recipe>);
  };
  const faults = text?.faults ?? [];
  const errorAt = (field: string) =>
    field === lastSaid && faults.length > 0
      ? faults.map(({ what, remedy }) => `${what} ${remedy}`).join(' ')
      : null;
  const { layout } = recipe;
  const saidLayout = text?.said.layout;
  const form = saidLayout?.form ?? layout?.form ?? 'delimited';
  const foundLong = layout?.form === 'long' && faults.length === 0 ? layout : { form: 'long' as const };
  return (
    <>
      <fieldset class="fields">
        <legend>Text</legend>
        <ChoiceField
          label="Encoding"
          value={recipe.encoding}
          options={encodings}
          error={errorAt('encoding')}
          onValue={(value) => say('encoding', { encoding: value as Recipe['encoding'] })}
        />
        {(form === 'delimited' || form === 'long') && (
          <ChoiceField
            label="Cells are parted by"
            value={recipe.delimiter}
            options={delimiters}
            error={errorAt('delimiter')}
            onValue={(value) => say('delimiter', { delimiter: value as Recipe['delimiter'] })}
          />
        )}
        <ChoiceField
          label="Decimal mark"
          value={recipe.decimal}
          options={[
            ['.', 'point'],
            [',', 'comma'],
          ]}
          error={errorAt('decimal')}
          onValue={(value) => say('decimal', { decimal: value as Recipe['decimal'] })}
        />
        <ChoiceField
          label="Thousands mark"
          value={recipe.thousands}
          none="none"
          options={groupMarks}
          onValue={(value) => change({ thousands: value as Recipe['thousands'] })}
        />
        {text && (
          <ChoiceField
            label="Layout"
            size="half"
            value={form}
            options={layouts}
            error={errorAt('layout')}
            onValue={(value) => say('layout', { layout: { form: value as 'long' } })}
          />
        )}
        {text && layout?.form === 'fixed' && form === 'fixed' && (
          <TextField
            label="Columns begin at"
            size="half"
            value={layout.starts.map((start) => start + 1).join(' ')}
            hint="Places in the line, counted from 1"
            onValue={(value) => say('starts', { layout: { form: 'fixed', starts: placesOf(value) } })}
          />
        )}
        {form === 'long' && (
          <LongFields
            said={text ? (saidLayout?.form === 'long' ? saidLayout : { form: 'long' }) : foundLong}
            found={foundLong}
            options={Array.from({ length: width }, (_, column) => column).map((column) => [
              String(column),
              columnName(column, headers),
            ])}
            errorAt={errorAt}
            onSay={(field, layout) => say(field, { layout })}
          />
        )}
        <NumberField
          label="Header lines"
          value={recipe.headerLines}
          min={0}
          max={500}
          whole
          required
          onValue={(value) => value !== undefined && say('headerLines', { headerLines: value })}
        />
        <TextField
          label="Cells that mean “no reading”"
          size="half"
          value={recipe.missing.join(' ')}
          hint="Besides empty ones, parted by blanks: OL -999"
          onValue={(value) => change({ missing: value === undefined ? [] : value.split(/\s+/) })}
        />
        <ChoiceField
          label="Doubtful readings"
          size="half"
          hint="Wake-up values, fault codes, lost decimal points"
          value={recipe.doubtful ?? 'keep'}
          options={[
            ['leave-out', 'leave out and count'],
            ['keep', 'keep and flag'],
          ]}
          onValue={(value) => change({ doubtful: value as Recipe['doubtful'] })}
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

interface LongFieldsProps {
  readonly said: GivenLong;
  /** What was found where nothing was said. */
  readonly found: GivenLong;
  readonly options: readonly (readonly [string, string])[];
  readonly errorAt: (field: string) => string | null;
  readonly onSay: (field: string, layout: GivenLong) => void;
}

/** Of a log with one reading a line: which column names it, which holds it, and what makes a row. */
function LongFields({ said, found, options, errorAt, onSay }: LongFieldsProps) {
  const columnOf = (field: 'name' | 'value') => {
    const column = said[field] ?? found[field];
    return column === undefined ? undefined : String(column);
  };
  const sayColumn = (field: 'name' | 'value') => (value: string | undefined) =>
    onSay(
      `long.${field}`,
      withoutEmpty({ ...said, [field]: value === undefined ? undefined : Number(value) }),
    );
  return (
    <>
      <ChoiceField
        label="Column of names"
        value={columnOf('name')}
        options={options}
        error={errorAt('long.name')}
        onValue={sayColumn('name')}
      />
      <ChoiceField
        label="Column of values"
        value={columnOf('value')}
        options={options}
        error={errorAt('long.value')}
        onValue={sayColumn('value')}
      />
      <ChoiceField
        label="A row is made of"
        size="half"
        value={said.by ?? found.by}
        options={[
          ['stamp', 'lines of one stamp'],
          ['cycle', 'one cycle through the names'],
        ]}
        error={errorAt('long.by')}
        onValue={(by) => onSay('long.by', withoutEmpty({ ...said, by: by as GivenLong['by'] }))}
      />
    </>
  );
}

function TimeFields({ recipe, width, headers, onRecipe }: Omit<RecipeFieldsProps, 'text'>) {
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
  const isDated = time.style === 'iso' || time.style === 'date';
  const isSplit = time.columns.length > 2;
  const mayHaveTwo = isDated && !isSplit;
  const setPart = (part: object) => setTime(withoutEmpty({ ...time, ...part }) as Recipe['time']);
  return (
    <>
      {isSplit ? (
        <TextField
          label="Columns of the stamp"
          value={time.columns.map((column) => column + 1).join(' ')}
          hint="Counted from 1: date, time, AM or PM; or year, month, day, hour, minute, second"
          onValue={(value) => {
            const next = (value ?? '').split(/[\s,;]+/).map((each) => Number(each) - 1);
            if (next.every((column) => Number.isInteger(column) && column >= 0 && column < width))
              withColumns(next);
          }}
        />
      ) : (
        <ChoiceField
          label={mayHaveTwo && second !== undefined ? 'Date column' : 'Time column'}
          value={String(first)}
          options={columns}
          onValue={(value) => withColumns(second === undefined ? [Number(value)] : [Number(value), second])}
        />
      )}
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
      {isDated && (
        <NumberField
          label="UTC offset, min"
          value={time.utcOffset_min}
          min={-840}
          max={840}
          whole
          hint="Where the stamps do not say it"
          onValue={(utcOffset_min) => setPart({ utcOffset_min })}
        />
      )}
      {time.style === 'clock' && (
        <ChoiceField
          label="Dial"
          value={time.dial_h === 12 ? '12' : '24'}
          options={[
            ['24', '24 hours'],
            ['12', '12 hours'],
          ]}
          onValue={(value) => setPart({ dial_h: value === '12' ? 12 : undefined })}
        />
      )}
      {time.style === 'elapsed' && (
        <ChoiceField
          label="On a restart"
          value={time.restart ?? 'refuse'}
          options={[
            ['refuse', 'refuse'],
            ['join', 'go on'],
          ]}
          onValue={(value) => setPart({ restart: value === 'join' ? 'join' : undefined })}
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
