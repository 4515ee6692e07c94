import { type Power, power, type Ratio } from '../../quantities/index.ts';
import { inertiaPower, type Rotation } from '../rolls/roll-power.ts';

export interface WheelPower {
  /** Power at the tyre's contact, slip included [W]. */
  readonly tyrePower: Power;
  /** Losses that do not depend on torque, from a coast-down [W]. */
  readonly rollingLoss: Power;
  /** Taken up by wheels and shafts [W]. */
  readonly wheelInertiaPower: Power;
  /** Share of the torque that the meshes lose [1], 0 … below 1. */
  readonly torqueLoss: Ratio;
  /** Crankshaft, flywheel and clutch, with their speed and acceleration. */
  readonly engine: Rotation;
}

/** Each step from the tyre back to the crankshaft [W]. */
export interface EnginePower {
  readonly enginePower: Power;
  readonly torqueLossPower: Power;
  readonly engineInertiaPower: Power;
}

/**
 * Power made at the crankshaft [W].
 *
 *     P = (Ptyre + Prolling + Pwheels)/(1 − loss) + Ie·ω·α
 *
 * The meshes see the torque that passes through them, the engine's own inertia lies before them.
 *
 * @valid   loss proportional to torque: common practice for gear meshes; oil churning belongs to the rolling loss
 * @source  power balance; the loss model is our default
 */
export function enginePower(input: WheelPower): EnginePower {
  const passed = input.tyrePower + input.rollingLoss + input.wheelInertiaPower;
  const torqueLossPower = (passed * input.torqueLoss) / (1 - input.torqueLoss);
  const engineInertiaPower = inertiaPower(input.engine);
  return {
    enginePower: power(passed + torqueLossPower + engineInertiaPower),
    torqueLossPower: power(torqueLossPower),
    engineInertiaPower,
  };
}
