import {
  type Angle,
  angle,
  answered,
  type Force,
  force,
  type Length,
  type Outcome,
  refused,
} from '../../quantities/index.ts';

/** A wheel between two like rollers. */
export interface Cradle {
  readonly wheelRadius: Length;
  readonly rollerRadius: Length;
  /** Between the roller centres [m]. */
  readonly spacing: Length;
}

/** contactAngle: from the vertical. front, rear: normal forces on the rollers [N]; the driving force pushes the wheel onto the front one. */
export interface CradleForces {
  readonly contactAngle: Angle;
  readonly front: Force;
  readonly rear: Force;
}

/**
 * Normal forces in a cradle.
 *
 *     sin φ = (s/2)/(Rw + Rr),   front, rear = W/(2·cos φ) ± F/(2·sin φ)
 *
 * F is the force between vehicle and wheel along the ground that the straps do not take. Beyond W·tan φ the wheel climbs out.
 *
 * Refuses a cradle that the wheel falls through, and a force that lifts it from the rear roller.
 *
 * @param load W of the wheel [N] @param push F, forward [N], ≥ 0
 * @valid   rigid round wheel; friction of the contacts themselves left out
 * @source  statics
 */
export function cradleForces(cradle: Cradle, load: Force, push: Force): Outcome<CradleForces> {
  const sine = cradle.spacing / 2 / (cradle.wheelRadius + cradle.rollerRadius);
  if (!(sine > 0 && sine < 1)) {
    const numbers = { spacing: cradle.spacing, limit: 2 * (cradle.wheelRadius + cradle.rollerRadius) };
    return refused({ kind: 'cradle-too-wide', message: 'invalid cradle: the wheel falls through', numbers });
  }
  const contact = Math.asin(sine);
  const half = load / (2 * Math.cos(contact));
  const shift = push / (2 * sine);
  if (half < shift) {
    const numbers = { push, limit: load * Math.tan(contact) };
    return refused({
      kind: 'wheel-climbs-out',
      message: 'push out of validity: the wheel climbs out of the cradle',
      numbers,
    });
  }
  return answered({ contactAngle: angle(contact), front: force(half + shift), rear: force(half - shift) });
}
