import type { Branded } from './branded.ts';

/** Mass per time [kg/s]. */
export type MassFlow = Branded<'mass-flow'>;

/** Mass per time [kg/s]. @param value number in kg/s */
export function massFlow(value: number): MassFlow {
  return value as MassFlow;
}
