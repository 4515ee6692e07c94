/** FMEP = constant + peak·pmax + linear·c + square·c², c the mean piston speed: Pa, 1, Pa·s/m, Pa·s²/m². */
export interface FrictionLaw {
  readonly constant: number;
  readonly peak: number;
  readonly linear: number;
  readonly square: number;
}

/**
 * Friction of a warm car engine with its usual auxiliaries.
 *
 * @source  form: Chen and Flynn, SAE 650733 (from memory); numbers: our default, near 1 bar at 8 m/s and 2 bar at 17 m/s; fit per engine
 */
export const USUAL_FRICTION: FrictionLaw = { constant: 0.35e5, peak: 0.005, linear: 0.05e5, square: 0.0015e5 };

/** Friction mean effective pressure [Pa]. @source {@link FrictionLaw}, Chen and Flynn's form */
export function frictionPressure(
  law: FrictionLaw,
  at: { readonly peakPressure: number; readonly meanPistonSpeed: number },
): number {
  const c = at.meanPistonSpeed;
  return law.constant + law.peak * at.peakPressure + law.linear * c + law.square * c * c;
}
