import { displayUnit, fromSi, unitOf } from './convert.ts';
import { formatQuantity } from './format.ts';
import { KINDS, type QuantityKind, type UnitSystem } from './kinds.ts';
import type { Unit } from './units.ts';

/** system: default metric. limit: the number in SI that the value is held against; it decides the unit and how fine the value is told. */
export interface ReadableOptions {
  readonly system?: UnitSystem;
  readonly limit?: number | undefined;
}

/**
 * Text of a measured number as long as it is worth reading: `4.3 %`, `0.82 ms`. Missing is `–`.
 *
 * Two digits that count at least. Beside a limit no finer than a hundredth of it, and in the limit's unit: `0.8 ms` of `30 ms`.
 *
 * @param value in SI @param kind what it is
 */
export function measuredText(value: number, kind: QuantityKind, options: ReadableOptions = {}): string {
  const { system = 'metric', limit = Number.NaN } = options;
  if (!Number.isFinite(value)) return '–';
  const unit = readableUnit(Number.isFinite(limit) ? limit : value, kind, system);
  return formatQuantity(value, kind, {
    unitSymbol: unit.symbol,
    decimals: measuredDecimals(kind, unit, { value, limit }),
  });
}

/**
 * Text of a number as it was set, which can be typed again: `5.556 ms`, `137.15 krpm`. Empty when it is not known.
 *
 * Digits that change the number by less than {@link UNSEEN} of itself are left out.
 *
 * @param value in SI @param kind what it is
 */
export function exactText(value: number, kind: QuantityKind, { system = 'metric' }: ReadableOptions = {}): string {
  if (!Number.isFinite(value)) return '';
  const unit = readableUnit(value, kind, system);
  const decimals = decimalsIn(exactNumber(fromSi(value, unit)));
  return formatQuantity(value, kind, { unitSymbol: unit.symbol, decimals });
}

/** Share of a number that nobody who set it would miss. @source our default */
const UNSEEN = 2e-4;
const MOST_DIGITS = 6;

function exactNumber(shown: number): number {
  for (let digits = 1; digits < MOST_DIGITS; digits += 1) {
    const near = Number(shown.toPrecision(digits));
    if (Math.abs(near - shown) <= UNSEEN * Math.abs(shown)) return near;
  }
  return Number(shown.toPrecision(MOST_DIGITS));
}

/** Units for small values: from 0 up to a value in SI. @source our default */
const SMALLER: Partial<Record<QuantityKind, readonly { readonly below: number; readonly symbol: string }[]>> = {
  time: [
    { below: 1e-4, symbol: 'µs' },
    { below: 0.1, symbol: 'ms' },
  ],
  energy: [{ below: 100, symbol: 'J' }],
};

/** The unit in which a value of this size is read. */
function readableUnit(value: number, kind: QuantityKind, system: UnitSystem): Unit {
  const size = Math.abs(value);
  const smaller = size > 0 ? SMALLER[kind]?.find(({ below }) => size < below * (1 - 1e-9)) : undefined;
  return smaller ? unitOf(smaller.symbol) : displayUnit(kind, system);
}

const MOST_DECIMALS = 7;

function measuredDecimals(
  kind: QuantityKind,
  unit: Unit,
  { value, limit }: { readonly value: number; readonly limit: number },
): number {
  const usual = unit.symbol === KINDS[kind].metric || unit.symbol === KINDS[kind].imperial ? KINDS[kind].decimals : 0;
  const shown = Math.abs(fromSi(value, unit));
  if (kind === 'count') return Number.isInteger(shown) ? 0 : 1;
  // A plain number has no instrument behind it: three digits are enough.
  const plain = kind === 'ratio';
  const digits = shown > 0 ? (plain ? 2 : 1) - magnitude(shown) : 0;
  const fine = plain ? digits : Math.max(usual, digits);
  const border = Math.abs(fromSi(limit, unit));
  const capped = border > 0 ? Math.min(fine, Math.max(decimalsIn(exactNumber(border)), 2 - magnitude(border))) : fine;
  return Math.min(MOST_DECIMALS, Math.max(0, capped));
}

function magnitude(size: number): number {
  return Math.floor(Math.log10(size));
}

function decimalsIn(shown: number): number {
  for (let decimals = 0; decimals < 12; decimals += 1) if (Number(shown.toFixed(decimals)) === shown) return decimals;
  return 12;
}
