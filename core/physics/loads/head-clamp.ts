import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import {
  type AbsolutePressure,
  type Force,
  force,
  type Length,
  type Measured,
  measured,
  type PressureDifference,
  pressureDifference,
  type Ratio,
  ratio,
} from '../../quantities/index.ts';

export interface HeadClamp {
  /** Of all fasteners that hold one cylinder, shared ones counted by their share [N]. */
  readonly clamp: Measured;
  /** Diameter that the gasket seals [m]; larger than the bore. */
  readonly sealedDiameter: Length;
  /** Clamp that the gasket needs to stay tight, as a share of the gas force [1]; default {@link GASKET_RESERVE}. */
  readonly reserve?: Ratio;
}

/** @source common practice, no source: clamp of 1.3 to 1.5 times the gas force */
export const GASKET_RESERVE = ratio(0.3);

/**
 * gasForce: of the peak pressure [N]. margin: clamp over what the joint needs, less 1 [1].
 * tightUpTo: peak pressure with the reserve just used [Pa]; liftsAt: peak pressure that equals the bare clamp [Pa].
 */
export interface HeadMargin {
  readonly gasForce: Force;
  readonly margin: Measured;
  readonly tightUpTo: PressureDifference;
  readonly liftsAt: PressureDifference;
  readonly contributions: readonly Contribution[];
}

/**
 * Margin of a head's clamp over the peak cylinder pressure.
 *
 *     m = F/((1 + s)·p·π/4·D²) − 1
 *
 * @param peak over the pressure outside [Pa], with its uncertainty
 * @valid   static; head stiffness, thermal growth of studs and block, and pressure waves of knock shift it either way
 * @source  force balance; need of the gasket: common practice, no source
 */
export function headMargin({ clamp, sealedDiameter, reserve = GASKET_RESERVE }: HeadClamp, peak: Measured): HeadMargin {
  const sealed = (Math.PI / 4) * sealedDiameter ** 2;
  const found = combinedUncertainty({
    inputs: [
      { name: 'clamp', ...clamp },
      { name: 'peak pressure', ...peak },
    ],
    model: ([F, p]) => F / ((1 + reserve) * p * sealed) - 1,
  });
  return {
    gasForce: force(peak.value * sealed),
    margin: measured(found.value, found.standardUncertainty),
    tightUpTo: pressureDifference(clamp.value / ((1 + reserve) * sealed)),
    liftsAt: pressureDifference(clamp.value / sealed),
    contributions: found.contributions,
  };
}

/**
 * Peak cylinder pressure to be expected from manifold pressure, as a range of practice [Pa].
 *
 * @source common practice, no source: 50 to 65 times manifold pressure near best timing, less when late; a cycle model replaces it
 */
export function usualPeakPressure(manifold: AbsolutePressure): Measured {
  return measured(57.5 * manifold, (7.5 * manifold) / Math.sqrt(3));
}
