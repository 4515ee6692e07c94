import { easeBetween } from '../interpolate.ts';
import { STEP } from '../rig/roll-run.ts';
import { type Builder, from, fullAct, mostOf } from './built.ts';
import { speedAtRedline } from './nature.ts';
import type { Act, Instant } from './run.ts';

/** How near the torque is to its largest. */
function atPeak(most: number): (now: Instant) => number {
  return ({ torque }) => easeBetween(0.86, 0.97, torque / most);
}

const wheelSlip: Builder = ({ strength, clean }) => {
  const slip = 0.015 * strength;
  const most = mostOf(clean, (at) => at('engineTorque'), 0.5);
  return {
    act: fullAct(atPeak(smoothPeak(most)), (knobs, much) => {
      knobs.slip += slip * much;
    }),
    size: { slipShare: slip },
    moved: ['engine-speed', 'wheel-speed', 'tractive-force'],
    stopClass: slip > 0.05 ? 2 : 1,
  };
};

const clutchSlip: Builder = ({ nature, strength, clean }) => {
  if (nature.engine.transmission !== 'manual') return undefined;
  const slip = 0.015 * strength;
  const most = mostOf(clean, (at) => at('engineTorque'), 0.5);
  return {
    act: fullAct(atPeak(smoothPeak(most)), (knobs, much) => {
      knobs.clutchSlip += slip * much;
    }),
    size: { slipShare: slip },
    moved: ['engine-speed'],
    stopClass: strength >= 2 ? 2 : 1,
  };
};

/** The torque an act sees is smoothed; single steps scatter above it. */
function smoothPeak(most: number): number {
  return 0.96 * most;
}

const converterSlip: Builder = ({ nature, strength, chance }) => {
  if (nature.engine.transmission !== 'converter') return undefined;
  const step = 0.02 * strength;
  let since = 0;
  const where = from(chance.between(0.5, 0.7), 0.008);
  return {
    act: fullAct(where, (knobs, much) => {
      since += STEP;
      knobs.converterSlip += step * much * (1 + 0.5 * Math.exp(-since / 0.25));
      knobs.gearHeat += strength * since;
    }),
    size: { stepShare: step, heatPerSecond: strength },
    moved: ['engine-speed', 'gearbox-temperature'],
    stopClass: 1,
  };
};

/** Loss at the axle at the highest speed over the largest wheel torque, at strength 1. @source our default; the heat: common practice, no source */
const AXLE = 0.015;

const lossRising: Builder = ({ nature, strength, clean }) => {
  const { stated } = nature;
  const top = speedAtRedline(nature);
  const most = mostOf(clean, (at) => at('engineTorque')) * stated.ratio;
  const torque = AXLE * strength * most;
  const act: Act = (now, knobs) => {
    const tyre = now.stage === 'overrun' && Number.isNaN(now.sinceTipIn) ? 0.5 : Math.min(1.1, now.share);
    knobs.axleTorque += torque * tyre;
    knobs.axleHeat += 10 * strength;
    return now.stage === 'full' ? 1 : 0;
  };
  return {
    act,
    coast: (now, knobs) => {
      act(now, knobs);
      return 1;
    },
    size: { axleTorque: torque, hotterAxle: 10 * strength, shareOfWheelTorque: AXLE * strength, topSpeed: top },
    moved: ['axle-temperature', 'tractive-force', 'roll-power'],
    stopClass: 2,
  };
};

const coastDrag: Builder = ({ nature, strength, chance, variant }) => {
  const { stated } = nature;
  const which = variant ?? chance.pick(['axle', 'axle', 'engine', 'stall']);
  if (which === 'axle') {
    const middle = stated.dragAtRest + 0.5 * stated.dragPerSpeed * speedAtRedline(nature);
    const drag = 0.1 * strength * middle;
    return {
      coast: (_, knobs) => {
        knobs.drag += drag;
        return 1;
      },
      variant: which,
      size: { dragNewton: drag, dragShare: 0.1 * strength },
      moved: ['coast-down-drag'],
      stopClass: 2,
    };
  }
  return {
    coast: (_, knobs) => {
      knobs.friction *= 1 + 0.2 * strength;
      knobs.oilPressure *= 1 - Math.min(0.5, 0.05 * strength);
      knobs.stalls = which === 'stall';
      return 1;
    },
    variant: which,
    size: { engineDragShare: 0.2 * strength },
    moved: ['coast-down-drag', 'oil-pressure', ...(which === 'stall' ? ['engine-speed'] : [])],
    stopClass: strength >= 1 || which === 'stall' ? 3 : 2,
  };
};

/** The trade's threshold of a shortfall [1], and how many times the spread of the day's pulls it is at the least. @source our default: an ordinary repeatability of 0.7 %, three deviations */
const SHORT = { share: 0.02, spreads: 3 } as const;

const shortfall: Builder = ({ strength, luck }) => {
  const lost = strength * Math.max(SHORT.share, SHORT.spreads * luck);
  return {
    act: fullAct(
      () => 1,
      (knobs) => {
        knobs.hiddenLoss += lost;
      },
    ),
    size: { lostShare: lost },
    moved: ['engine-torque'],
    // Short once by what one pull can hardly prove asks for a repeat; the trade holds when it is short twice, or by far.
    stopClass: strength >= 2 ? 2 : 1,
  };
};

const overRev: Builder = ({ strength, clean, nature }) => ({
  act: (now) => (now.share > 1 ? 1 : 0),
  // A converter turns the engine faster than its gears: over the redline before they are, or when they never are.
  window: ({ run }) => {
    const over = (speed: number): boolean => speed > nature.engine.redline;
    const from = run.engineSpeed.findIndex(over);
    return from < 0 ? undefined : { from, to: run.engineSpeed.findLastIndex(over) };
  },
  plan: { topShare: 1 + 0.03 * strength, longest: 1.4 * (clean.run.lift - clean.run.tipIn) + 3 },
  size: { overShare: 0.03 * strength },
  moved: ['engine-speed'],
  stopClass: 2,
});

/** Faults between crank and roll. */
export const DRIVE_FAULTS = {
  'wheel-slip': wheelSlip,
  'clutch-slip': clutchSlip,
  'converter-slip': converterSlip,
  'driveline-loss-rising': lossRising,
  'coast-down-drag': coastDrag,
  'power-shortfall': shortfall,
  'over-rev': overRev,
} as const satisfies Record<string, Builder>;
