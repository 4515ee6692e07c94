import { type Angle, type Force, force, type Ratio, ratio } from '../../quantities/index.ts';

/** One strap from the vehicle to an anchor in the floor. */
export interface Strap {
  /** [N], ≥ 0 */
  readonly tension: Force;
  /** Below the horizontal, from the vehicle to the anchor [rad], 0 … π/2. */
  readonly down: Angle;
  /** In plan, from the vehicle's axis; 0 pulls straight back, π straight forward, + to the left [rad]. */
  readonly plan: Angle;
}

/** Sum of the pulls on the vehicle [N]: down, rearward, to the left. */
export interface StrapPull {
  readonly down: Force;
  readonly rearward: Force;
  readonly left: Force;
}

/**
 * Pull of straps on the vehicle [N].
 *
 *     down T·sin α,   rearward T·cos α·cos ψ,   left T·cos α·sin ψ
 *
 * @valid   straps straight and massless; tensions as they stand under load, which after bedding in are less than as tightened
 * @source  statics
 */
export function strapPull(straps: readonly Strap[]): StrapPull {
  const sum = (part: (strap: Strap) => number): Force => force(straps.reduce((total, strap) => total + part(strap), 0));
  return {
    down: sum(({ tension, down }) => tension * Math.sin(down)),
    rearward: sum(({ tension, down, plan }) => tension * Math.cos(down) * Math.cos(plan)),
    left: sum(({ tension, down, plan }) => tension * Math.cos(down) * Math.sin(plan)),
  };
}

/**
 * Tension that each of several like straps must have [N] to pull down with a force; infinite for straps that lie flat.
 *
 * @source  statics
 */
export function tensionForDownforce(wanted: Force, strap: Omit<Strap, 'tension'>, count: number): Force {
  const share = count * Math.sin(strap.down);
  return force(share > 0 ? Math.max(0, wanted) / share : wanted > 0 ? Number.POSITIVE_INFINITY : 0);
}

/** Straps at both ends, before the tyre pulls. */
export interface HeldVehicle {
  readonly rear: readonly Strap[];
  readonly front: readonly Strap[];
}

/**
 * slackAt: driving force at which the front straps go slack if both ends give alike [N].
 * loadedTension: of each rear strap at the driving force [N], in their order.
 */
export interface StrapHold {
  readonly slackAt: Force;
  readonly loadedTension: readonly Force[];
}

/**
 * How straps share a driving force that pushes the vehicle forward.
 *
 * While both ends are tight they share it by stiffness, half each for like straps: the rear gains what the front loses. Once the front
 * is slack the rear carries all. Each rear strap gains in proportion to its own tension.
 *
 * @param drive tyre force on the roll [N], ≥ 0
 * @valid   like straps at both ends, no chocks, anchors rigid
 * @source  statics of two springs in opposition
 */
export function strapHold({ rear, front }: HeldVehicle, drive: Force): StrapHold {
  const back = strapPull(rear).rearward;
  const ahead = -strapPull(front).rearward;
  const slackAt = 2 * ahead;
  const carried = drive <= slackAt ? back + drive / 2 : back + (drive - ahead);
  const gain = back > 0 ? carried / back : Number.NaN;
  return { slackAt: force(slackAt), loadedTension: rear.map(({ tension }) => force(tension * gain)) };
}

/** Rated over expected load of a strap [1]; practice asks for 2 or more. @source common practice, no source; the rating plate decides */
export function strapReserve(rated: Force, expected: Force): Ratio {
  return ratio(rated / expected);
}
