import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import {
  type Mass,
  type Measured,
  mass,
  measured,
  type Ratio,
  ratio,
  STANDARD_GRAVITY,
} from '../../quantities/index.ts';

export interface LoadQuestion {
  /** F, driving force of the axle [N], > 0. */
  readonly need: Measured;
  /** μ [1], > 0. */
  readonly adhesion: Measured;
  /** N0, what presses the driven tyres on the rolls already: weight, straps, ballast [N]. */
  readonly load: Measured;
  /** k, share of the tractive limit that is kept in hand [1], 0 ≤ k < 1; default {@link KEPT_TRACTION}. */
  readonly kept?: Ratio;
}

/** @source our default: a tenth */
export const KEPT_TRACTION = ratio(0.1);

/** load: to be added [N]; below zero there is so much to spare. contributions: what makes it uncertain, as {@link combinedUncertainty}. */
export interface AddedLoad {
  readonly load: Measured;
  readonly contributions: readonly Contribution[];
}

/**
 * Load that is missing on the driven tyres so that they carry a driving force with something in hand [N].
 *
 *     ΔN = F/((1 − k)·μ) − N0
 *
 * @valid   both wheels loaded alike. Tyre, wheel bearing and anchors must bear the sum: their ratings come first; a tyre that is pressed
 *          harder heats more and loses more in rolling
 * @source  Coulomb's law, inverse of {@link tractionMargin}; JCGM 100:2008, equation 12
 */
export function addedLoad({ need, adhesion, load, kept = KEPT_TRACTION }: LoadQuestion): AddedLoad {
  const found = combinedUncertainty({
    inputs: [
      { name: 'driving force', ...need },
      { name: 'adhesion', ...adhesion },
      { name: 'tyre load', ...load },
    ],
    model: ([F, mu, N]) => F / ((1 - kept) * mu) - N,
  });
  return { load: measured(found.value, found.standardUncertainty), contributions: found.contributions };
}

/** Mass over the driven axle that presses like a force [kg]: ΔN/g. Behind the axle less does it, between the axles more is needed. @source statics */
export function ballastFor(load: number): Mass {
  return mass(load / STANDARD_GRAVITY);
}
