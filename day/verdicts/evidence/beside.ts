import type { Fault } from '../fault.ts';
import { differingSettings, pressureApart } from '../scene/entry.ts';
import type { PullScene } from '../scene/scene.ts';
import { middle } from '../scene/series.ts';
import { pressureBySpeed } from './by-speed.ts';

/** Pulls that one is held against, at most. @source our default */
const MOST = 18;
/** Gears are the same within this [1]. @source our default */
const SAME_GEAR = 0.03;
/** A pressure setting is what the manifold shows when the two differ by no more than this share of themselves. @source our default */
const SHOWN = 0.5;

/** Faults that take power from a pull: it is no measure for another one's. @source common practice, no source */
export const TAKES_POWER: readonly Fault[] = [
  ...(['wheel-slip', 'clutch-slip', 'converter-slip', 'driveline-loss-rising'] as const),
  ...(['ignition-breakup', 'spark-energy', 'lost-sync', 'rev-or-torque-cut', 'knock', 'pre-ignition'] as const),
  ...(['lean-mixture', 'rich-mixture', 'fuel-pressure-drop', 'injector-saturation', 'cam-not-tracking'] as const),
  ...(['boost-leak', 'surge', 'exhaust-restriction', 'head-lift', 'valve-float', 'crankcase-pressure'] as const),
  ...(['power-shortfall', 'wrong-scale'] as const),
];

/** Earlier pulls that may say what power this one should make: same gear, parts and settings, themselves unspoiled. */
export function besidePower(scene: PullScene): readonly PullScene[] {
  return scene.references
    .filter(
      (other) =>
        sameGear(scene, other) &&
        sameParts(scene, other) &&
        !isSpoiled(other, TAKES_POWER) &&
        otherSettings(scene, other).length === 0,
    )
    .slice(0, MOST);
}

/**
 * Pulls that may say what a pressure, a temperature or a speed of the engine should be here: of the same gear and not spoiled in that respect.
 * Those since the last change of parts; where there is none yet, those before it.
 */
export function besideState(scene: PullScene, spoiling: readonly Fault[]): readonly PullScene[] {
  const usable = scene.references.filter((other) => sameGear(scene, other) && !isSpoiled(other, spoiling));
  const since = usable.filter((other) => sameParts(scene, other));
  return (since.length > 0 ? since : usable).slice(0, MOST);
}

/** True when the pulls of {@link besideState} all lie before the last change of parts. */
export function changedSince(scene: PullScene, spoiling: readonly Fault[]): boolean {
  const [nearest] = besideState(scene, spoiling);
  return nearest !== undefined && !sameParts(scene, nearest);
}

/** Why no earlier pull can say what power this one should make. */
export function whyNoPower(scene: PullScene): string {
  if (scene.references.length === 0) return 'no earlier pull';
  const alike = scene.references.filter((other) => sameGear(scene, other));
  if (alike.length === 0) return 'no earlier pull in the same gear';
  const since = alike.filter((other) => sameParts(scene, other));
  if (since.length === 0) return 'no earlier pull since parts were changed';
  const clean = since.filter((other) => !isSpoiled(other, TAKES_POWER));
  if (clean.length === 0) {
    const spoiled = new Set(since.flatMap((other) => other.spoiled.filter((fault) => TAKES_POWER.includes(fault))));
    return `the earlier pulls were spoiled themselves: ${[...spoiled].join(', ')}`;
  }
  const differing = new Set(clean.flatMap((other) => otherSettings(scene, other)));
  return differing.size > 0
    ? `the earlier pulls had other settings: ${[...differing].join(', ')}`
    : 'no earlier pull with power at a manifold pressure near enough to compare with';
}

function isSpoiled(other: PullScene, spoiling: readonly Fault[]): boolean {
  return other.spoiled.some((fault) => spoiling.includes(fault));
}

function sameGear(scene: PullScene, other: PullScene): boolean {
  const [here, there] = [scene.pull.segment.ratio, other.pull.segment.ratio];
  return here === undefined || there === undefined || Math.abs(Math.log(there / here)) < SAME_GEAR;
}

function sameParts(scene: PullScene, other: PullScene): boolean {
  return scene.block === undefined || other.block === undefined || scene.block === other.block;
}

/** Settings that differ and are no pressure that the manifold shows: that one is allowed for by what was measured. */
function otherSettings(scene: PullScene, other: PullScene): readonly string[] {
  const differing = differingSettings(scene.settings, other.settings);
  if (differing.length === 0) return [];
  const [here, there] = [pressureBySpeed(scene), pressureBySpeed(other)];
  const shown = here && there ? middle(here.map((value, k) => value - there[k])) : Number.NaN;
  return differing.filter((name) => {
    const set = pressureApart(scene.settings[name], other.settings[name]);
    return !(Math.abs(shown - set) < SHOWN * Math.abs(set));
  });
}
