import { against, type Detector, strengthOf, windowsWhere } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { gridOf, levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { largest, middle, smooth } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';

/** Full load from tip-in on that says what the pressure was set to [s], after the first moments. @source our default */
const SETTLED = { from: 0.4, to: 2 } as const;
/** Below this share of its middle the sensor is gone, not the fuel: the engine would have stopped. @source our default */
const GONE = 0.1;
/** A rail that keeps within this of itself while the manifold rises by that much [Pa] is not referenced to it. @source our default */
const UNREFERENCED = { rail: 0.03, manifold: 40e3 } as const;

/** Fuel pressure falling within the pull: over the manifold where it is referenced to it. @source limits: common practice, no source */
export const fuelPressureDrop: Detector = {
  fault: 'fuel-pressure-drop',
  subject: 'fuel',
  needs: [],
  lookAlikes: ['injector-saturation', 'lean-mixture'],
  look: (scene, limits) => {
    const pressure = pressureOf(scene);
    if (!pressure) {
      return {
        why: 'neither fuel pressure over manifold nor rail pressure',
        missing: ['fuel-pressure-difference', 'fuel-pressure'],
      };
    }
    const { times } = pressure;
    const gone = GONE * middle(pressure.values);
    const values = pressure.values.map((value) => (value > gone ? value : Number.NaN));
    const set = setPressure(scene, { times, values });
    const drop = smooth({ times, values }, 2).map((value) => 1 - value / set);
    const limit = limits['fuel-pressure.drop'].value;
    const holds = (i: number): boolean => times[i] > scene.from + SETTLED.from && drop[i] > limit;
    const windows = windowsWhere(scene, { times, holds, shortest: limits['fuel-pressure.shortest'].value, join: 0.2 });
    const top = Math.max(0, largest(drop));
    const features = [against(limits, 'fuel-pressure.drop', top), against(limits, 'fuel-pressure.abort', top)];
    return windows.length > 0
      ? { windows, features, strength: strengthOf(top / limit, 0.72), stopClass: 2 }
      : { features };
  },
};

/** Before tip-in little fuel flows [s before it], and a filter takes nothing of the pressure. @source our default */
const BEFORE = { from: 1.5, to: 0.2 } as const;
/** Earlier pulls that say what the regulator gives when much fuel flows. @source our default */
const USUAL = 5;

/**
 * What the pressure was set to: that of the first moments at full load, or what it had before tip-in less what the regulator gives up in the day's other pulls, whichever is
 * more. A filter that clogs takes pressure from the first moment on.
 */
function setPressure(scene: PullScene, pressure: Pressure): number {
  const early = earlyIn(scene, pressure);
  const others = besideState(scene, ['fuel-pressure-drop', 'wrong-scale', 'swapped-channels'])
    .slice(0, USUAL)
    .flatMap((other) => {
      const there = pressureOf(other);
      return there ? [{ early: earlyIn(other, there), before: beforeTipIn(other) }] : [];
    });
  const kept = middle(others.map((other) => other.early / other.before)) * beforeTipIn(scene);
  // More than the other pulls had under load is another regulator's, not this filter's.
  const usual = Math.min(kept, middle(others.map((other) => other.early)));
  return Number.isFinite(usual) ? Math.max(usual, early) : early;
}

function earlyIn(scene: PullScene, { times, values }: Pressure): number {
  return middle(values.filter((_, i) => times[i] >= scene.from + SETTLED.from && times[i] <= scene.from + SETTLED.to));
}

/** Pressure over the manifold before tip-in, where it is logged as such [Pa]; NaN where it is not. */
function beforeTipIn(scene: PullScene): number {
  const track = sceneTrack(scene, 'fuel-pressure-difference');
  return track ? levelBetween(track, scene.from - BEFORE.from, scene.from - BEFORE.to) : Number.NaN;
}

interface Pressure {
  readonly times: Float64Array;
  readonly values: Float64Array;
}

function pressureOf(scene: PullScene): Pressure | undefined {
  const difference = sceneTrack(scene, 'fuel-pressure-difference');
  if (difference) {
    const times = gridOf(scene, Math.min(100, difference.rate));
    return { times, values: onTimes(difference, times) };
  }
  const rail = sceneTrack(scene, 'fuel-pressure');
  if (!rail) return undefined;
  const times = gridOf(scene, Math.min(100, rail.rate));
  const values = onTimes(rail, times);
  const manifold = sceneTrack(scene, 'manifold-pressure') ?? sceneTrack(scene, 'manifold-gauge-pressure');
  if (!manifold) return undefined;
  const span = { from: scene.from - 1, to: scene.from + SETTLED.to };
  const wide = gridOf(scene, 20, span);
  const [before, after] = [onTimes(rail, wide), onTimes(manifold, wide)];
  const rise = (series: Float64Array): number => middle(series.slice(-10)) - middle(series.slice(0, 10));
  const fixed = rise(after) > UNREFERENCED.manifold && Math.abs(rise(before)) < UNREFERENCED.rail * middle(before);
  if (fixed) return { times, values };
  const pressure = onTimes(manifold, times);
  const ambient = manifold.meaning === 'manifold-pressure' ? ambientPressure(scene) : 0;
  return { times, values: values.map((value, i) => value - (pressure[i] - ambient)) };
}

/** Ambient pressure [Pa]; that of sea level when nobody measured it: only the share of the drop depends on it. */
function ambientPressure(scene: PullScene): number {
  const track = sceneTrack(scene, 'barometric-pressure');
  const level = track ? middle(track.values) : Number.NaN;
  return Number.isFinite(level) ? level : 101325;
}
