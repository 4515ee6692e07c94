import type { Dialect } from '../table.ts';
import { utf8Text } from './characters.ts';

/** The two signs that decide what a written number means. */
export type NumberSigns = Pick<Dialect, 'decimal' | 'thousands'>;

/** Powers of ten that a double holds exactly. */
export const EXACT_POWERS: Float64Array = Float64Array.from({ length: 23 }, (_, n) => Number(`1e${n}`));

/**
 * The number written in bytes [from, to), correctly rounded, or undefined when it is not one plain number from end to end.
 * Sign, digits with one decimal sign, exponent; no thousands marks, no spaces, no hexadecimal.
 *
 * Up to 15 digits are read as an integer m < 2⁵³ and scaled by one exact power of ten, so that one rounding happens;
 * everything longer goes through Number().
 *
 * @param decimal character code of the decimal sign
 * @source IEEE 754: one operation on exact operands is correctly rounded; 10²² is the last power of ten that a double holds
 */
export function plainNumber(
  bytes: Uint8Array,
  range: { from: number; to: number },
  decimal: number,
): number | undefined {
  const { to } = range;
  let i = range.from;
  const sign = bytes[i];
  if (sign === MINUS || sign === PLUS) i++;
  let mantissa = 0;
  let digits = 0;
  let scale = 0;
  let seenSign = false;
  for (; i < to; i++) {
    const digit = bytes[i] - ZERO;
    if (digit >= 0 && digit < 10) {
      mantissa = mantissa * 10 + digit;
      digits++;
      if (seenSign) scale--;
    } else if (bytes[i] === decimal && !seenSign) seenSign = true;
    else break;
  }
  if (digits === 0) return undefined;
  const exponent = i < to ? exponentIn(bytes, i, to) : 0;
  if (exponent === undefined) return undefined;
  const power = scale + exponent;
  if (digits > 15 || power > 22 || power < -22) return throughText(bytes, range, decimal);
  const value = power < 0 ? mantissa / EXACT_POWERS[-power] : mantissa * EXACT_POWERS[power];
  return sign === MINUS ? -value : value;
}

/** The number in a text with thousands marks, or undefined. Groups must be of three digits. */
export function markedNumber(text: string, signs: NumberSigns): number | undefined {
  if (signs.thousands === '') return undefined;
  const spaced = signs.thousands === ' ' ? text.replaceAll(/[\u00A0\u202F\u2009]/g, ' ') : text.replaceAll('’', "'");
  const match = MARKED[signs.thousands].exec(spaced);
  if (!match) return undefined;
  const fraction = match[3] ?? '';
  if (fraction !== '' && fraction[0] !== signs.decimal) return undefined;
  return Number(`${match[1]}${match[2].replaceAll(signs.thousands, '')}${fraction.replace(',', '.')}${match[4] ?? ''}`);
}

function exponentIn(bytes: Uint8Array, at: number, to: number): number | undefined {
  if ((bytes[at] | 0x20) !== LETTER_E) return undefined;
  let i = at + 1;
  const sign = bytes[i];
  if (sign === MINUS || sign === PLUS) i++;
  if (i >= to) return undefined;
  let exponent = 0;
  for (; i < to; i++) {
    const digit = bytes[i] - ZERO;
    if (digit < 0 || digit > 9) return undefined;
    exponent = Math.min(99999, exponent * 10 + digit);
  }
  return sign === MINUS ? -exponent : exponent;
}

/** Out of the range of a double is no measurement: such a text is not a number for us. */
function throughText(bytes: Uint8Array, range: { from: number; to: number }, decimal: number): number | undefined {
  const text = utf8Text(bytes, range.from, range.to);
  const value = Number(decimal === POINT ? text : text.replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}

const MARKED: Readonly<Record<',' | '.' | ' ' | "'", RegExp>> = {
  ',': /^([+-]?)(\d{1,3}(?:,\d{3})+)(\.\d*)?([eE][+-]?\d+)?$/,
  '.': /^([+-]?)(\d{1,3}(?:\.\d{3})+)(,\d*)?([eE][+-]?\d+)?$/,
  ' ': /^([+-]?)(\d{1,3}(?: \d{3})+)([.,]\d*)?([eE][+-]?\d+)?$/,
  "'": /^([+-]?)(\d{1,3}(?:'\d{3})+)([.,]\d*)?([eE][+-]?\d+)?$/,
};

const ZERO = 48;
const MINUS = 45;
const PLUS = 43;
const POINT = 46;
const LETTER_E = 101;
