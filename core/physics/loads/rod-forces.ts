import {
  type AbsolutePressure,
  type Angle,
  type AngularSpeed,
  type Force,
  force,
  type Mass,
  type Torque,
  torque,
} from '../../quantities/index.ts';
import { pistonAcceleration, pistonArea, type SliderCrank } from '../cycle/mechanism/slider-crank.ts';

/** Masses that move, and the pressure under the piston. */
export interface CrankTrain {
  readonly crank: SliderCrank;
  /** Piston, rings, pin and the small-end part of the rod [kg]. */
  readonly reciprocating: Mass;
  /** Big-end part of the rod, as if at the crank pin [kg]. */
  readonly rotating: Mass;
  readonly crankcasePressure: AbsolutePressure;
}

/**
 * Forces at one crank angle [N]. Positive: gas pushes down, rod is compressed.
 *
 * piston: along the cylinder, at the pin, gas and inertia together. rod: along the rod. side: of the piston on the wall, positive against
 * the side that the rod leans to. bearing: of the big end on the crank pin (radial: away from the crank centre; tangential: with the rotation).
 * torque [N·m]: on the crankshaft.
 */
export interface CrankForces {
  readonly piston: Force;
  readonly rod: Force;
  readonly side: Force;
  readonly bearing: { readonly radial: Force; readonly tangential: Force };
  readonly torque: Torque;
}

/**
 * Forces in the crank mechanism at one angle, steady rotation.
 *
 *     F = (p − p_case)·A − m·a,   rod = F/cos β,   side = F·tan β,   sin β = (r/l)·sin θ
 *
 * @param angle θ after top dead centre [rad]
 * @valid   rod as two masses at its eyes (its own inertia torque is left out), no friction, no offset, steady speed
 * @source  force balance of the piston: Heywood, Internal Combustion Engine Fundamentals, 2 (from memory)
 */
export function crankForces(
  train: CrankTrain,
  cylinder: AbsolutePressure,
  at: { readonly angle: Angle; readonly rotation: AngularSpeed },
): CrankForces {
  const { crank, reciprocating, rotating, crankcasePressure } = train;
  const { angle, rotation } = at;
  const r = crank.stroke / 2;
  const lean = Math.asin((r * Math.sin(angle)) / crank.rodLength);
  const gas = (cylinder - crankcasePressure) * pistonArea(crank.bore);
  const piston = gas - reciprocating * pistonAcceleration(crank, angle, rotation);
  const rod = piston / Math.cos(lean);
  const tangential = rod * Math.sin(angle + lean);
  // the rod pushes the pin towards the crank centre near top dead centre; the big end's own mass pulls outward
  const radial = rotating * r * rotation * rotation - rod * Math.cos(angle + lean);
  return {
    piston: force(piston),
    rod: force(rod),
    side: force(piston * Math.tan(lean)),
    bearing: { radial: force(radial), tangential: force(tangential) },
    torque: torque(tangential * r),
  };
}

/** Force in the rod at a top dead centre [N], compression positive: (p − p_case)·A − m·r·ω²·(1 + r/l). @source {@link crankForces} at θ = 0 */
export function rodForceAtTop(train: CrankTrain, cylinder: AbsolutePressure, rotation: AngularSpeed): Force {
  const { crank, reciprocating, crankcasePressure } = train;
  const gas = (cylinder - crankcasePressure) * pistonArea(crank.bore);
  return force(gas - inertiaAtTop(crank, reciprocating, rotation));
}

/**
 * Two-term inertia force along the cylinder [N]: m·r·ω²·(cos θ + (r/l)·cos 2θ).
 *
 * @valid   exact at both dead centres; within 1 % of full scale between for r/l up to 0.3
 * @source  first two terms of the series in r/l
 */
export function reciprocatingForce({ crank, reciprocating }: CrankTrain, angle: Angle, rotation: AngularSpeed): Force {
  const r = crank.stroke / 2;
  const shape = Math.cos(angle) + (r / crank.rodLength) * Math.cos(2 * angle);
  return force(reciprocating * r * rotation * rotation * shape);
}

/** Engine speed at which the inertia at overlap top dead centre reaches a tension limit [rad/s]. @source inverse of the inertia force */
export function speedOfTension(crank: SliderCrank, reciprocating: Mass, limit: Force): number {
  return Math.sqrt(limit / inertiaAtTop(crank, reciprocating, 1));
}

function inertiaAtTop({ stroke, rodLength }: SliderCrank, reciprocating: number, rotation: number): number {
  const r = stroke / 2;
  return reciprocating * r * rotation * rotation * (1 + r / rodLength);
}
