import type { UnitSystem } from '../../core/quantities/index.ts';
import type { Asked } from './command.ts';

/** Which system a person asked for; metric unless imperial was written. */
export function unitSystem(asked: Asked): UnitSystem {
  return asked.text('units') === 'imperial' ? 'imperial' : 'metric';
}
