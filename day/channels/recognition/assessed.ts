import type { Candidate } from './candidates.ts';
import type { Weighed } from './relations.ts';
import type { Shape } from './shape.ts';

/** One column with everything that was weighed about it. `stated`: the unit was written and the numbers were held against it. */
export interface Assessed extends Weighed {
  readonly shape: Shape;
  readonly candidates: readonly Candidate[];
  readonly stated: 'agrees' | 'contradicts' | 'none' | 'foreign';
  /** Why a column whose name is clear has no candidate left. */
  readonly spoiled?: string;
  /** What the numbers make doubtful although name and unit are clear: the sentence to ask. */
  readonly doubt?: string;
}
