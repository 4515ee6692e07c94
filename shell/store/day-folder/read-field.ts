import { KINDS, parseQuantity, type QuantityKind, unitNamed } from '../../../core/quantities/index.ts';
import type { Form, Limits } from './field.ts';

/** What one text says, in SI, or what was expected instead. */
export type ReadField =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly expected: string };

type Quantity = Extract<Form, { kind: QuantityKind }>;

/** Reads the text of one key. A doubtful text is refused, never guessed. */
export function readField(form: Form, text: string): ReadField {
  switch (form.form) {
    case 'text':
      return read(text);
    case 'date':
      return isDate(text) ? read(text) : no('a date such as 2031-05-14');
    case 'clock':
      return isClock(text) ? read(text) : no('a clock time such as 10:35 or 10:35:20');
    case 'choice':
      return form.options.includes(text) ? read(text) : no(`one of: ${form.options.join(' · ')}`);
    case 'whole':
      return wholeNumber(form, text);
    case 'falling':
      return fallingNumbers(form, text);
    case 'measured':
    case 'plain':
      return quantity(form, text);
  }
}

/** ISO 8601 calendar date that exists. */
function isDate(text: string): boolean {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!match) return false;
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
  return day >= 1 && day <= days;
}

function isClock(text: string): boolean {
  return /^([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$/.test(text);
}

function wholeNumber(form: Extract<Form, { form: 'whole' }>, text: string): ReadField {
  const value = /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
  const allowed = form.options?.includes(value) ?? isWithin(value, form.limits);
  if (allowed) return read(value);
  return no(form.options ? form.options.join(' or ') : `a whole number ${limitsText(form.limits, '')}`);
}

/** Several plain numbers with a comma and a space between them: `3.10, 2.05` is never 3, 10, 2 and 5. */
function fallingNumbers({ limits }: Extract<Form, { form: 'falling' }>, text: string): ReadField {
  const expected = `plain numbers with a comma and a space between them, each below the one before, ${limitsText(limits, '')}, such as 3.10, 2.05`;
  if (/\d,\d/.test(text)) return no(expected);
  const parts = text.split(',').map((part) => part.trim());
  if (!parts.every((part) => /^\d+(?:\.\d+)?$/.test(part))) return no(expected);
  const numbers = parts.map(Number);
  const falls = numbers.every((value, i) => i === 0 || value < (numbers[i - 1] ?? 0));
  return falls && numbers.every((value) => isWithin(value, limits)) ? read(numbers) : no(expected);
}

/** What stands under a key as one text: a list of the file is the same as its parts with commas. */
export function writtenText(written: unknown): string {
  return Array.isArray(written) ? written.map(String).join(', ') : String(written);
}

function quantity(form: Quantity, text: string): ReadField {
  const doubt = doubtAbout(form, text);
  if (doubt) return no(doubt);
  const parsed = parseQuantity(text, form.kind);
  if (!parsed.ok) return no(`${expectedUnits(form)}${foundUnit(form, text)}`);
  const { value, standardUncertainty } = parsed.value;
  if (!isWithin(value, form.limits)) return no(`a value ${limitsText(form.limits, KINDS[form.kind].si)}`);
  if (form.form === 'measured') return read({ value, standardUncertainty: standardUncertainty ?? 0 });
  return standardUncertainty === undefined ? read(value) : no(`${expectedUnits(form)}, without ±`);
}

/** Texts that one reader takes for one value and another for a different one. */
function doubtAbout(form: Quantity, text: string): string | undefined {
  if (text.includes(','))
    return 'a point as decimal sign and nothing between thousands; a comma is the one to some readers and the other to others';
  if (form.units.includes('%') && /(?:±|\+\/-|\+-)[^%]*%\s*$/.test(text))
    return 'either fractions such as 0.38 ± 0.02, or the percent sign twice such as 38 ± 5% %: whether % belongs to the value or to the uncertainty cannot be told';
  if (/absolute|barometric/.test(form.kind) && /(?:bar|psi)\s*\(?g|gauge/i.test(text))
    return 'an absolute pressure, not one above ambient';
  return undefined;
}

function expectedUnits(form: Quantity): string {
  const units = form.units.filter((unit) => unit !== '1');
  if (units.length === 0) return 'a plain number';
  const plain = units.length < form.units.length ? ' or a plain number' : '';
  return `a number with a unit: ${units.join(', ')}${plain}`;
}

/** Says what an understood but wrong unit stands for, or that there is none. */
function foundUnit(form: Quantity, text: string): string {
  const rest = /^[+-]?[\d.]+(?:[eE][+-]?\d+)?\s*(\S.*)?$/u.exec(text.trim());
  if (!rest) return '';
  if (rest[1] === undefined) return '; the unit is missing';
  if (/±|\+\/-|\+-/u.test(rest[1])) return twoUnits(rest[1]);
  const unit = unitNamed(rest[1]);
  if (!unit) return `; "${rest[1]}" is not a unit known here`;
  return unit.dimension === KINDS[form.kind].dimension ? '' : `; ${unit.symbol} is a unit of ${unit.dimension}`;
}

/** A unit before the ±, or another one behind it. */
function twoUnits(rest: string): string {
  const [before = '', after = ''] = rest.split(/±|\+\/-|\+-/u).map((part) => part.trim());
  const behind = after.replace(/^[\d.]+(?:[eE][+-]?\d+)?\s*/u, '');
  if (before === '') return unitNamed(behind) ? '' : `; "${behind}" is not a unit known here`;
  return '; the unit stands once, behind the uncertainty: 83 ± 1 mm';
}

function isWithin(value: number, { above, from, to, not }: Limits): boolean {
  return (
    value !== not &&
    value > (above ?? Number.NEGATIVE_INFINITY) &&
    value >= (from ?? -Infinity) &&
    value <= (to ?? Infinity)
  );
}

function limitsText({ above, from, to, not }: Limits, unit: string): string {
  const symbol = unit === '' || unit === '1' ? '' : ` ${unit}`;
  const low = above === undefined ? (from === undefined ? '' : `from ${from}${symbol}`) : `above ${above}${symbol}`;
  const other = not === undefined ? '' : `other than ${not}${symbol}`;
  return [low, to === undefined ? '' : `to ${to}${symbol}`, other].filter((part) => part !== '').join(' ');
}

function read(value: unknown): ReadField {
  return { ok: true, value };
}

function no(expected: string): ReadField {
  return { ok: false, expected };
}
