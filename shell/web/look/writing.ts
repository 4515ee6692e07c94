import { displayUnit, formatQuantity, fromSi, type QuantityKind, unitSymbol } from '../../../core/quantities/index.ts';
import { type Preferences, unitGroupOf } from './preferences.ts';

/** How values are written for this person. `plain`: the number in the display unit, for drawing. */
export interface Writing {
  text(
    value: number | null | undefined,
    kind: QuantityKind,
    options?: { readonly u?: number | null | undefined; readonly decimals?: number; readonly unit?: boolean },
  ): string;
  plain(value: number | null, kind: QuantityKind): number | null;
  symbol(kind: QuantityKind): string;
}

export function writingFor({ units }: Preferences): Writing {
  const system = (kind: QuantityKind) => units[unitGroupOf(kind)];
  return {
    text: (value, kind, { u, ...options } = {}) =>
      formatQuantity(value ?? Number.NaN, kind, {
        ...options,
        system: system(kind),
        ...(typeof u === 'number' && u > 0 && { standardUncertainty: u }),
      }),
    plain: (value, kind) => (value === null ? null : fromSi(value, displayUnit(kind, system(kind)))),
    symbol: (kind) => unitSymbol(kind, system(kind)),
  };
}

/** Two standard uncertainties: the half width in which results are shown. @source GUM 6.3.3, coverage factor 2 */
export function twice(u: number | null | undefined): number | null {
  return typeof u === 'number' ? 2 * u : null;
}
