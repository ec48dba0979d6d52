import type { Probe, Recipe } from '../records/index.js';
import { unitNames } from './channel-unit.js';
import type { ImportQuestion } from './import-question.js';
import { matchProbes, namesProbe } from './match-probes.js';
import { noReadingNumbers, noReadingWords } from './no-reading-words.js';
import { type CellUnit, NumberReader } from './read-number.js';
import { chooseSignals, isColdJunction, rawUnitOfHeader, type SignalColumn } from './sniff-signals.js';
import type { SampleTable } from './sniff-table.js';

type Channel = Recipe['channels'][number];

export interface SniffedChannels {
  readonly channels: Channel[];
  readonly missing: string[];
  readonly conclusions: string[];
  readonly questions: ImportQuestion[];
}

/** Quantities that stand beside temperatures in a log. */
const otherUnits =
  /[[(/_\s](m?V|m?A|m?W|mAh|Ah|Wh|V\s?(DC|AC)|%\s?(RH|rF)?|rpm|h?Pa|mbar|bar|lux|ohm|Ω|m?s|min|h|Hz|dB)[\])]?$/;
const otherWords = /\b(volt(age)?|current|power|humidity|load|status|state|fan|rssi|pressure|capacity)\b/i;

/** The unit a header names: `pack (°C)`, `T1 degF`, `pack_C`. A lone K may be a thermocouple's type, so it is reported apart. */
export function unitOfHeader(header: string): { unit: CellUnit; isLoneK: boolean } | undefined {
  if (/℃/.test(header)) return { unit: 'C', isLoneK: false };
  if (/℉/.test(header)) return { unit: 'F', isLoneK: false };
  const marked = /(?:[°º˚\uFFFD]|\bdeg(?:rees?)?[.\s]*)\s*([CFK])(?![a-z])/i.exec(header);
  if (marked) return { unit: marked[1]?.toUpperCase() as CellUnit, isLoneK: false };
  const word = /celsius|fahrenheit|kelvin/i.exec(header);
  if (word) return { unit: word[0][0]?.toUpperCase() as CellUnit, isLoneK: false };
  const bare = /(?:^|[[(_/,\s-])([CFK])[\])]?\s*$/.exec(header);
  if (!bare) return undefined;
  return { unit: bare[1] as CellUnit, isLoneK: bare[1] === 'K' };
}

/**
 * Which columns are temperatures, in which unit, and to which probe each belongs.
 *
 * The unit comes from the header, then from the cells, then from a remark above the table. Where nothing names it, readings
 * near room temperature settle it, or a question is asked: a Fahrenheit log taken for Celsius is hot but believable.
 */
export function sniffChannels(
  table: SampleTable,
  header: readonly string[],
  unitRow: readonly string[],
  preamble: string,
  timeColumns: readonly number[],
  probes: readonly Probe[],
): SniffedChannels {
  const conclusions: string[] = [];
  const columns: Column[] = [];
  const withSignal: SignalColumn[] = [];
  for (let column = 0; column < table.width; column++) {
    if (timeColumns.includes(column)) continue;
    const seen = readColumn(table, column);
    const name = header[column] ?? '';
    const label = [name, unitRow[column] ?? ''].filter((part) => part !== '').join(' ');
    const place = name === '' ? `Column ${column + 1}` : `Column ${column + 1} ("${name}")`;
    if (seen.values.length + seen.silent + seen.codes.length <= seen.texts) {
      if (seen.texts > 0) conclusions.push(`${place} is text and is left out.`);
      continue;
    }
    const named = unitOfHeader(label);
    const rawUnit = named ? undefined : rawUnitOfHeader(label);
    if (rawUnit) {
      withSignal.push({ column, name, place, unit: rawUnit });
      continue;
    }
    if (!named && (otherUnits.test(label) || otherWords.test(label)) && !namesProbe(name, probes)) {
      conclusions.push(`${place} is not a temperature and is left out.`);
      continue;
    }
    columns.push({ column, name, place, named, ...seen });
  }

  const signals = chooseSignals(withSignal, columns, probes);
  conclusions.push(...signals.conclusions);
  const order = [...columns, ...signals.taken].map(({ column }) => column).sort((one, other) => one - other);
  const scale = sniffScale(columns, table, (column) => order.indexOf(column));
  const settled = settleUnits(columns.map(scaledTo(scale?.scale)), unitOfRemark(preamble));
  const told = [
    ...columns.map(({ column, name, place }, index) => ({
      column,
      name,
      place,
      scale: scale?.scale,
      ...(settled[index] ?? { unit: 'C' as const, why: '', isOpen: true }),
    })),
    ...signals.taken.map((column) => ({
      ...column,
      scale: undefined,
      why: 'its header says so, a raw signal',
      isOpen: false,
    })),
  ].sort((one, other) => one.column - other.column);
  const hasThermocouple = signals.taken.some(({ unit }) => unit === 'mV' || unit === 'uV');
  const cold = hasThermocouple ? columns.find(({ name }) => isColdJunction(name)) : undefined;
  const questions: ImportQuestion[] = scale === undefined ? [] : [scale.question];
  const unsettled: number[] = [];
  const channels: Channel[] = [];
  for (const [index, { column, name, place, scale: partOf, unit, why, isOpen }] of told.entries()) {
    if (isOpen) unsettled.push(index);
    conclusions.push(`${place} is read in ${unitNames[unit]}: ${why}.`);
    const isCold = column === cold?.column;
    if (isCold)
      conclusions.push(`${place} is taken for the cold junction of the thermocouples, by its header.`);
    channels.push({
      column,
      header: name.slice(0, 200),
      unit,
      ...(partOf !== undefined && { scale: partOf }),
      ...(isCold && { coldJunction: true }),
    });
  }
  if (unsettled.length > 0) questions.push(askUnit(channels, unsettled));
  const matched = matchProbes(channels, probes);
  const codes = [...new Set(columns.flatMap(({ codes: seen }) => seen))];
  for (const code of codes)
    conclusions.push(`"${code}" stands where no probe can read so; it is taken as no reading.`);
  return {
    channels: matched.channels,
    missing: [...noReadingWords, ...codes].slice(0, 40),
    conclusions: [...conclusions, ...matched.conclusions],
    questions: [...questions, ...matched.questions],
  };
}

interface Column {
  readonly column: number;
  readonly name: string;
  readonly place: string;
  readonly named: ReturnType<typeof unitOfHeader>;
  readonly values: readonly number[];
  readonly cellUnit: CellUnit | undefined;
  /** Numbers that stand for a fault, as written. */
  readonly codes: readonly string[];
}

type Scale = NonNullable<Channel['scale']>;

/** Temperatures of a room and of what is warmed in it, in any unit, as a log begins. @assumed */
const believable = (value: number) => value >= 5 && value <= 130;

/**
 * Whole numbers too large for any temperature count in parts of a degree, if all columns begin believably so.
 *
 * @param channelOf the place a column will have among the channels, to which the question refers
 */
function sniffScale(
  columns: readonly Column[],
  table: SampleTable,
  channelOf: (column: number) => number,
): { scale: Scale; question: ImportQuestion } | undefined {
  const firsts = columns.map(({ values }) => middle(values.slice(0, 9)));
  const isWhole = columns.every(({ values }) => values.length > 0 && values.every(Number.isInteger));
  // Below this a whole number may be a temperature as it stands, in kelvin or in a hot oven.
  if (columns.length === 0 || !isWhole || firsts.some((first) => first < 150)) return undefined;
  if (
    firsts.every((first) => first >= 250 && first <= 330) &&
    columns.every(({ named }) => named?.unit !== 'C')
  )
    return undefined;
  const scale = ([0.1, 0.01, 0.001] as const).find((each) =>
    firsts.every((first) => believable(first * each)),
  );
  if (scale === undefined) return undefined;
  const names = { 0.1: 'tenths', 0.01: 'hundredths', 0.001: 'thousandths' } as const;
  const sample = table.rows[0]?.cells[columns[0]?.column ?? 0] ?? '';
  const asks = [scale, null];
  return {
    scale,
    question: {
      field: 'channels.scale',
      question: `The readings have no decimal mark, and "${sample}" is no temperature. Are they ${names[scale]} of a degree?`,
      options: asks.map((each) => ({
        label:
          each === null ? 'No: whole degrees, out of range' : `Yes: ${names[each]}, ${Number(sample) * each}`,
        set: Object.fromEntries(columns.map(({ column }) => [`channels.${channelOf(column)}.scale`, each])),
      })),
      chosen: 0,
    },
  };
}

const scaledTo =
  (scale: Scale | undefined) =>
  (column: Column): Column =>
    scale === undefined ? column : { ...column, values: column.values.map((value) => value * scale) };

const words = new Set(noReadingWords);

function readColumn(table: SampleTable, column: number) {
  const numbers = new NumberReader(table.decimal);
  const values: number[] = [];
  const codes: string[] = [];
  let cellUnit: CellUnit | undefined;
  let texts = 0;
  let silent = 0;
  for (const { cells } of table.rows) {
    const cell = cells[column] ?? '';
    const value = numbers.read(cell, 0, cell.length);
    if (!Number.isNaN(value)) {
      if (noReadingNumbers.includes(value)) codes.push(cell);
      else values.push(value);
      cellUnit ??= numbers.unit;
    } else if (words.has(cell.toLowerCase())) silent++;
    else if (cell !== '') texts++;
  }
  return { values, codes, cellUnit, texts, silent };
}

interface SettledUnit {
  readonly unit: CellUnit;
  readonly why: string;
  /** Nothing settles it; `unit` is a choice for now. */
  readonly isOpen?: boolean;
}

/** A logger writes one unit: columns that say nothing follow one that does, or all share one question. */
function settleUnits(columns: readonly Column[], remark: CellUnit | undefined): SettledUnit[] {
  const alone = columns.map((column) => settleUnit(column, remark));
  const known = alone.find(({ isOpen }) => !isOpen);
  const open = alone.find(({ isOpen }) => isOpen);
  return alone.map((own) => {
    if (!own.isOpen) return own;
    if (known) return { unit: known.unit, why: 'no unit is named; it is taken as that of the other columns' };
    return { ...own, unit: open?.unit ?? own.unit };
  });
}

function settleUnit(column: Column, remark: CellUnit | undefined): SettledUnit {
  const first = middle(column.values.slice(0, 9));
  const { named } = column;
  if (named && !(named.isLoneK && first < 200)) return { unit: named.unit, why: 'its header says so' };
  if (column.cellUnit) return { unit: column.cellUnit, why: 'its cells say so' };
  if (remark) return { unit: remark, why: 'a remark above the table says so' };
  if (first >= 250 && first <= 330)
    return { unit: 'K', why: `no unit is named, and it begins near ${first}` };
  if (first >= 5 && first <= 45) {
    const thermocouple = named?.isLoneK
      ? 'the K in its header is the thermocouple’s type, as'
      : 'no unit is named, and';
    return { unit: 'C', why: `${thermocouple} it begins near ${first}, a room’s temperature in °C` };
  }
  const unit = first > 45 && first <= 113 ? 'F' : 'C';
  return {
    unit,
    why: `no unit is named; this is a choice for now, as it begins near ${first}`,
    isOpen: true,
  };
}

function middle(values: readonly number[]): number {
  return values.toSorted((one, other) => one - other)[values.length >> 1] ?? Number.NaN;
}

/** "Unit: °F" above the table holds for every column that says nothing itself. */
function unitOfRemark(preamble: string): CellUnit | undefined {
  for (const line of preamble.split('\n')) {
    if (!/\b(unit|units|temperature|temp|scale)\b/i.test(line)) continue;
    const unit = unitOfHeader(line.replace(/[",;|\t]+/g, ' ').trim());
    if (unit && !unit.isLoneK) return unit.unit;
  }
  return undefined;
}

function askUnit(channels: readonly Channel[], indexes: readonly number[]): ImportQuestion {
  const units = ['C', 'F', 'K'] as const;
  const columns = indexes.map((index) => (channels[index]?.column ?? 0) + 1).join(', ');
  return {
    field: 'channels.unit',
    question: `In which unit ${indexes.length === 1 ? 'is column' : 'are columns'} ${columns}? The log does not say.`,
    options: units.map((unit) => ({
      label: unitNames[unit],
      set: Object.fromEntries(indexes.map((index) => [`channels.${index}.unit`, unit])),
    })),
    chosen: Math.max(
      0,
      units.findIndex((unit) => unit === channels[indexes[0] ?? 0]?.unit),
    ),
  };
}
