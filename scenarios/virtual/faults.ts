import type { Builder } from './built.ts';
import { AIR_FAULTS } from './faults-air.ts';
import { DRIVE_FAULTS } from './faults-drive.ts';
import { FUEL_FAULTS } from './faults-fuel.ts';
import { LOAD_FAULTS } from './faults-loads.ts';
import { SPARK_FAULTS } from './faults-spark.ts';

/** Faults of engine and driveline, each caused in the physics. */
export const ENGINE_FAULTS = {
  ...SPARK_FAULTS,
  ...FUEL_FAULTS,
  ...DRIVE_FAULTS,
  ...AIR_FAULTS,
  ...LOAD_FAULTS,
} as const satisfies Record<string, Builder>;

export type EngineFault = keyof typeof ENGINE_FAULTS;

/** Faults that grow over the last pulls of a day. */
export const GROWING: ReadonlySet<string> = new Set([
  'driveline-loss-rising',
  'oil-pressure-low',
  'crankcase-pressure',
  'charge-heat-soak',
]);
