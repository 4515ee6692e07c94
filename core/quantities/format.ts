import { differenceFromSi, displayUnit, fromSi, unitOf } from './convert.ts';
import { KINDS, type QuantityKind, type UnitSystem } from './kinds.ts';

/** How a value is to be printed. `standardUncertainty` in SI decides the number of decimals when given. `unitSymbol`: another unit than the usual one of the kind. */
export interface FormatOptions {
  readonly system?: UnitSystem;
  readonly unitSymbol?: string;
  readonly standardUncertainty?: number | undefined;
  readonly decimals?: number;
  readonly unit?: boolean;
}

/**
 * Text of a quantity: `204.3 ± 1.8 kW`, `27.0 °C`. Missing is `–`.
 * With an uncertainty the last digit shown is the second digit of the uncertainty (GUM 7.2.6); rounding happens only here.
 *
 * @param value in SI @param kind what it is
 */
export function formatQuantity(value: number, kind: QuantityKind, options: FormatOptions = {}): string {
  if (!Number.isFinite(value)) return '–';
  const { unitSymbol: asked } = options;
  const unit = asked === undefined ? displayUnit(kind, options.system ?? 'metric') : unitOf(asked);
  const shown = fromSi(value, unit);
  const spread =
    options.standardUncertainty === undefined ? undefined : differenceFromSi(options.standardUncertainty, unit);
  const decimals = options.decimals ?? (spread ? decimalsFor(spread) : KINDS[kind].decimals);
  const symbol = options.unit === false || unit.symbol === '1' ? '' : joined(unit.symbol);
  const plusMinus = spread === undefined ? '' : ` ± ${spread.toFixed(decimals)}`;
  return `${withoutMinusZero(shown.toFixed(decimals))}${plusMinus}${symbol}`;
}

/** Symbol of the unit a person of that habit reads; empty for a plain number. */
export function unitSymbol(kind: QuantityKind, system: UnitSystem): string {
  const { symbol } = displayUnit(kind, system);
  return symbol === '1' ? '' : symbol.replace('Δ', '');
}

function joined(symbol: string): string {
  return symbol === '°' ? symbol : ` ${symbol.replace('Δ', '')}`;
}

function decimalsFor(spread: number): number {
  return Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(spread))));
}

function withoutMinusZero(text: string): string {
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}
