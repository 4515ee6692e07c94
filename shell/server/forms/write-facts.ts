import {
  differenceFromSi,
  displayUnit,
  formatQuantity,
  fromSi,
  type QuantityKind,
} from '../../../core/quantities/index.ts';
import { knownValues } from '../../../day/plans/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import type { FactField } from '../../contract/index.ts';
import { FACT_ROWS } from './fact-rows.ts';
import type { FactRow } from './fact-table.ts';

/** All facts of a day as texts with units, in the order of the table; unknown is an empty text. */
export function writeFacts(facts: DayFacts): FactField[] {
  return FACT_ROWS.map((row) => {
    const { path, group, title, form, example, short } = row;
    const whenUnknown = usualText(facts, row) ?? row.whenUnknown;
    return { path, group, title, form, example, whenUnknown, short, text: writeFact(facts, row) };
  });
}

const PARTS = 'parts.';

/** The usual value that stands in for a part which nobody states, with one standard uncertainty and its source; undefined where there is none. */
function usualText(facts: DayFacts, { path }: FactRow): string | undefined {
  if (!path.startsWith(PARTS)) return undefined;
  const name = path.slice(PARTS.length);
  const parts = Object.fromEntries(Object.entries(facts.parts ?? {}).filter(([key]) => key !== name));
  const usual = knownValues({ ...facts, parts }).get(name);
  if (usual?.origin !== 'prior') return undefined;
  const { kind, value, standardUncertainty } = usual;
  const spread = standardUncertainty > 0 ? { standardUncertainty } : {};
  return `Then ${formatQuantity(value, kind, spread)} is taken: ${usual.source}.`;
}

/** One fact as text. */
export function writeFact(facts: DayFacts, { path, form }: FactRow): string {
  const value = valueAt(facts, path);
  if (value === undefined) return '';
  if (Array.isArray(value)) return value.map(String).join(', ');
  if (form.kind !== 'quantity') return String(value);
  if (typeof value === 'number') return writeQuantity(value, undefined, form.quantity);
  if (typeof value !== 'object' || value === null || !('value' in value)) return '';
  const spread = 'standardUncertainty' in value ? Number(value.standardUncertainty) : 0;
  return writeQuantity(Number(value.value), spread > 0 ? spread : undefined, form.quantity);
}

/** The value that stands under a path such as `roller.kind`. */
export function valueAt(facts: DayFacts, path: string): unknown {
  let value: unknown = facts;
  for (const key of path.split('.')) {
    value = typeof value === 'object' && value !== null ? Reflect.get(value, key) : undefined;
  }
  return value;
}

const DIGITS = 9;

function writeQuantity(value: number, spread: number | undefined, kind: QuantityKind): string {
  const unit = displayUnit(kind, 'metric');
  const symbol = unit.symbol === '1' ? '' : ` ${unit.symbol}`;
  const plusMinus = spread === undefined ? '' : ` ± ${short(differenceFromSi(spread, unit))}`;
  return `${short(fromSi(value, unit))}${plusMinus}${symbol}`;
}

/** Shortest decimal text of nine digits: enough to find the typed number again behind a unit factor. */
function short(value: number): string {
  return String(Number(value.toPrecision(DIGITS)));
}
