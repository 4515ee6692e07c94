import type { Knobs } from './knobs.ts';

/** What part of a run it is. */
export type Stage = 'hold' | 'full' | 'overrun' | 'idle';

/** What an engine is asked for at a step. speed: of the crank [rad/s]; holdingPressure: manifold pressure of a hold [Pa]. */
export interface Asked {
  readonly dt: number;
  readonly time: number;
  readonly speed: number;
  readonly stage: Stage;
  readonly sinceTipIn: number;
  readonly holdingPressure: number;
  readonly knobs: Knobs;
}
