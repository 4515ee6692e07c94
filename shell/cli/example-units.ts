import { KINDS, type QuantityKind } from '../../core/quantities/index.ts';

/** Units that people write beside the two that we print. @source common practice, no source */
const ALSO: Readonly<Record<string, readonly string[]>> = {
  pressure: ['bar'],
  force: ['kN'],
  temperature: ['K'],
  speed: ['m/s'],
  'mass-flow': ['kg/h'],
  'volume-flow': ['cm³/min'],
};

/** `kPa, psi, bar`: units in which a quantity of this kind may be written. */
export function exampleUnits(kind: QuantityKind): string {
  const { dimension, metric, imperial, si } = KINDS[kind];
  const all = [metric, imperial, ...(ALSO[dimension] ?? []), si];
  const few = [...new Set(all)].slice(0, 3);
  return few.map((unit) => (unit === '1' ? '1 (plain number)' : unit)).join(', ');
}
