import type { QuantityKind } from '../../../core/quantities/index.ts';
import type { Writing } from '../look/writing.ts';

/** Loads of an engine are large: metric ones are written in thousands of their usual unit. */
const THOUSANDS: Readonly<Record<string, string>> = { kPa: 'MPa', N: 'kN' };
const DECIMALS: Readonly<Record<string, number>> = { MPa: 2, kN: 1 };

export interface LoadUnit {
  readonly symbol: string;
  /** Number in this unit; null where missing. */
  readonly plain: (value: number | null | undefined) => number | null;
  /** With its unit, and its half width where that is known. */
  readonly text: (value: number | null | undefined, halfWidth?: number | null) => string;
}

/** How a pressure in the cylinder or a force of the crank mechanism is written for this person. */
export function loadUnit(kind: QuantityKind, writing: Writing): LoadUnit {
  const usual = writing.symbol(kind);
  const symbol = THOUSANDS[usual] ?? usual;
  const divisor = symbol === usual ? 1 : 1000;
  const decimals = DECIMALS[symbol] ?? 0;
  const plain = (value: number | null | undefined): number | null => {
    const shown = writing.plain(value ?? null, kind);
    return shown === null ? null : shown / divisor;
  };
  return {
    symbol,
    plain,
    text(value, halfWidth) {
      const middle = plain(value);
      if (middle === null) return '–';
      const upper = typeof halfWidth === 'number' && halfWidth > 0 ? plain((value ?? 0) + halfWidth) : null;
      const spread = upper === null ? '' : ` ± ${(upper - middle).toFixed(decimals)}`;
      return `${middle.toFixed(decimals)}${spread} ${symbol}`;
    },
  };
}
