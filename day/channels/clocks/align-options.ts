import type { FitPrior } from './speed-fit.ts';

/** What is known beside the two logs; each part makes offset and rate surer. */
export interface AlignOptions {
  /** Rate, from other logs of the same two clocks: value ± standard uncertainty [1]. */
  readonly rate?: FitPrior;
  /** Mass of the rolls at their surface [kg]: with it the logged brake force becomes the force in the tyre's contact. */
  readonly rollMass?: number;
  /** Tyre behaviour, from other logs of the same car on the same rolls: growth [s²/m²] and creep [1/N]. */
  readonly growth?: FitPrior;
  readonly creep?: FitPrior;
  /** Engine and wheels are joined by a converter: its slip follows torque and can pass for a lag and a rate. */
  readonly converter?: boolean;
}
