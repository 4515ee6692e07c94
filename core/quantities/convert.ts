import { KINDS, type QuantityKind, type UnitSystem } from './kinds.ts';
import { UNITS, type Unit } from './units.ts';

const bySymbol = new Map(UNITS.map((unit) => [unit.symbol, unit]));
const bySpelling = spellings();

/** The unit with exactly this symbol. Throws on an unknown symbol: symbols in code are ours. */
export function unitOf(symbol: string): Unit {
  const unit = bySymbol.get(symbol);
  if (!unit) throw new Error(`unknown unit symbol: ${symbol}`);
  return unit;
}

/**
 * The unit that a person or a log means by this text, or undefined.
 * The exact symbol wins over spellings, case counts before it is ignored (so `mW` never becomes `MW`).
 */
export function unitNamed(text: string): Unit | undefined {
  const trimmed = text.trim();
  return bySymbol.get(trimmed) ?? bySpelling.get(trimmed) ?? bySpelling.get(folded(trimmed));
}

/** Value in SI [SI unit of the unit's dimension]. */
export function toSi(value: number, unit: Unit): number {
  return (value + unit.shift) * unit.factor;
}

/** Value in the given unit, from SI. */
export function fromSi(value: number, unit: Unit): number {
  return value / unit.factor - unit.shift;
}

/** A difference (or an uncertainty) in SI: the shift of the scale does not count. */
export function differenceToSi(difference: number, unit: Unit): number {
  return difference * unit.factor;
}

/** A difference (or an uncertainty) in the given unit, from SI. */
export function differenceFromSi(difference: number, unit: Unit): number {
  return difference / unit.factor;
}

/** The unit in which a person of that habit reads this kind. */
export function displayUnit(kind: QuantityKind, system: UnitSystem): Unit {
  return unitOf(KINDS[kind][system]);
}

/** A space between number and symbol counts: `N m` and `Nm` are the same unit. */
function folded(text: string): string {
  return text.toLowerCase().replaceAll(/\s+/g, ' ');
}

function spellings(): ReadonlyMap<string, Unit> {
  const found = new Map<string, Unit>();
  for (const unit of UNITS) for (const text of unit.spellings) found.set(text, unit);
  for (const unit of UNITS) {
    for (const text of [unit.symbol, ...unit.spellings]) {
      if (!found.has(folded(text))) found.set(folded(text), unit);
    }
  }
  return found;
}
