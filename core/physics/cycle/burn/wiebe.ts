/**
 * Burned share after Wiebe.
 *
 *     x = 1 − exp(−a·τ^(m+1)),   τ = (θ − θ₀)/Δθ
 */
export interface Wiebe {
  /** θ₀ [rad]. */
  readonly start: number;
  /** Δθ [rad]; at its end x = 1 − exp(−a). */
  readonly duration: number;
}

/** Form: a = 5 (99.3 % burned after Δθ), m = 2. @source Heywood (1988), ch. 9; a = 5 also seen in a textbook program */
export const WIEBE_EFFICIENCY = 5;
export const WIEBE_FORM = 2;

/** Burned share [1]. @source Wiebe's function */
export function wiebeShare({ start, duration }: Wiebe, angle: number): number {
  const t = (angle - start) / duration;
  return t <= 0 ? 0 : -Math.expm1(-WIEBE_EFFICIENCY * t ** (WIEBE_FORM + 1));
}

/** Rate of burning [1/rad]. @source derivative of {@link wiebeShare} */
export function wiebeRate({ start, duration }: Wiebe, angle: number): number {
  const t = (angle - start) / duration;
  if (t <= 0) return 0;
  const power = WIEBE_EFFICIENCY * t ** (WIEBE_FORM + 1);
  return (((WIEBE_FORM + 1) * power) / (t * duration)) * Math.exp(-power);
}

/** Place of a burned share as a share of the duration [1]: (−ln(1 − x)/a)^(1/(m+1)). @source inverse of {@link wiebeShare} */
export function wiebePlace(share: number): number {
  return (-Math.log1p(-share) / WIEBE_EFFICIENCY) ** (1 / (WIEBE_FORM + 1));
}
