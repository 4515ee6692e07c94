import { against, type Detector, windowsWhere } from '../../detector.ts';
import { roughness } from '../../evidence/drive.ts';
import { lambdaErrors } from '../../evidence/lambda.ts';
import { gridOf, type PullScene, sceneTrack, speedsAt } from '../../scene/scene.ts';
import { largest, middle, runningQuantile, smooth } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** Injectors open nearly all the time, or somewhat less with lambda already leaning. @source limits: common practice, no source */
export const injectorSaturation: Detector = {
  fault: 'injector-saturation',
  subject: 'fuel',
  needs: [],
  lookAlikes: ['fuel-pressure-drop', 'lean-mixture'],
  look: (scene, limits) => {
    const duty = dutyOf(scene);
    if (!duty)
      return { why: 'neither injector duty nor pulse with engine speed', missing: ['injector-duty', 'injector-pulse'] };
    const { times, values } = duty;
    const shortest = limits['injector.shortest'].value;
    const high = windowsWhere(scene, {
      times,
      holds: (i) => values[i] > limits['injector.duty-leaning'].value,
      shortest,
      join: 0.2,
    });
    const leaning = high.length > 0 && !misfiredBefore(scene, limits, high[0].from) ? leaningIn(scene, high) : 0;
    const features = [
      against(limits, 'injector.duty', Math.max(0, largest(values))),
      against(limits, 'injector.leaning', leaning),
    ];
    const leans = leaning > limits['injector.leaning'].value;
    // The last tenth is no reserve: injectors need some of it to open and to close.
    const least = limits['injector.duty'].value;
    const full = windowsWhere(scene, { times, holds: (i) => values[i] > least, shortest, join: 0.2 });
    const windows = leans ? high : full;
    if (windows.length === 0) return { features };
    // From the whole of the time on there is nothing left: the next kilopascal is lean.
    const stopClass = leaning > limits['lean.departure'].value || largest(values) >= WHOLE ? 2 : 1;
    return { windows, features, strength: leans ? 0.9 : 0.75, stopClass };
  },
};

/** Injectors are open all the time [1]. @source definition */
const WHOLE = 1;

/** Rough so long before the duty is high, and for so long in all, is not by it [s]. @source our default */
const EARLIER = { from: 3, to: 0.3, least: 0.25 } as const;

/** True when the drive was rough before: firings that fail let lambda read lean, whatever the injectors do. */
function misfiredBefore(scene: PullScene, limits: Limits, time: number): boolean {
  const drive = roughness(scene, limits);
  if (typeof drive === 'string') return false;
  const { times, rough } = drive;
  const before = times.filter((t, i) => t > time - EARLIER.from && t < time - EARLIER.to && rough(i));
  return before.length * (times[1] - times[0]) > EARLIER.least;
}

/** Share of the cycle that the injectors are open; from the pulse with one opening per cycle of two turns. @source definition */
function dutyOf(scene: PullScene): { times: Float64Array; values: Float64Array } | undefined {
  const duty = sceneTrack(scene, 'injector-duty');
  const pulse = duty ?? sceneTrack(scene, 'injector-pulse');
  if (!pulse || (!duty && !scene.engineSpeed)) return undefined;
  const times = gridOf(scene, Math.min(100, pulse.rate));
  const values = onTimes(pulse, times);
  const turns = scene.facts.engine.strokesPerCycle === 2 ? 1 : 2;
  const speeds = duty ? undefined : speedsAt(scene, times);
  const shares = speeds ? values.map((seconds, i) => (seconds * speeds[i]) / (turns * 2 * Math.PI)) : values;
  return { times, values: smooth({ times, values: shares }, 3) };
}

/** Single readings that misfires make lean are left out: within ± this [s] so many are leaner than what counts [1]. @source our default */
const LOWER = { half: 0.3, probability: 0.25 } as const;

/** What was before the duty was high: so long before it [s]. @source our default */
const BEFORE = 2;

/** How much leaner than in the rest of the pull, and than just before, lambda is, against its target, where duty is high: a mixture that was lean already is not lean by it. */
function leaningIn(scene: PullScene, windows: readonly { readonly from: number; readonly to: number }[]): number {
  const changes = lambdaErrors(scene).map(({ times, error }) => {
    const inside = (i: number): boolean => windows.some(({ from, to }) => times[i] >= from && times[i] <= to);
    const lasting = runningQuantile({ times, values: error }, LOWER.half, LOWER.probability);
    const high = middle(lasting.filter((_, i) => inside(i)));
    const first = windows[0]?.from ?? Number.NaN;
    const before = middle(lasting.filter((_, i) => times[i] < first && times[i] > first - BEFORE));
    const rest = middle(lasting.filter((_, i) => !inside(i)));
    return high - largest([before, rest]);
  });
  return Math.max(0, largest(changes));
}
