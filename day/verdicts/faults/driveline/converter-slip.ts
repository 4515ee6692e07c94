import { against, type Detector, strengthOf, windowOf } from '../../detector.ts';
import { rollSpeed } from '../../evidence/drive.ts';
import { ratioAhead, ratioOf } from '../../evidence/slip-beside.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { wheelKeepsToRoll } from '../../evidence/wheel.ts';
import type { PullScene } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';

/** Middles over this on either side of a step that takes this long [s]. @source our default */
const SIDE = 0.5;
const STEP_TIME = 0.3;
/** Without an earlier pull so many times the step. @source our default */
const ALONE = 1.5;
/** A step above this is a gear change [1]. @source common practice, no source: lock-up release 2–8 % */
const GEAR = 0.12;

/** A converter's lock-up letting go: engine speed over roll speed steps up once within a pull. @source signature: common practice, no source */
export const converterSlip: Detector = {
  fault: 'converter-slip',
  subject: 'driveline',
  needs: ['engine-speed'],
  lookAlikes: ['wheel-slip', 'clutch-slip'],
  look: (scene, limits) => {
    const { transmission } = scene.facts.vehicle;
    if (transmission !== 'converter') {
      return transmission === undefined
        ? { why: 'nobody stated the kind of transmission' }
        : { why: 'there is no converter' };
    }
    const roll = rollSpeed(scene);
    if (!roll) return { why: 'missing roll speed', missing: ['roll-speed'] };
    const beyond = ratioAhead(scene);
    const { size, from, to } = largestStep(beyond ? { times: beyond.times, ratio: beyond.beyond } : ratioOf(scene));
    // A converter slips more as torque builds up; where no earlier pull says how much, only a whole step counts.
    const limit = limits['converter.step'].value * (beyond ? 1 : ALONE);
    const features = [{ ...against(limits, 'converter.step', size), threshold: limit }];
    if (!(size > limit && size < GEAR)) return { features };
    const span = { from, to };
    if (isHabit(scene, span, size)) return { features };
    const wheel = wheelKeepsToRoll(scene, [{ from: span.to, to: span.to + SIDE }]);
    if (wheel === false || lostNear(scene, span)) return { features };
    // Without a wheel speed the tyre may have let go just as well.
    const strength = wheel === true ? strengthOf(size / limit, 0.6) : strengthOf(size / limit, 0.4, 0.6);
    return { windows: [windowOf(scene, span)], features, strength, stopClass: 1 };
  },
};

/** The largest step up of a ratio, and from when to when it takes [s]; 0 where there is none. */
function largestStep({ times, ratio }: Pick<ReturnType<typeof ratioOf>, 'times' | 'ratio'>): {
  readonly size: number;
  readonly from: number;
  readonly to: number;
} {
  const rate = 1 / (times[1] - times[0]);
  const side = Math.max(2, Math.round(SIDE * rate));
  const gap = Math.max(1, Math.round((STEP_TIME * rate) / 2));
  // What the ratio does anyway on both sides of the step is not the step.
  const step = ratio.map((_, i) => {
    if (i < side + gap || i + side + gap > ratio.length) return Number.NaN;
    const before = ratio.subarray(i - gap - side, i - gap);
    const after = ratio.subarray(i + gap, i + gap + side);
    const drift = Math.abs(before[side - 1] - before[0]) + Math.abs(after[side - 1] - after[0]);
    return middle(after) - middle(before) - drift;
  });
  let at = -1;
  for (let i = 0; i < step.length; i++) if (step[i] > (at < 0 ? Number.NEGATIVE_INFINITY : step[at])) at = i;
  return {
    size: at < 0 ? 0 : step[at],
    from: times[Math.max(0, at - gap)],
    to: times[Math.min(times.length - 1, at + gap)],
  };
}

/** Other pulls that must all have most of a step so near the same place for it to be how this car drives: how many, what part of it [1], how near [s]. @source our default */
const HABIT = { pulls: 2, part: 0.6, near: 0.5 } as const;

/** True when every other pull of the day steps there as well: a converter that takes up the torque does so each time, one that lets go began to. */
function isHabit(scene: PullScene, span: { readonly from: number }, size: number): boolean {
  const others = scene.references.map((other) => ({
    since: span.from - scene.from + other.from,
    own: largestStep(ratioOf(other)),
  }));
  return (
    others.length >= HABIT.pulls &&
    others.every(({ since, own }) => own.size > HABIT.part * size && Math.abs(own.from - since) < HABIT.near)
  );
}

/** True when the counter says that the trigger was lost near a step. Leaps alone do not: a speed that stays where it went is no lost trigger. */
function lostNear(scene: PullScene, span: { readonly from: number; readonly to: number }): boolean {
  const { counted = 0, windows } = syncEvidence(scene);
  return counted > 0 && windows.some(({ from, to }) => from < span.to + SIDE && to > span.from - SIDE);
}
