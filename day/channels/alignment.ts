/**
 * How the clock of one recording maps to the clock of another, over one stretch without a jump:
 *
 *     t_other = offset + (1 + rate)·t
 *
 * offset: s. rate: 1 (180e-6: the other clock runs 180 ppm fast). Times outside [from, to] (s, on this clock) are not covered.
 */
export interface ClockPiece {
  readonly from: number;
  readonly to: number;
  readonly offset: number;
  readonly rate: number;
  readonly offsetUncertainty: number;
  readonly rateUncertainty: number;
  /** Root mean square of the lag left over in windows [s]. */
  readonly residual: number;
  /** Windowed lags left over: middle of the window on this clock [s], lag [s]. */
  readonly lags: readonly { readonly time: number; readonly lag: number }[];
}

/**
 * Two clocks joined. `clock` is the roller's; the other is the engine log's.
 * second: the second-best correlation peak; the join is refused when it is within 3 % of the best and more than 0.1 s away.
 */
export interface Alignment {
  readonly clock: string;
  readonly other: string;
  readonly pieces: readonly ClockPiece[];
  readonly correlation: number;
  readonly second: { readonly correlation: number; readonly lag: number } | undefined;
  /** How it was found: by speed correlation, by a person, or not needed (one clock). */
  readonly by: 'speed' | 'hand' | 'same clock';
  /** What the fit of engine speed on roll speed found of the tyre beside the clocks. Absent where engine speed was not used. */
  readonly tyre?: TyreBehaviour;
}

/**
 * How engine speed over roll speed leaves its value at rest: grows by growth·v² [s²/m²] and by creep·F [1/N]. Value and standard
 * uncertainty of each.
 */
export interface TyreBehaviour {
  readonly growth: { readonly value: number; readonly standardUncertainty: number };
  readonly creep: { readonly value: number; readonly standardUncertainty: number };
}
