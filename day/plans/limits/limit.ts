import type { QuantityKind } from '../../../core/quantities/index.ts';
import type { Subject } from '../../verdicts/index.ts';

export type LimitName =
  | 'spark voltage'
  | 'coil heat'
  | 'compressor speed'
  | 'compressor choke'
  | 'compressor surge'
  | 'wastegate authority'
  | 'injector duty'
  | 'fuel supply'
  | 'knock'
  | 'peak pressure'
  | 'head clamp'
  | 'rod compression'
  | 'rod tension'
  | 'bearing film'
  | 'piston speed'
  | 'engine speed'
  | 'valve float'
  | 'belt speed'
  | 'exhaust temperature'
  | 'traction'
  | 'roller force'
  | 'roller speed'
  | 'roller power'
  | 'charge temperature';

/**
 * One limit over engine speed for one step. Arrays as long as `speed` [rad/s].
 * required, available: in the SI unit of `kind`, with standard uncertainties. Where `sense` is `at least`, available must stay above required.
 * margin: (available − required)/required for `at least` [1]. over: probability that the limit is passed, 0 … 1.
 * why: set when nothing can be said; the arrays are then NaN. assumed: values of the trade that it rests on.
 */
export interface Limit {
  readonly name: LimitName;
  readonly subject: Subject;
  readonly kind: QuantityKind;
  readonly speed: Float64Array;
  readonly required: Float64Array;
  readonly requiredUncertainty: Float64Array;
  readonly available: Float64Array;
  readonly availableUncertainty: Float64Array;
  readonly margin: Float64Array;
  readonly marginUncertainty: Float64Array;
  readonly over: Float64Array;
  /** Share of the bare limit that `available` already holds back [1]; absent: none. */
  readonly kept?: number;
  readonly why?: string;
  /** The engine has no such part: it is no limit of its, rather than one of which nothing is known. */
  readonly applies?: false;
  readonly missing: readonly string[];
  readonly assumed: readonly string[];
  /** Borders that the day itself showed, in words: `head lift at 4250 rpm in pull 24`; absent: none. */
  readonly learnt?: readonly string[];
  readonly source: string;
}

/** Which limit bites first when manifold pressure rises: pressure [Pa] at which each is passed with even odds, and where. */
export interface NextLimit {
  readonly name: LimitName;
  readonly manifoldPressure: number;
  readonly standardUncertainty: number;
  /** Engine speed at which it bites [rad/s]. */
  readonly speed: number;
  /** Values of the trade that it rests on, by name. */
  readonly assumed: readonly string[];
  /** It is passed already at the lowest pressure that was looked at, or does not depend on pressure: the number is that lowest pressure. */
  readonly everywhere?: true;
}
