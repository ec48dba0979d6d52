import { BadInputError, type Fault } from '@soakbench/core/measure';
import { buildSchema, type ChannelUnit, type Recipe } from '@soakbench/core/records';
import { type GivenText, unitNames } from '@soakbench/core/runs';

/** What a person said of the recipe: what the sniffer is to hold to, and what is laid over its answer. */
export interface GivenParts {
  readonly text: GivenText;
  readonly overlay: (recipe: Recipe) => Recipe;
  /** Fields of questions that are settled so. */
  readonly settles: (field: string) => boolean;
}

const recipeSchema = buildSchema.shape.runs.element.shape.recipe;

const marks: Readonly<Record<string, string>> = {
  comma: ',',
  semicolon: ';',
  tab: '\t',
  bar: '|',
  blank: ' ',
  point: '.',
  apostrophe: "'",
};
const mark = (value: string) => marks[value] ?? value;
const columnFrom1 = (value: string) => Number(value) - 1;
const columns = (value: string) => value.split(',').map(columnFrom1);

/** Parts of the recipe that `--set` takes, with what stands behind the `=`. */
const parts: Readonly<Record<string, { readonly about: string; readonly read: (value: string) => unknown }>> =
  {
    encoding: { about: 'utf-8, utf-16le, utf-16be or windows-1252', read: (value) => value },
    delimiter: { about: 'comma, semicolon, tab, bar or blank', read: mark },
    decimal: { about: 'point or comma', read: mark },
    thousands: { about: 'comma, point, blank or apostrophe', read: mark },
    layout: {
      about: 'delimited, long, sentence, or the places where columns begin, as in 1,12,23',
      read: (value) => (/^\d/.test(value) ? { form: 'fixed', starts: columns(value) } : { form: value }),
    },
    'long.name': { about: 'the column, from 1, that names the reading of each line', read: columnFrom1 },
    'long.value': { about: 'the column that holds its value', read: columnFrom1 },
    'long.by': {
      about: 'stamp or cycle: what makes a row, lines of one stamp or one cycle through the names',
      read: (value) => value,
    },
    headerLines: { about: 'lines above the first row', read: Number },
    'time.style': { about: 'iso, date, epoch, elapsed, clock or interval', read: (value) => value },
    'time.columns': { about: 'columns from 1, as in 1,2', read: columns },
    'time.order': { about: 'day-month or month-day', read: (value) => value },
    'time.unit': { about: 's, min, h, ms or h:m:s', read: (value) => value },
    'time.utcOffset_min': { about: 'minutes ahead of UTC', read: Number },
    'time.dial_h': { about: '12 for a dial without AM and PM', read: Number },
    'time.restart': { about: 'join, to go on where the count begins again', read: (value) => value },
    'time.interval_s': { about: 'seconds between rows, with time.style=interval', read: Number },
    missing: { about: 'cells that mean no reading, parted by commas', read: (value) => value.split(',') },
    doubtful: { about: 'keep or leave-out', read: (value) => value },
  };

export const partsHelp = Object.entries(parts)
  .map(([part, { about }]) => `${part} (${about})`)
  .join('; ');

const textParts = new Set(['encoding', 'delimiter', 'decimal', 'thousands', 'layout', 'headerLines']);

/**
 * Reads `--set PART=VALUE` and `--unit COLUMN=UNIT`.
 *
 * @throws BadInputError for a part that the recipe has not
 */
export function readParts(sets: readonly string[], units: readonly string[]): GivenParts {
  const faults: Fault[] = [];
  const text: Record<string, unknown> = {};
  const long: Record<string, unknown> = {};
  const laid: [string, unknown][] = [];
  for (const set of sets) {
    const split = set.indexOf('=');
    const part = set.slice(0, Math.max(0, split));
    const known = parts[part];
    if (known === undefined) {
      faults.push({
        where: `--set ${set}`,
        what: 'This is no part of a recipe.',
        remedy: `Write --set PART=VALUE with one of: ${Object.keys(parts).join(', ')}.`,
      });
      continue;
    }
    const value = known.read(set.slice(split + 1).trim());
    if (part.startsWith('long.')) long[part.slice('long.'.length)] = value;
    else if (textParts.has(part)) text[part] = value;
    else laid.push([part, value]);
  }
  const unitOf = units.map((typed) => {
    const split = typed.lastIndexOf('=');
    const unit = unitFrom(typed.slice(split + 1));
    if (split < 1 || unit === undefined) {
      faults.push({
        where: `--unit ${typed}`,
        what: 'This does not say in which unit a column is.',
        remedy: 'Write --unit COLUMN=C, F, K, mV, uV, ohm or kohm, as in --unit 2=F',
      });
    }
    return { column: typed.slice(0, Math.max(0, split)).trim(), unit: unit ?? 'C', typed };
  });
  if (faults.length > 0) throw new BadInputError(faults);
  checkText(text);
  if (Object.keys(long).length > 0) text['layout'] = layoutOf(long, text['layout']);
  return {
    text,
    overlay: (recipe) => checkRecipe(layUnits(layParts(recipe, laid), unitOf), sets),
    settles: (field) =>
      (/^time\b/.test(field) && laid.some(([part]) => part.startsWith('time.'))) ||
      (field === 'channels.unit' && unitOf.length > 0),
  };
}

/** The sniffer takes what it is given on trust, so it is looked at before. */
function checkText(text: Readonly<Record<string, unknown>>): void {
  const faults = Object.entries(text).flatMap(([part, value]): Fault[] => {
    const isLayout =
      part === 'layout' &&
      ['delimited', 'long', 'sentence', 'fixed'].includes((value as { form: string }).form) &&
      ((value as { starts?: number[] }).starts ?? [0, 1]).every((at) => Number.isInteger(at) && at >= 0);
    if (isLayout) return [];
    if (part !== 'layout' && recipeSchema.shape[part as 'decimal'].safeParse(value).success) return [];
    return [notAllowed(part)];
  });
  if (faults.length > 0) throw new BadInputError(faults);
}

/** What is said of a log in long form says that it is one. @throws BadInputError for a value that it cannot have, or another layout */
function layoutOf(long: Readonly<Record<string, unknown>>, said: unknown): object {
  const form = (said as { form: string } | undefined)?.form ?? 'long';
  const faults = Object.entries(long).flatMap(([part, value]): Fault[] => {
    if (form !== 'long')
      return [
        {
          where: `--set long.${part}`,
          what: `This is said of a log of one reading a line, and --set layout says that it is another (${form}).`,
          remedy: 'Leave one of the two out.',
        },
      ];
    const isAllowed =
      part === 'by' ? value === 'stamp' || value === 'cycle' : Number.isInteger(value) && Number(value) >= 0;
    return isAllowed ? [] : [notAllowed(`long.${part}`)];
  });
  if (faults.length > 0) throw new BadInputError(faults);
  return { form, ...long };
}

function notAllowed(part: string): Fault {
  return {
    where: `--set ${part}`,
    what: 'The recipe cannot hold this value.',
    remedy: `It takes ${parts[part]?.about ?? 'another value'}.`,
  };
}

function layParts(recipe: Recipe, laid: readonly [string, unknown][]): Recipe {
  let changed: Record<string, unknown> = { ...recipe };
  for (const [part, value] of laid) {
    const [head = '', field] = part.split('.');
    if (field === undefined) changed = { ...changed, [head]: value };
    else if (part === 'time.style') changed = { ...changed, time: timeOf(recipe, String(value)) };
  }
  for (const [part, value] of laid) {
    const [head = '', field] = part.split('.');
    if (field === undefined || part === 'time.style') continue;
    changed = { ...changed, [head]: { ...(changed[head] as object), [field]: value } };
  }
  return changed as Recipe;
}

/** The columns stay; what the style needs besides has its usual value until it is set. */
function timeOf(recipe: Recipe, style: string): object {
  if (recipe.time.style === style) return recipe.time;
  const timeColumns = recipe.time.style === 'interval' ? [0] : recipe.time.columns;
  const first = timeColumns.slice(0, 1);
  switch (style) {
    case 'iso':
      return { style, columns: timeColumns };
    case 'date':
      return { style, columns: timeColumns, order: 'day-month' };
    case 'interval':
      return { style, interval_s: 1 };
    case 'clock':
      return { style, columns: first };
    default:
      return { style, columns: first, unit: 's' };
  }
}

/** A unit as people type it: °C, kΩ, μV. */
function unitFrom(typed: string): ChannelUnit | undefined {
  const plain = typed.replace('°', '').replace(/[µμ]/, 'u').replace(/[ΩΩ]/, 'ohm').trim().toLowerCase();
  return (Object.keys(unitNames) as ChannelUnit[]).find((unit) => unit.toLowerCase() === plain);
}

function layUnits(
  recipe: Recipe,
  units: readonly { column: string; unit: ChannelUnit; typed: string }[],
): Recipe {
  let { channels } = recipe;
  for (const { column, unit, typed } of units) {
    const isMeant = (channel: Recipe['channels'][number]) =>
      channel.header.toLowerCase() === column.toLowerCase() || String(channel.column + 1) === column;
    if (!channels.some(isMeant)) {
      throw new BadInputError([
        {
          where: `--unit ${typed}`,
          what: `The log has no column of temperatures "${column}".`,
          remedy: `Use one of: ${channels.map(({ header, column: at }) => `"${header}" or ${at + 1}`).join(', ')}.`,
        },
      ]);
    }
    channels = channels.map((channel) => (isMeant(channel) ? { ...channel, unit } : channel));
  }
  return { ...recipe, channels };
}

function checkRecipe(recipe: Recipe, sets: readonly string[]): Recipe {
  const checked = recipeSchema.safeParse(recipe);
  if (checked.success) return recipe;
  throw new BadInputError(
    checked.error.issues.map(({ path }) => {
      const part = path.filter((step) => typeof step === 'string').join('.');
      const known = parts[part] === undefined ? sets[0]?.split('=')[0] : part;
      return notAllowed(known ?? part);
    }),
  );
}
