/** Life line σa = coefficient·N^slope, amplitudes about zero mean [Pa], cycles. slope < 0. */
export interface BasquinLine {
  readonly coefficient: number;
  readonly slope: number;
}

/**
 * Line from the fatigue strength coefficient and exponent: σa = σf'·(2N)^b.
 *
 * @param strengthCoefficient σf' [Pa] @param slope b [1], about −0.05 … −0.12
 * @source  Basquin (1910); reversals as in Dowling, Mechanical Behavior of Materials, 9.2 (from memory)
 */
export function basquinOfReversals(strengthCoefficient: number, slope: number): BasquinLine {
  return { coefficient: strengthCoefficient * 2 ** slope, slope };
}

/**
 * Line between 10³ and 10⁶ cycles of a steel: σa = f·Su at 10³, Se at 10⁶.
 *
 * @param share f [1], 0.8 … 0.9
 * @source  Shigley, Mechanical Engineering Design, 6-8; worked in its solution manual, problem 6-15 (seen on a course page)
 */
export function basquinOfStrengths(ultimate: number, endurance: number, share: number): BasquinLine {
  const high = share * ultimate;
  return { coefficient: (high * high) / endurance, slope: -Math.log10(high / endurance) / 3 };
}

/**
 * Cycles to failure at an amplitude about zero mean [1].
 *
 * @valid   10³ … 10⁶ cycles for steel; beyond, the line is carried on: no endurance limit is granted to a part that is sometimes overloaded
 * @source  inverse of the line
 */
export function cyclesToFailure({ coefficient, slope }: BasquinLine, amplitude: number): number {
  return (amplitude / coefficient) ** (1 / slope);
}

/** Amplitude that fails at a number of cycles [Pa]. */
export function amplitudeOfLife({ coefficient, slope }: BasquinLine, cycles: number): number {
  return coefficient * cycles ** slope;
}
