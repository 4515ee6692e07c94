import { differenceToSi, toSi, unitNamed, unitOf } from './convert.ts';
import { KINDS, type QuantityKind } from './kinds.ts';
import { answered, type Outcome, refused } from './outcome.ts';
import type { Unit } from './units.ts';

/** A quantity as a person wrote it: SI value, the standard uncertainty if one was written, and the unit's symbol. */
export interface Written {
  readonly value: number;
  readonly standardUncertainty?: number;
  readonly unit: string;
}

const NUMBER = String.raw`[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?`;
const PATTERN = new RegExp(`^(${NUMBER})(?:\\s*(?:±|\\+/-|\\+-)\\s*(${NUMBER})(\\s*%)?)?\\s*(.*)$`, 'u');

/**
 * Reads `83 mm`, `200 kPa`, `-40 °C`, `450 ± 5 kg`, `5.5 ± 10% %`. The unit is required unless the kind is a plain ratio or count.
 * The `±` part is one standard uncertainty in the same unit, or in percent of the value.
 *
 * A comma is refused, never guessed: `12,5` is twelve and a half to one reader and one hundred and twenty-five to another program.
 *
 * @param text what was written
 * @param kind what it must be
 */
export function parseQuantity(text: string, kind: QuantityKind): Outcome<Written> {
  // A minus sign as it is printed is one as well.
  const match = PATTERN.exec(text.trim().replaceAll('\u2212', '-'));
  const { metric } = KINDS[kind];
  const expected = metric === '1' ? 'a plain number' : `a number with a unit such as ${metric}`;
  if (!match || /,/.test(text)) return bad(text, kind, expected);
  const unitText = (match[4] ?? '').trim();
  const plain = KINDS[kind].si === '1';
  if (KINDS[kind].metric === '%' && match[3] !== undefined && unitText === '') {
    return bad(
      text,
      kind,
      'fractions such as 0.38 ± 0.02: whether % belongs to the value or to the uncertainty cannot be told',
    );
  }
  const unit = unitText === '' ? (plain ? unitOf('1') : undefined) : unitOfKind(unitText, kind);
  if (!unit || unit.dimension !== KINDS[kind].dimension) return bad(text, kind, expected);
  const value = toSi(Number(match[1]), unit);
  if (!Number.isFinite(value)) return bad(text, kind, expected);
  if (match[2] === undefined) return answered({ value, unit: unit.symbol });
  const spread =
    match[3] === undefined ? differenceToSi(Number(match[2]), unit) : (Math.abs(value) * Number(match[2])) / 100;
  if (!(spread >= 0) || !Number.isFinite(spread)) return bad(text, kind, 'an uncertainty of zero or more');
  return answered({ value, standardUncertainty: spread, unit: unit.symbol });
}

/** The unit that a text names. A difference of temperatures may be written with the unit of a temperature: `3 K`, `3 °C`. */
function unitOfKind(text: string, kind: QuantityKind): Unit | undefined {
  const unit = unitNamed(text);
  if (KINDS[kind].dimension !== 'temperature-difference' || unit?.dimension !== 'temperature') return unit;
  return unitOf(unit.symbol === '°F' ? 'Δ°F' : 'Δ°C');
}

function bad(text: string, kind: QuantityKind, expected: string): Outcome<Written> {
  return refused({
    kind: 'invalid-quantity',
    message: `invalid ${kind.replaceAll('-', ' ')}: "${text}", expected ${expected}`,
    numbers: { value: text, unit: KINDS[kind].metric },
  });
}
