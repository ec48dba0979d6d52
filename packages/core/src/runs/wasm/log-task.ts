import type { LogRows } from '../log-rows.js';
import type { PlainPlan } from '../plain-log.js';
import { tens } from '../read-plain-log.kernel.js';

/** The log is copied into the memory in pieces that stay in the cache of a processor, as does what is found in them. */
export const piece_bytes = 131_072;
const found_bytes = 262_144;
const loneCapacity = 2048;

/** There is room for no more; a log with more is left to the kernel in TypeScript. */
const most = { columns: 256, channels: 128, codes: 128, head: 32, suffix: 16 } as const;

/** Where everything lies in the memory, in bytes, each on a boundary of sixteen. The module's constants lie below. */
const at = layOut(2048, {
  task: 256,
  kinds: most.columns,
  units: most.channels,
  counted: most.channels,
  slots: 4 * most.columns,
  codesAt: 8 * most.codes,
  tens: 8 * tens.length,
  prefix: most.head,
  head: most.head,
  headMask: most.head,
  suffix: most.suffix,
  suffixMask: most.suffix,
  shapes: 64 * most.columns,
  isLone: most.channels,
  loneFrom: 4 * most.channels,
  loneTo: 4 * most.channels,
  lone: 16 * loneCapacity,
  times: found_bytes,
  // Behind the last byte two times sixteen are looked at, whatever they are.
  piece: piece_bytes + 32,
});

/** The numbers of the task in their order, as packages/core/assembly/log/task.ts has them: four bytes each, then eight each. */
const words = [
  ...(['columns', 'channels', 'delimiter', 'mark', 'lineEnd', 'width', 'codes'] as const),
  ...(['prefixLength', 'suffixLength', 'loneCapacity', 'kinds', 'units', 'counted', 'slots'] as const),
  ...(['codesAt', 'tens', 'prefix', 'head', 'headMask', 'suffix', 'suffixMask', 'shapes'] as const),
  ...(['isLone', 'loneFrom', 'loneTo', 'lone', 'times', 'readings', 'capacity'] as const),
  ...(['rows', 'lones', 'anyReading', 'anyLone', 'hasReading', 'isHeadKnown', 'spare'] as const),
] as const;
const doubles = ['unit_s', 'date_s', 'offset_s', 'start_s', 'last_s'] as const;
type Word = (typeof words)[number];
const wordAt = Object.fromEntries(words.map((word, index) => [word, at.task / 4 + index])) as Record<
  Word,
  number
>;
const doublesFrom = (at.task + 4 * words.length) / 8;

/** A cell that the general reader is to look at: its row and channel, and where it stands in the piece. */
export type LoneCell = Record<'row' | 'channel' | 'from' | 'to', number>;

/** The memory of the module that reads plain rows, about half a megabyte: what it is told, a piece of the log, what it finds. */
export class LogTask {
  readonly memory = new WebAssembly.Memory({ initial: Math.ceil(at.end / 65_536) });
  /** Where the task and the piece lie. */
  readonly task = at.task;
  readonly piece = at.piece;
  private readonly bytes = new Uint8Array(this.memory.buffer);
  private readonly words = new Int32Array(this.memory.buffer);
  private readonly doubles = new Float64Array(this.memory.buffer);

  constructor() {
    this.doubles.set(tens, at.tens / 8);
    for (const word of words) if (word in at) this.words[wordAt[word]] = at[word as keyof typeof at];
    this.set('loneCapacity', loneCapacity);
  }

  /** Whether there is room for a plan with the stamp that it knows by now. */
  static fits({ kinds, units, codes, stamp }: PlainPlan): boolean {
    return (
      kinds.length <= most.columns &&
      units.length <= most.channels &&
      codes.length <= most.codes &&
      headLength(stamp) <= most.head &&
      stamp.suffix.length <= most.suffix
    );
  }

  /** Writes down how the rows are read, from the row behind the last on. */
  begin(plan: PlainPlan, { counted, start_s, last_s }: LogRows): void {
    const { bytes } = this;
    const { kinds, units, codes, delimiter, mark, lineEnd, width, unit_s, stamp } = plan;
    const { prefix, suffix, date_s, offset_s } = stamp;
    this.set('columns', kinds.length);
    this.set('channels', units.length);
    this.set('codes', codes.length);
    this.set('delimiter', delimiter);
    this.set('mark', mark);
    this.set('lineEnd', lineEnd);
    this.set('width', width);
    this.set('prefixLength', prefix.length);
    this.set('suffixLength', suffix.length);
    this.doubles.set([unit_s, date_s, offset_s, start_s, last_s], doublesFrom);
    bytes.set(kinds, at.kinds);
    bytes.set(units, at.units);
    for (const [channel, counts] of counted.entries()) bytes[at.counted + channel] = counts ? 1 : 0;
    this.words.set(plan.slots, at.slots / 4);
    this.doubles.set(codes, at.codesAt / 8);
    bytes.set(prefix, at.prefix);
    bytes.fill(0, at.headMask, at.headMask + most.head);
    bytes.fill(0xff, at.headMask, at.headMask + headLength(stamp));
    bytes.set(suffix, at.suffix);
    bytes.fill(0, at.suffixMask, at.suffixMask + most.suffix);
    bytes.fill(0xff, at.suffixMask, at.suffixMask + suffix.length);
  }

  /** Puts a piece of the log into place, and makes room for so many rows or fewer. */
  load(piece: Uint8Array, rows: number): void {
    const capacity = Math.min(rows, Math.floor(found_bytes / 8 / (1 + this.get('channels'))));
    this.set('capacity', capacity);
    this.set('readings', at.times + 8 * capacity);
    this.bytes.set(piece, at.piece);
  }

  get(word: Word): number {
    return this.words[wordAt[word]] as number;
  }

  /** Time of the last row, in seconds as `LogRows` has them. */
  get last_s(): number {
    return this.doubles[doublesFrom + doubles.indexOf('last_s')] as number;
  }

  /** The times found, or with a channel the readings in it, °C; overwritten by the next piece. */
  found(channel = -1): Float64Array {
    const from = at.times / 8 + (channel + 1) * this.get('capacity');
    return this.doubles.subarray(from, from + this.get('rows'));
  }

  /** One of the lone cells, which are in the order of the rows and, in a row, of the channels. */
  lone(index: number): LoneCell {
    const at4 = at.lone / 4 + 4 * index;
    const word = (place: number) => this.words[at4 + place] as number;
    return { row: word(0), channel: word(1), from: word(2) - at.piece, to: word(3) - at.piece };
  }

  private set(word: Word, value: number): void {
    this.words[wordAt[word]] = value;
  }
}

/** The bytes of date, hours and minutes. */
function headLength({ prefix }: PlainPlan['stamp']): number {
  return prefix.length + 'hh:mm'.length;
}

/** Parts one behind the other, each on a boundary of sixteen bytes; and where the last ends. */
function layOut<Part extends string>(
  first: number,
  sizes: Record<Part, number>,
): Record<Part | 'end', number> {
  let next = first;
  const places = Object.entries<number>(sizes).map(([part, bytes]) => {
    const place = next;
    next += Math.ceil(bytes / 16) * 16;
    return [part, place];
  });
  return Object.fromEntries([...places, ['end', next]]);
}
