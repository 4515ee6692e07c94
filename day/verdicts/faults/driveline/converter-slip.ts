import { against, type Detector, strengthOf, windowOf } from '../../detector.ts';
import { rollSpeed } from '../../evidence/drive.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { wheelKeepsToRoll } from '../../evidence/wheel.ts';
import { gridOf, speedsAt } from '../../scene/scene.ts';
import { middle, runningQuantile } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';

/** Middles over this on either side of a step that takes this long [s]. @source our default */
const SIDE = 0.5;
const STEP_TIME = 0.3;
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
    const times = gridOf(scene, Math.min(50, roll.track.rate), { from: scene.from + 0.3, to: scene.to - 0.1 });
    const v = onTimes(roll.track, times).map((value) => value * roll.scale);
    const ratio = runningQuantile(
      { times, values: speedsAt(scene, times).map((w, i) => Math.log(w / v[i])) },
      0.08,
      0.5,
    );
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
    const limit = limits['converter.step'].value;
    const size = at < 0 ? 0 : step[at];
    const features = [against(limits, 'converter.step', size)];
    if (!(size > limit && size < GEAR)) return { features };
    const span = { from: times[Math.max(0, at - gap)], to: times[Math.min(times.length - 1, at + gap)] };
    const wheel = wheelKeepsToRoll(scene, [{ from: span.to, to: span.to + SIDE }]);
    const lost = syncEvidence(scene).windows.some(({ from, to }) => from < span.to + SIDE && to > span.from - SIDE);
    if (wheel === false || lost) return { features };
    // Without a wheel speed the tyre may have let go just as well.
    const strength = wheel === true ? strengthOf(size / limit, 0.6) : strengthOf(size / limit, 0.4, 0.6);
    return { windows: [windowOf(scene, span)], features, strength, stopClass: 1 };
  },
};
