// @ts-check
/** Damages logs with a seed, and says what must hold of any log whatever: it is read with every line accounted for, or refused by name. */
import { isDeepStrictEqual } from 'node:util';
import { corpus } from './log-corpus.mjs';

/** A small generator with a seed, so that a failing log can be made again. @param {number} seed */
export function randomFrom(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const shreds = [
  'OL',
  ',',
  ';',
  '\n',
  '\r',
  '"',
  '\t',
  ' ',
  '-',
  '.',
  ':',
  '\0',
  '1e9',
  'T',
  '#',
  '\u00b0C',
  '2024-01-01',
  'nan',
  '85.0',
  '=',
  '99999999999999999999',
  'pack',
];

/** One byte a letter, so that text and bytes can be cut alike. @param {Uint8Array} bytes */
const lettersOf = (bytes) => Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
/** @param {string} letters */
const bytesOf = (letters) => Uint8Array.from(letters, (letter) => letter.charCodeAt(0) & 255);

/** @type {readonly ((letters: string, random: () => number) => string)[]} */
const damages = [
  // A bit flips.
  (letters, random) => {
    const at = Math.floor(random() * letters.length);
    const flipped = letters.charCodeAt(at) ^ (1 << Math.floor(random() * 8));
    return letters.slice(0, at) + String.fromCharCode(flipped & 255) + letters.slice(at + 1);
  },
  // The file ends too soon.
  (letters, random) => letters.slice(0, Math.floor(random() * letters.length)),
  // Two lines change places.
  (letters, random) => {
    const lines = letters.split('\n');
    const [one, other] = [Math.floor(random() * lines.length), Math.floor(random() * lines.length)];
    [lines[one], lines[other]] = [lines[other] ?? '', lines[one] ?? ''];
    return lines.join('\n');
  },
  // A line is lost, or stands several times.
  (letters, random) => {
    const lines = letters.split('\n');
    const at = Math.floor(random() * lines.length);
    const times = Math.floor(random() * 4);
    lines.splice(at, 1, ...Array.from({ length: times }, () => lines[at] ?? ''));
    return lines.join('\n');
  },
  // The delimiter changes, everywhere or from somewhere on.
  (letters, random) => {
    const marks = [',', ';', '\t', '|', ' '];
    const [from, to] = [
      marks[Math.floor(random() * marks.length)] ?? ',',
      marks[Math.floor(random() * marks.length)] ?? ';',
    ];
    const at = random() < 0.5 ? 0 : Math.floor(random() * letters.length);
    return letters.slice(0, at) + letters.slice(at).replaceAll(from, to);
  },
  // The beginning of one log and the end of another.
  (letters, random) => {
    const other = lettersOf(corpus[Math.floor(random() * corpus.length)]?.bytes ?? new Uint8Array());
    return (
      letters.slice(0, Math.floor(random() * letters.length)) +
      other.slice(Math.floor(random() * other.length))
    );
  },
  // Something stands where it should not.
  (letters, random) => {
    const at = Math.floor(random() * letters.length);
    return letters.slice(0, at) + (shreds[Math.floor(random() * shreds.length)] ?? '') + letters.slice(at);
  },
  // A stretch is lost, or stands twice.
  (letters, random) => {
    const at = Math.floor(random() * letters.length);
    const length = Math.floor(random() ** 3 * 60);
    const twice = random() < 0.5 ? letters.slice(at, at + length) : '';
    return letters.slice(0, at) + twice + twice + letters.slice(at + length);
  },
];

/** The log of a seed: one of the corpus with one to four damages. @param {number} seed @returns {{ bytes: Uint8Array, origin: number }} */
export function damagedLog(seed) {
  const random = randomFrom(Math.imul(seed, 2_654_435_761) ^ 0x5bd1e995);
  random();
  const origin = Math.floor(random() * corpus.length);
  let letters = lettersOf(corpus[origin]?.bytes ?? new Uint8Array());
  for (let count = 1 + Math.floor(random() * 4); count > 0; count--)
    letters = (damages[Math.floor(random() * damages.length)] ?? ((same) => same))(letters, random);
  return { bytes: bytesOf(letters), origin };
}

/**
 * @typedef {typeof import('../packages/core/src/runs/index.js')} Runs
 * @typedef {import('../packages/core/src/records/index.js').Recipe} Recipe
 */

/** Lines by another road than the reader's. @param {Uint8Array} bytes @param {string} encoding */
export function linesOf(bytes, encoding) {
  const text = new TextDecoder(encoding).decode(bytes);
  const lines = text.split(text.includes('\n') ? '\n' : '\r');
  return lines.at(-1) === '' ? lines.length - 1 : lines.length;
}

/**
 * What is wrong with the reading of a log, in words; null where nothing is.
 *
 * @param {ReturnType<Runs['readLog']>} reading @param {Uint8Array} bytes
 */
export function faultOfReading({ after_s, channels, report }, bytes) {
  const { header, blank, read, leftOut } = report.lines;
  const lines = linesOf(bytes, report.recipe.encoding);
  if (header + blank + read + leftOut !== lines)
    return `${header} header, ${blank} blank, ${read} read and ${leftOut} left out are not the ${lines} lines of the file`;
  if (report.rows !== after_s.length || report.rows < 2) return 'rows and times differ in number';
  if (report.recipe.layout?.form !== 'long' && report.rows !== read)
    return 'a row was read from no line or from two';
  const listed = report.unread
    .filter(({ reason }) => reason.startsWith('row left out'))
    .reduce((sum, { count }) => sum + count, 0);
  if (report.recipe.layout?.form === 'long' ? listed > leftOut : listed !== leftOut)
    return `${leftOut} lines are left out and ${listed} are listed`;
  const falls = after_s.findIndex((now_s, row) => row > 0 && !(now_s > (after_s[row - 1] ?? now_s)));
  if (falls >= 0) return `time does not rise in row ${falls}`;
  for (const { reading_C } of channels) {
    if (reading_C.length !== report.rows) return 'a column is shorter than the time';
    if (reading_C.some((value) => value < -60 || value > 300)) return 'a reading is out of range';
  }
  return null;
}

/**
 * Sniffs and reads one log, also by the recipe of the log it was made from.
 *
 * @param {Runs} runs @param {number} seed
 * @param {readonly Recipe[]} recipes of the corpus, by origin
 * @returns {{ seen: ('refused' | 'read' | 'unfit')[], fault: string | null }}
 */
export function tryLog(runs, seed, recipes) {
  const { bytes, origin } = damagedLog(seed);
  /** @type {('refused' | 'read' | 'unfit')[]} */
  const seen = [];
  let fault = null;
  /** @param {() => Recipe | undefined} recipeOf @param {'refused' | 'unfit'} no */
  const attempt = (recipeOf, no) => {
    try {
      const recipe = recipeOf();
      if (recipe === undefined) return;
      fault ??= faultOfReading(runs.readLog(bytes, recipe, 'torn.log'), bytes);
      seen.push('read');
    } catch (error) {
      if (!(error instanceof Error) || error.name !== 'BadInputError')
        fault ??= error instanceof Error ? (error.stack ?? error.message) : String(error);
      seen.push(no);
    }
  };
  attempt(() => runs.sniffLog(bytes, { file: 'torn.log', probes: [] }).recipe, 'refused');
  attempt(() => recipes[origin], 'unfit');
  return { seen, fault };
}

/**
 * A reader that reads a log in every way there is, and throws where two of them differ.
 *
 * @param {typeof import('../packages/core/src/runs/log-intake.js').LogIntake} LogIntake
 * @returns {Runs['readLog']}
 */
export function readInEveryWay(LogIntake) {
  return (bytes, recipe, file) => {
    if (!(bytes instanceof Uint8Array)) throw new Error('A damaged log comes whole.');
    const outcomes = /** @type {const} */ (['general', 'typescript', 'wasm']).map((way) => {
      const intake = new LogIntake(recipe, file, { way });
      try {
        intake.take(bytes, true);
        return { way, reading: intake.finish(), refusal: null };
      } catch (error) {
        if (!(error instanceof Error) || error.name !== 'BadInputError') throw error;
        return { way, reading: null, refusal: error };
      }
    });
    const [first, ...others] = outcomes;
    if (first === undefined) throw new Error('There is no way to read a log.');
    for (const { way, reading, refusal } of others) {
      if (!isDeepStrictEqual(reading, first.reading) || refusal?.message !== first.refusal?.message)
        throw new Error(`read by ${way} it is another log than read by ${first.way}`);
    }
    if (first.reading === null) throw first.refusal;
    return first.reading;
  };
}

/** The recipe of each log of the corpus. @param {Runs} runs */
export function corpusRecipes(runs) {
  return corpus.map(({ bytes }) => runs.sniffLog(bytes, { file: 'corpus.log', probes: [] }).recipe);
}
