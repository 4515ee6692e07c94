import { type Ratio, ratio } from '../../quantities/index.ts';

/** Stress that swings by ± amplitude about a mean [Pa]. */
export interface StressSwing {
  readonly amplitude: number;
  readonly mean: number;
}

/** Strengths of a part, size, surface and temperature already counted in the endurance limit [Pa]. */
export interface FatigueStrength {
  readonly endurance: number;
  readonly yield: number;
  readonly ultimate: number;
}

/** Factors by which both stresses could grow before each criterion is met [1]. firstYield: static, in the first cycle. */
export interface FatigueFactors {
  readonly goodman: Ratio;
  readonly soderberg: Ratio;
  readonly gerber: Ratio;
  readonly ellipse: Ratio;
  readonly firstYield: Ratio;
}

/**
 * Safety factors of a fluctuating stress after the usual criteria [1].
 *
 *     Goodman 1/n = σa/Se + σm/Su     Soderberg with Sy for Su     Gerber n·σa/Se + (n·σm/Su)² = 1
 *     ellipse (n·σa/Se)² + (n·σm/Sy)² = 1     first yield n = Sy/(σa + |σm|)
 *
 * A compressive mean does not shorten life: it counts as zero in all but first yield.
 *
 * @param swing amplitude ≥ 0
 * @valid   uniaxial, nominal stress times notch factor; unlimited life only
 * @source  Shigley, Mechanical Engineering Design, 6-12 to 6-14 (equations from memory; four of them seen on a page of it)
 */
export function fatigueFactors({ amplitude, mean }: StressSwing, strength: FatigueStrength): FatigueFactors {
  const { endurance: Se, yield: Sy, ultimate: Su } = strength;
  const swing = amplitude / Se;
  const pull = Math.max(0, mean);
  const parabola = (pull / Su) ** 2;
  return {
    goodman: ratio(1 / (swing + pull / Su)),
    soderberg: ratio(1 / (swing + pull / Sy)),
    gerber: ratio(parabola > 0 ? (Math.sqrt(swing * swing + 4 * parabola) - swing) / (2 * parabola) : 1 / swing),
    ellipse: ratio(1 / Math.hypot(swing, pull / Sy)),
    firstYield: ratio(Sy / (amplitude + Math.abs(mean))),
  };
}

/** Rule that brings a swing about a mean to an equal one about zero. */
export type MeanStressRule = 'goodman' | 'morrow' | 'smith-watson-topper';

/**
 * Amplitude about zero mean that does the same damage [Pa].
 *
 *     goodman  σa/(1 − σm/Su)     morrow  σa/(1 − σm/σf')     smith-watson-topper  √((σa + σm)·σa)
 *
 * Infinite where the mean alone reaches the strength; with a compressive mean Goodman and Morrow leave the amplitude as it is,
 * Smith–Watson–Topper lowers it to 0 when the swing stays in compression.
 *
 * @param strength Su or σf' [Pa], for the first two
 * @source  Dowling, Mechanical Behavior of Materials, 9.7 (from memory)
 */
export function reversedAmplitude({ amplitude, mean }: StressSwing, rule: MeanStressRule, strength: number): number {
  switch (rule) {
    case 'goodman':
    case 'morrow':
      return mean <= 0 ? amplitude : mean < strength ? amplitude / (1 - mean / strength) : Number.POSITIVE_INFINITY;
    case 'smith-watson-topper':
      return Math.sqrt(Math.max(0, amplitude + mean) * amplitude);
    default:
      return unknownRule(rule);
  }
}

function unknownRule(rule: never): never {
  throw new Error(`unknown rule: ${rule}`);
}
