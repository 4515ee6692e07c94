import type { Candidate } from './candidates.ts';
import type { Weighed } from './relations.ts';
import type { Shape } from './shape.ts';

/** One column with everything that was weighed about it. `stated`: the unit was written and the numbers were held against it. */
export interface Assessed extends Weighed {
  readonly shape: Shape;
  readonly candidates: readonly Candidate[];
  readonly stated: 'agrees' | 'contradicts' | 'none' | 'foreign';
}
