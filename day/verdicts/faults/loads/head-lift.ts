import { against, type Detector, type FaultWindow, informs, strengthOf, windowsWhere } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { startLevel } from '../../evidence/references.ts';
import { gridOf, levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { largest, middle, smooth } from '../../scene/series.ts';
import { onTimes, type SceneTrack } from '../../scene/track.ts';

/**
 * Head lifting: coolant pressure climbs within the pull by more than the coolant's temperature and its pump explain; or it has been lost
 * against the day's other pulls. The pump's share is what coolant pressure does by engine speed in the others.
 *
 * @source limit: common practice, no source; pressure per kelvin: our default
 */
export const headLift: Detector = {
  fault: 'head-lift',
  subject: 'loads',
  needs: ['coolant-pressure'],
  lookAlikes: ['ignition-breakup', 'knock'],
  look: (scene, limits) => {
    const pressure = sceneTrack(scene, 'coolant-pressure');
    if (!pressure) return { why: 'missing coolant-pressure', missing: ['coolant-pressure'] };
    const times = gridOf(scene, Math.min(50, pressure.rate));
    const rise = riseOf(scene, pressure, times);
    const beside = usualRise(scene, times);
    const unexplained = rise.map((value, i) => value - warming(scene, times[i], limits) - Math.max(0, beside[i]));
    const limit = limits['head-lift.pressure'].value;
    const windows = windowsWhere(scene, { times, holds: (i) => unexplained[i] > limit, shortest: 0.3, join: 0.5 });
    const start = startLevel(scene, 'coolant-pressure');
    const lost = lostShare(scene, start);
    const top = Math.max(0, largest(unexplained));
    const features = [
      against(limits, 'head-lift.pressure', top),
      informs('coolant pressure before the pull', start, 'gauge-pressure'),
      ...(Number.isFinite(lost) ? [against(limits, 'head-lift.lost-share', lost)] : []),
    ];
    const gone = lost > limits['head-lift.lost-share'].value;
    if (windows.length === 0 && !gone) return { features };
    const whole: readonly FaultWindow[] = windowsWhere(scene, { times, holds: () => true, shortest: 0 });
    const repeated = besideState(scene, []).some((other) => liftedThere(other, limits));
    return {
      windows: windows.length > 0 ? windows : whole,
      features,
      strength:
        windows.length > 0
          ? strengthOf(top / limit, 0.72)
          : strengthOf(lost / limits['head-lift.lost-share'].value, 0.5, 0.8),
      stopClass: gone || repeated ? 3 : 2,
    };
  },
};

/** Coolant pressure above that of the start of the pull [Pa]. */
function riseOf(scene: PullScene, pressure: SceneTrack, times: Float64Array): Float64Array {
  const start = levelBetween(pressure, scene.from - 1, scene.from + 0.3);
  const base = Number.isFinite(start) ? start : levelBetween(pressure, scene.from, scene.from + 0.5);
  return smooth({ times, values: onTimes(pressure, times) }, Math.min(2, pressure.rate / 5)).map(
    (value) => value - base,
  );
}

/** What coolant pressure does in the other pulls after the same share of the pull; 0 where nobody knows. */
function usualRise(scene: PullScene, times: Float64Array): Float64Array {
  const others = besideState(scene, [])
    .slice(0, 6)
    .flatMap((other) => {
      const track = sceneTrack(other, 'coolant-pressure');
      if (!track) return [];
      const scale = (other.to - other.from) / (scene.to - scene.from);
      const at = times.map((t) => other.from + (t - scene.from) * scale);
      return [riseOf(other, track, at)];
    });
  return times.map((_, i) => {
    const usual = middle(others.map((rise) => rise[i]));
    return Number.isFinite(usual) ? usual : 0;
  });
}

/** Pressure that the coolant's own warming explains [Pa]. */
function warming(scene: PullScene, time: number, limits: { 'head-lift.per-kelvin': { value: number } }): number {
  const track = sceneTrack(scene, 'coolant-temperature');
  if (!track) return 0;
  const change = levelBetween(track, time - 0.5, time) - startLevel(scene, 'coolant-temperature');
  return Number.isFinite(change) ? Math.max(0, change) * limits['head-lift.per-kelvin'].value : 0;
}

/** Share by which coolant pressure before the pull is below that of the other pulls; NaN without them. */
function lostShare(scene: PullScene, start: number): number {
  const usual = middle(besideState(scene, []).map((other) => startLevel(other, 'coolant-pressure')));
  return 1 - start / usual;
}

function liftedThere(other: PullScene, limits: { 'head-lift.pressure': { value: number } }): boolean {
  const track = sceneTrack(other, 'coolant-pressure');
  if (!track) return false;
  return (
    largest(riseOf(other, track, gridOf(other, Math.min(50, track.rate)))) > 1.25 * limits['head-lift.pressure'].value
  );
}
