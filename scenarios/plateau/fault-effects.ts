import { clamp, easeBetween } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import type { Moment } from '../rig/roll-run.ts';
import type { PullFaults } from './faults.ts';

/** What the faults of a pull do at one moment. torque: factor; others add to the clean signal in its own unit. */
export interface Effects {
  torque: number;
  slip: number;
  lambdaA: number;
  lambdaB: number;
  pressureSwing: number;
  fuelPressure: number;
  coolantPressure: number;
  knock3: number;
  knock5: number;
  retard3: number;
  retard5: number;
  knocking: boolean;
  cut: number;
  sync: number;
  lost: boolean;
}

/** The faults of one pull over its course. Remembers what has begun, so ask in order of time. */
export function faultCourse(faults: PullFaults, chance: Chance): (moment: Moment) => Effects {
  const parts = [
    cutCourse(faults),
    slipCourse(faults),
    breakupCourse(faults, chance),
    knockCourse(faults),
    syncCourse(faults),
    coolantCourse(faults, chance),
    fuelCourse(faults),
  ];
  return (moment) => {
    const effects = nothing();
    const rpm = (moment.speed * 30) / Math.PI;
    for (const part of parts) part(effects, { ...moment, rpm });
    if (faults.leak && moment.stage === 'full') effects.torque *= 1 + faults.leak.torque;
    return effects;
  };
}

type Part = (effects: Effects, moment: Moment & { readonly rpm: number }) => void;

const NOTHING: Part = () => {};

function nothing(): Effects {
  return {
    torque: 1,
    slip: 0,
    lambdaA: 0,
    lambdaB: 0,
    pressureSwing: 0,
    fuelPressure: 0,
    coolantPressure: 0,
    knock3: 0,
    knock5: 0,
    retard3: 0,
    retard5: 0,
    knocking: false,
    cut: 0,
    sync: 0,
    lost: false,
  };
}

/** A limiter: notches at a fixed rate above a fixed engine speed. */
function cutCourse({ softCut }: PullFaults): Part {
  if (!softCut) return NOTHING;
  return (effects, { rpm, time, stage }) => {
    if (stage !== 'full' || rpm < softCut.rpm || (time * softCut.hertz) % 1 > 0.4) return;
    effects.torque *= 0.35;
    effects.lambdaA += 0.05;
    effects.lambdaB += 0.05;
    effects.cut = 1;
  };
}

/** The tyre lets go: total slip grows from its creep to the top value, then it grips again. */
function slipCourse({ slip }: PullFaults): Part {
  if (!slip) return NOTHING;
  return (effects, { rpm, stage }) => {
    if (stage !== 'full') return;
    const rising = clamp((rpm - slip.from) / (slip.top - slip.from), 0, 1);
    const falling = 1 - easeBetween(slip.top, slip.to, rpm);
    effects.slip = (slip.high - slip.low) * rising * falling;
  };
}

/** Bursts of misfire of 80-300 ms; inside a burst single firings fail, so the torque is spiky and unburnt oxygen shows. */
function breakupCourse({ breakup }: PullFaults, chance: Chance): Part {
  if (!breakup) return NOTHING;
  let until = Number.NEGATIVE_INFINITY;
  let burst = false;
  let drop = 0;
  let dropUntil = Number.NEGATIVE_INFINITY;
  return (effects, { rpm, time, stage }) => {
    if (stage !== 'full' || rpm < breakup.from || rpm > breakup.to) return;
    if (time >= until) {
      burst = !burst;
      until = time + (burst ? chance.between(0.08, 0.3) : chance.between(0.08, 0.26));
    }
    if (!burst) return;
    if (time >= dropUntil) {
      // Mean 1.9 × the mean loss inside bursts, which take about half the time.
      drop = chance.pick([0, 1.3, 2.6, 3.7]) * breakup.loss;
      dropUntil = time + chance.between(0.015, 0.04);
    }
    effects.torque *= 1 - drop;
    effects.lambdaA += 0.4 * drop;
    effects.lambdaB += 0.25 * drop;
  };
}

/** Knock events of two cylinders and the retard that answers them, recovering slowly. */
function knockCourse({ knock }: PullFaults): Part {
  if (!knock) return NOTHING;
  const events = [0.02, 0.14, 0.27, 0.42, 0.55, 0.66, 0.8, 0.93];
  const onFive = new Set([3, 6]);
  let next = 0;
  let last = { time: Number.NEGATIVE_INFINITY, five: false };
  let three = 0;
  let five = 0;
  return (effects, { rpm, time, stage }) => {
    if (stage === 'hold') return;
    const place = (rpm - knock.from) / (knock.to - knock.from);
    if (stage === 'full' && next < events.length && place >= (events[next] ?? 2)) {
      last = { time, five: onFive.has(next) };
      if (last.five) five = Math.min(2, five + 1.2);
      else three = Math.min(5, three + 1.8);
      next += 1;
    }
    effects.knocking = time - last.time < 0.03;
    if (effects.knocking && last.five) effects.knock5 = 2.6;
    if (effects.knocking && !last.five) effects.knock3 = 3.2;
    const rate = place > 1 ? 0.008 : 0.002;
    three = Math.max(0, three - rate);
    five = Math.max(0, five - rate);
    effects.retard3 = three;
    effects.retard5 = five;
    if (stage !== 'full') return;
    effects.torque *= 1 + knock.torque * easeBetween(-0.06, 0.06, place) * (1 - easeBetween(0.98, 1.1, place));
  };
}

/** The crank signal is lost for short times: everything is cut, the shown speed freezes or jumps, the counter climbs. */
function syncCourse({ syncLoss }: PullFaults): Part {
  if (!syncLoss) return NOTHING;
  const spans: { from: number; to: number; count: number }[] = [];
  return (effects, { rpm, time, stage }) => {
    if (spans.length === 0 && stage === 'full' && rpm >= syncLoss.rpm) {
      let from = time;
      syncLoss.seconds.forEach((seconds, index) => {
        spans.push({ from, to: from + seconds, count: index === 0 ? 1 : 2 });
        from += seconds + 0.06;
      });
    }
    for (const span of spans) {
      if (time >= span.from) effects.sync += span.count;
      if (time >= span.from && time < span.to) effects.lost = true;
    }
    if (effects.lost) {
      effects.torque = 0;
      effects.lambdaA += 0.35;
      effects.lambdaB += 0.35;
    }
  };
}

/** Gas from a lifting head goes into the coolant, and later the coolant goes. */
function coolantCourse({ coolant }: PullFaults, chance: Chance): Part {
  if (!coolant) return NOTHING;
  let miss = 0;
  let missUntil = Number.NEGATIVE_INFINITY;
  return (effects, { rpm, time, stage }) => {
    const full = stage === 'full';
    const rise = stage === 'hold' ? 0 : full ? easeBetween(3300, 4700, rpm) : 1;
    if (coolant === 'lift') {
      effects.coolantPressure = 34 * rise;
      const middle = easeBetween(3150, 3300, rpm) * (1 - easeBetween(4700, 5300, rpm));
      if (full) effects.torque *= 1 - 0.021 * middle - 0.008 * easeBetween(4700, 5500, rpm);
      effects.lambdaB = full ? 0.003 * middle : 0;
    } else if (coolant === 'vent') {
      // The cap opens at 190 kPa and lets go again and again.
      effects.coolantPressure = 25 + 47 * rise - (rise > 0.95 ? 6 * ((time * 1.3) % 1) : 0);
      if (full) effects.torque *= 1 - 0.034 * easeBetween(2900, 3300, rpm);
      effects.lambdaB = full ? 0.015 : 0;
    } else {
      effects.coolantPressure = -75 + 8 * Math.sin(time * 5);
      if (time >= missUntil) {
        miss = chance.uniform() < 0.35 ? 1 / 6 : 0;
        missUntil = time + chance.between(0.02, 0.05);
      }
      effects.torque *= full ? 0.948 * (1 - miss) : 1 - 1.4 * miss;
      effects.lambdaB += 0.18 * miss;
    }
  };
}

/** The pump starves at low voltage. */
function fuelCourse({ fuelPressure }: PullFaults): Part {
  if (!fuelPressure) return NOTHING;
  return (effects, { rpm, stage }) => {
    if (stage !== 'full') return;
    effects.fuelPressure = -fuelPressure.drop * easeBetween(5200, 6200, rpm);
    const lean = easeBetween(5600, 6200, rpm);
    effects.lambdaA += fuelPressure.lambda * lean;
    effects.lambdaB += fuelPressure.lambda * lean;
    effects.torque *= 1 + fuelPressure.torque * lean;
  };
}
