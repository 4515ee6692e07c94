import { easeBetween } from '../interpolate.ts';
import { STEP } from '../rig/roll-run.ts';
import { type Builder, fullAct, mostOf } from './built.ts';
import type { Act } from './run.ts';

const oil: Builder = ({ strength }) => {
  const lost = Math.min(0.85, 0.15 * strength);
  const act: Act = (now, knobs) => {
    knobs.oilPressure *= 1 - lost;
    knobs.friction *= 1 + 0.4 * lost;
    return now.stage === 'full' ? 1 : 0;
  };
  return {
    act,
    coast: (now, knobs) => {
      act(now, knobs);
      return 1;
    },
    size: { lostShare: lost },
    moved: ['oil-pressure', 'engine-torque', 'coast-down-drag'],
    stopClass: lost >= 0.25 ? 3 : lost >= 0.15 ? 2 : 1,
  };
};

const crankcase: Builder = ({ strength }) => ({
  act: (now, knobs) => {
    knobs.crankcase += 1e3 * strength;
    if (now.stage !== 'full') return 0;
    knobs.hiddenLoss += Math.min(0.05, 0.01 * strength);
    return 1;
  },
  size: { rise: 1e3 * strength, lostShare: Math.min(0.05, 0.01 * strength) },
  moved: ['crankcase-pressure', 'engine-torque'],
  // The leak-down of the cylinders decides whether it ends there.
  stopClass: 2,
});

const headLift: Builder = ({ strength, clean }) => {
  const most = mostOf(clean, (at) => at('engineTorque'), 0.5);
  let risen = 0;
  return {
    act: (now, knobs) => {
      const lifted = now.stage === 'full' ? easeBetween(0.85, 0.96, now.torque / most) : 0;
      // What has leaked into the coolant stays there for the rest of the run.
      risen = Math.min(1, risen + (STEP * lifted) / 0.8);
      knobs.coolantPressure += 20e3 * strength * risen;
      if (now.stage !== 'full') return 0;
      knobs.hiddenLoss += Math.min(0.04, 0.01 * strength) * risen;
      knobs.fuel *= 1 - 0.005 * Math.min(3, strength) * risen;
      return risen;
    },
    size: { rise: 20e3 * strength },
    moved: ['coolant-pressure', 'engine-torque', 'lambda'],
    // A first sign holds, whatever its size; its repetition ends the day.
    stopClass: 2,
  };
};

/** Mean loss above the speed at strength 1. @source our default */
const FLOAT = 0.03;

const valveFloat: Builder = ({ strength, chance }) => {
  const share = chance.between(0.82, 0.89);
  const lost = Math.min(0.4, FLOAT * strength);
  return {
    // Valves follow the crank, which a converter turns faster than the gears.
    act: fullAct(
      ({ state }) => easeBetween(share, share + 0.04, state.shown / state.engine.redline),
      (knobs, much) => {
        knobs.valves += lost * much;
        knobs.surge += Math.min(0.03, 0.006 * strength) * much;
        knobs.surgeHertz = 9;
      },
    ),
    size: { lostShare: lost, fromShare: share },
    moved: ['engine-torque', 'manifold-pressure'],
    stopClass: 2,
  };
};

/** Faults of what is under mechanical load. */
export const LOAD_FAULTS = {
  'oil-pressure-low': oil,
  'crankcase-pressure': crankcase,
  'head-lift': headLift,
  'valve-float': valveFloat,
} as const satisfies Record<string, Builder>;
