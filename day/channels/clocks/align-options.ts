import type { FitPrior } from './speed-fit.ts';

export interface AlignOptions {
  /** What is known of the rate from other logs of the same two clocks: value ± standard uncertainty [1]. */
  readonly rate?: FitPrior;
}
