import {
  displayUnit,
  exactText,
  formatQuantity,
  fromSi,
  measuredText,
  type QuantityKind,
  unitSymbol,
} from '../../../core/quantities/index.ts';
import { type Preferences, unitGroupOf } from './preferences.ts';

/** How values are written for this person. `measured`: as long as it is worth reading beside its limit. `exact`: as it was set. `plain`: the number in the display unit, for drawing. */
export interface Writing {
  text(
    value: number | null | undefined,
    kind: QuantityKind,
    options?: { readonly u?: number | null | undefined; readonly decimals?: number; readonly unit?: boolean },
  ): string;
  measured(value: number | null | undefined, kind: QuantityKind, limit?: number): string;
  exact(value: number, kind: QuantityKind): string;
  plain(value: number | null, kind: QuantityKind): number | null;
  symbol(kind: QuantityKind): string;
}

export function writingFor({ units }: Preferences): Writing {
  const system = (kind: QuantityKind) => units[unitGroupOf(kind)];
  return {
    text: (value, kind, { u, ...options } = {}) =>
      signed(
        formatQuantity(value ?? Number.NaN, kind, {
          ...options,
          system: system(kind),
          ...(typeof u === 'number' && u > 0 && { standardUncertainty: u }),
        }),
      ),
    measured: (value, kind, limit) => signed(measuredText(value ?? Number.NaN, kind, { system: system(kind), limit })),
    exact: (value, kind) => signed(exactText(value, kind, { system: system(kind) })),
    plain: (value, kind) => (value === null ? null : fromSi(value, displayUnit(kind, system(kind)))),
    symbol: (kind) => unitSymbol(kind, system(kind)),
  };
}

/** With a minus sign where a program writes a hyphen. */
function signed(text: string): string {
  return text.replace(/^-/, '\u2212');
}

/** Two standard uncertainties: the half width in which results are shown. @source GUM 6.3.3, coverage factor 2 */
export function twice(u: number | null | undefined): number | null {
  return typeof u === 'number' ? 2 * u : null;
}
