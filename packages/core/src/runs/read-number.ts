/** The unit a cell itself may name behind its number. */
export type CellUnit = 'C' | 'F' | 'K';

const zero = 0x30;
const point = 0x2e;
const comma = 0x2c;

/** Powers of ten that a double holds exactly, so that one division rounds correctly. */
const powersOfTen = Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));

/**
 * Reads numbers in place, character by character: making a string per cell takes several times as long.
 *
 * Takes a sign (also U+2212), digits in groups of three (`1 204,5`, `1'204.5`, `1,204.5`), an exponent and a unit behind the
 * number (`21.5 °C`). A lone mark that is not the log's decimal mark, such as `1,204` where the mark is a point, is not
 * taken for a group: it may as well be a stray decimal comma, and the two differ by a factor of a thousand.
 */
export class NumberReader {
  /** The unit that stood behind the last number read. */
  unit: CellUnit | undefined;
  private readonly mark: number;
  private readonly otherMark: number;
  /** The other mark groups digits even where it stands alone: the log was seen to write thousands so. */
  private readonly trustsLoneGroup: boolean;

  constructor(decimal: '.' | ',', thousands?: '.' | ',' | ' ' | "'") {
    this.trustsLoneGroup = thousands === '.' || thousands === ',';
    this.mark = decimal === '.' ? point : comma;
    this.otherMark = decimal === '.' ? comma : point;
  }

  /** The number in `text[from, to)`, which is trimmed; NaN where it is not a number. */
  read(text: string, from: number, to: number): number {
    this.unit = undefined;
    let at = from;
    let code = text.charCodeAt(at);
    const negative = code === 0x2d || code === 0x2212;
    if (negative || code === 0x2b) code = text.charCodeAt(++at);

    let mantissa = 0;
    let digits = 0;
    let groupMark = 0;
    let groups = 0;
    let sinceGroup = 0;
    for (; at < to; code = text.charCodeAt(++at)) {
      if (code >= zero && code <= zero + 9) {
        mantissa = mantissa * 10 + (code - zero);
        digits++;
        sinceGroup++;
        continue;
      }
      if (code === this.mark || !this.isGroupMark(code) || !isDigit(text, at + 1, to)) break;
      const fits =
        groupMark === 0 ? digits >= 1 && digits <= 3 && mantissa > 0 : code === groupMark && sinceGroup === 3;
      if (!fits) return Number.NaN;
      groupMark = code;
      groups++;
      sinceGroup = 0;
    }
    if (groupMark !== 0 && sinceGroup !== 3) return Number.NaN;
    const hasMark = at < to && code === this.mark;
    if (groupMark === this.otherMark && groups === 1 && !hasMark && !this.trustsLoneGroup) return Number.NaN;

    let decimals = 0;
    if (hasMark) {
      code = text.charCodeAt(++at);
      for (; at < to && code >= zero && code <= zero + 9; code = text.charCodeAt(++at)) {
        mantissa = mantissa * 10 + (code - zero);
        decimals++;
      }
    }
    if (digits + decimals === 0) return Number.NaN;
    const mantissaEnd = at;
    let exponent = 0;
    if (at < to && (code === 0x65 || code === 0x45) && isExponent(text, at + 1, to)) {
      const exponentFrom = ++at;
      if (!isDigit(text, at, to)) at++;
      while (isDigit(text, at, to)) at++;
      exponent = Number(text.slice(exponentFrom, at));
    }
    if (at < to && !this.takeUnit(text, at, to)) return Number.NaN;

    let size: number;
    if (digits + decimals <= 15 && exponent === 0) size = mantissa / (powersOfTen[decimals] ?? 1);
    else size = Number(`${plainDigits(text.slice(from, mantissaEnd), this.mark)}e${exponent}`);
    return negative ? -size : size;
  }

  private isGroupMark(code: number): boolean {
    return (
      code === 0x20 ||
      code === 0xa0 ||
      code === 0x202f ||
      code === 0x2009 ||
      code === 0x27 ||
      code === 0x2019 ||
      code === this.otherMark
    );
  }

  /** What follows the number must be a unit of temperature and nothing else. */
  private takeUnit(text: string, from: number, to: number): boolean {
    const rest = text.slice(from, to).replace(/[\s\u00a0]+/g, '');
    const match = /^(?:[°º˚\uFFFD]|deg)?([CFK])$/i.exec(rest.replace('℃', '°C').replace('℉', '°F'));
    if (!match) return false;
    this.unit = match[1]?.toUpperCase() as CellUnit;
    return true;
  }
}

function isDigit(text: string, at: number, to: number): boolean {
  const code = text.charCodeAt(at);
  return at < to && code >= zero && code <= zero + 9;
}

function isExponent(text: string, at: number, to: number): boolean {
  const code = text.charCodeAt(at);
  return isDigit(text, at, to) || ((code === 0x2b || code === 0x2d) && isDigit(text, at + 1, to));
}

/** Long numbers are left to the language, which rounds them correctly. */
function plainDigits(text: string, mark: number): string {
  let plain = '';
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === mark) plain += '.';
    else if (isDigit(text, at, text.length)) plain += text[at];
  }
  return plain;
}
