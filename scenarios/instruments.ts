import type { Chance } from './random.ts';
import type { Rig } from './rig/rig.ts';
import type { InstrumentErrors } from './truth.ts';

/** Standard uncertainties of instruments and stated facts: relative [1], torque loss in points [1], force zero [N]. */
export const UNCERTAINTIES = {
  forceGain: 0.005,
  speedGain: 0.001,
  rollMass: 0.01,
  forceZero: 15,
  wheelInertia: 0.1,
  engineInertia: 0.1,
  lossShare: 0.005,
} as const;

/** Instruments without any error but a zero that drifts. */
export function nominalErrors(zeroDrift: number): InstrumentErrors {
  return {
    forceGain: 0,
    speedGain: 0,
    rollMass: 0,
    wheelInertia: 0,
    engineInertia: 0,
    lossShare: 0,
    forceZero: 0,
    zeroDrift,
  };
}

/** Errors of one day, each normal with its standard uncertainty. */
export function drawnErrors(chance: Chance, zeroDrift: number): InstrumentErrors {
  return {
    forceGain: UNCERTAINTIES.forceGain * chance.normal(),
    speedGain: UNCERTAINTIES.speedGain * chance.normal(),
    rollMass: UNCERTAINTIES.rollMass * chance.normal(),
    wheelInertia: UNCERTAINTIES.wheelInertia * chance.normal(),
    engineInertia: UNCERTAINTIES.engineInertia * chance.normal(),
    lossShare: UNCERTAINTIES.lossShare * chance.normal(),
    forceZero: UNCERTAINTIES.forceZero * chance.normal(),
    zeroDrift,
  };
}

/** The rig as it really is, given what is stated about it. */
export function trueRig(stated: Rig, errors: InstrumentErrors): Rig {
  return {
    ...stated,
    rollMass: stated.rollMass * (1 + errors.rollMass),
    wheelInertia: stated.wheelInertia * Math.max(0.2, 1 + errors.wheelInertia),
    engineInertia: stated.engineInertia * Math.max(0.2, 1 + errors.engineInertia),
    lossShare: Math.max(0, stated.lossShare + errors.lossShare),
  };
}
