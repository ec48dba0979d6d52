import { BadInputError } from '../measure/index.js';
import type { Recipe } from '../records/index.js';

export type Encoding = Recipe['encoding'];

/** How much of a file is looked at to tell its encoding, and whether it is text at all. */
const sample_bytes = 65_536;

/** The head of a file, in which at least as many characters stand as are looked at, whatever the encoding. */
const head_bytes = 4 * sample_bytes;

/** What is looked at before a log is read: of a file of any size no more than this. */
export function headOf(bytes: Uint8Array): Uint8Array {
  return bytes.subarray(0, head_bytes);
}

/** First bytes of files that people take for a log, and what to do with each. */
const knownBinaries: readonly {
  readonly start: readonly number[];
  readonly kind: string;
  readonly remedy: string;
}[] = [
  {
    start: [0x50, 0x4b, 0x03, 0x04],
    kind: 'a spreadsheet or a zip archive',
    remedy: 'Open it and save the sheet as CSV, or unpack the log from it.',
  },
  {
    start: [0xd0, 0xcf, 0x11, 0xe0],
    kind: 'an older spreadsheet',
    remedy: 'Open it and save the sheet as CSV.',
  },
  { start: [0x1f, 0x8b], kind: 'a compressed file', remedy: 'Unpack it and import the log inside.' },
  {
    start: [0x25, 0x50, 0x44, 0x46],
    kind: 'a PDF document',
    remedy: 'Export the readings from the logger as text.',
  },
  {
    start: [0x89, 0x50, 0x4e, 0x47],
    kind: 'a picture',
    remedy: 'Export the readings from the logger as text.',
  },
];

/**
 * The encoding of a text file, and the reason for the answer.
 *
 * A mark at the start decides; then the pattern of zero bytes that UTF-16 leaves; then whether the bytes are UTF-8;
 * what is left is taken as windows-1252, which is right for Western loggers and only affects header text. Only the head of
 * the file is looked at.
 */
export function guessEncoding(file: Uint8Array): { encoding: Encoding; reason: string } {
  const bytes = headOf(file);
  // The head may end within a character; that damages nothing.
  const cut = { stream: bytes.length < file.length };
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf)
    return { encoding: 'utf-8', reason: 'a mark at the start says so' };
  if (bytes[0] === 0xff && bytes[1] === 0xfe)
    return { encoding: 'utf-16le', reason: 'a mark at the start says so' };
  if (bytes[0] === 0xfe && bytes[1] === 0xff)
    return { encoding: 'utf-16be', reason: 'a mark at the start says so' };

  const pairs = Math.min(bytes.length, 4096) >> 1;
  let evenZeros = 0;
  let oddZeros = 0;
  for (let pair = 0; pair < pairs; pair++) {
    if (bytes[2 * pair] === 0) evenZeros++;
    if (bytes[2 * pair + 1] === 0) oddZeros++;
  }
  if (oddZeros > 0.5 * pairs && evenZeros < 0.1 * pairs)
    return { encoding: 'utf-16le', reason: 'every second byte is zero' };
  if (evenZeros > 0.5 * pairs && oddZeros < 0.1 * pairs)
    return { encoding: 'utf-16be', reason: 'every second byte is zero' };

  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes, cut);
    return { encoding: 'utf-8', reason: 'all bytes are valid' };
  } catch {
    return mostlyUtf8(new TextDecoder('utf-8').decode(bytes, cut))
      ? { encoding: 'utf-8', reason: 'most of its special characters are valid; a few bytes are damaged' }
      : { encoding: 'windows-1252', reason: 'the bytes are not valid UTF-8' };
  }
}

/** A damaged byte or two does not turn UTF-8 into something else. */
function mostlyUtf8(text: string): boolean {
  let valid = 0;
  let damaged = 0;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === 0xfffd) damaged++;
    else if (code > 0x7f) valid++;
  }
  return valid > damaged;
}

/**
 * The text of a log, without the mark at its start. Bytes that do not fit the encoding become U+FFFD, so that the cell
 * they stand in is counted as unreadable and the rest of the file is still read.
 *
 * @throws BadInputError for an empty or a binary file
 */
export function decodeText(bytes: Uint8Array, encoding: Encoding, file: string): string {
  refuseBinary(bytes, file);
  const text = new TextDecoder(encoding).decode(bytes);
  refuseBlank(text, file);
  return text;
}

/** @throws BadInputError for an empty file and for one whose first bytes are those of another kind of file */
export function refuseBinary(bytes: Uint8Array, file: string): void {
  if (bytes.length === 0) throw emptyFile(file);
  for (const { start, kind, remedy } of knownBinaries) {
    if (start.every((byte, index) => bytes[index] === byte)) {
      throw new BadInputError([{ where: `${file}:1`, what: `This is ${kind}, not a text log.`, remedy }]);
    }
  }
}

/** @throws BadInputError for a text of blanks or of control characters */
export function refuseBlank(text: string, file: string): void {
  if (text.trim() === '') throw emptyFile(file);
  if (looksBinary(text)) {
    throw new BadInputError([
      {
        where: `${file}:1`,
        what: 'This is not a text file: it is full of control characters.',
        remedy: 'Export the readings from the logger as text (CSV), one row per time.',
      },
    ]);
  }
}

function emptyFile(file: string): BadInputError {
  return new BadInputError([
    {
      where: `${file}:1`,
      what: 'The file is empty.',
      remedy: 'Copy the log from the logger again; check that it was closed before copying.',
    },
  ]);
}

/** Control characters that lay nothing out, and what bytes became that do not fit the encoding. */
const strangeCharacters = /(?![\t\n\f\r])[\p{Cc}\ufffd]/gu;

/** A log cut off by a power loss may end in zero bytes, so only the beginning is judged, and not for a few stray ones. */
function looksBinary(text: string): boolean {
  const sample = text.slice(0, sample_bytes);
  let strange = 0;
  let zeros = 0;
  for (const [character] of sample.matchAll(strangeCharacters)) {
    if (character === '\0') zeros++;
    else if (character !== '\u001a') strange++; // the mark that old systems end a text with
  }
  const seen = sample.length - zeros;
  return seen < 0.2 * sample.length || strange > 0.05 * seen;
}
