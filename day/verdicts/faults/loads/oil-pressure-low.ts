import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { type BySpeed, trackBySpeed } from '../../evidence/by-speed.ts';
import { longestHold } from '../../evidence/holds.ts';
import { endLevel, held } from '../../evidence/references.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** Oil temperatures further apart than this cannot be bridged by a rule of thumb [K]; less for the first pull, which stands alone. @source our default */
const BRIDGED = { nearest: 25, first: 10 } as const;
/** Neighbouring steps of engine speed that must agree. @source our default */
const STEPS = 5;

/**
 * Oil pressure below that of the day's other pulls at equal engine speed, oil temperature allowed for. A drop shorter than several
 * steps of engine speed is no loss of pressure.
 *
 * @source limits and temperature share: common practice, no source
 */
export const oilPressureLow: Detector = {
  fault: 'oil-pressure-low',
  subject: 'loads',
  needs: ['oil-pressure', 'engine-speed'],
  lookAlikes: [],
  look: (scene, limits) => {
    const logged = sceneTrack(scene, 'oil-pressure');
    const track = logged && withoutFlat(scene, logged, limits);
    const beside = besideState(scene, ['oil-pressure-low', 'wrong-scale']);
    // A pressure that falls pull after pull has fallen in the nearest ones as well: the first ones still know it.
    const lacks = [
      { others: beside.slice(0, NEAREST), bridged: BRIDGED.nearest },
      { others: beside.slice(-1), bridged: BRIDGED.first },
    ].flatMap((asked) => (track ? (lackIn(scene, limits, { track, ...asked }) ?? []) : []));
    const worst = lacks.sort((one, other) => other.top - one.top)[0];
    if (!worst) return { why: 'no other pull to compare the oil pressure with at equal speed and temperature' };
    const { top, low, others } = worst;
    const limit = limits['oil-pressure.note'].value;
    const features = [
      against(limits, 'oil-pressure.note', top),
      against(limits, 'oil-pressure.hold', top),
      against(limits, 'oil-pressure.stop', top),
      informs('pulls compared with', others, 'count'),
    ];
    if (low.length < STEPS) return { features };
    const stopClass = top > limits['oil-pressure.stop'].value ? 3 : top > limits['oil-pressure.hold'].value ? 2 : 0;
    const window = { ...windowOf(scene, scene), lowSpeed: Math.min(...low), highSpeed: Math.max(...low) };
    return { windows: [window], features, strength: strengthOf(top / limit, 0.65), stopClass };
  },
};

/** The nearest pulls that are compared with; the first of the day, or since the last change of parts, is held against as well. @source our default */
const NEAREST = 6;

/** What is missing of the pressure of other pulls: the most over several steps of engine speed [1], and the speeds at which it passes the limit [rad/s]. */
function lackIn(
  scene: PullScene,
  limits: Limits,
  {
    track,
    others,
    bridged,
  }: { readonly track: SceneTrack; readonly others: readonly PullScene[]; readonly bridged: number },
): { readonly top: number; readonly low: readonly number[]; readonly others: number } | undefined {
  const known = others.flatMap((other) => expected(scene, other, { limits, bridged }));
  const compared = held(trackBySpeed(scene, track), known);
  if (!compared) return undefined;
  const short = compared.here.map((value, i) => 1 - value / compared.there[i]);
  const lasting = short.map((_, i) => middle(short.slice(Math.max(0, i - 2), i + 3)));
  const limit = limits['oil-pressure.note'].value;
  const low = compared.speed.filter((_, i) => lasting[i] > limit);
  return { top: Math.max(...lasting), low, others: known.length };
}

/** The same track without the value that it is held at: a sensor at its end or stuck says nothing of the oil. */
function withoutFlat(scene: PullScene, track: SceneTrack, limits: Limits): SceneTrack {
  const flat = longestHold(scene, track);
  if (!flat || !(flat.chance < limits['stuck.chance'].value)) return track;
  return { ...track, values: track.values.map((value) => (value === flat.value ? Number.NaN : value)) };
}

/** Oil pressure of another pull by engine speed, brought to this pull's oil temperature. */
function expected(
  scene: PullScene,
  other: PullScene,
  { limits, bridged }: { readonly limits: Limits; readonly bridged: number },
): BySpeed[] {
  const track = sceneTrack(other, 'oil-pressure');
  if (!track) return [];
  const warmer = endLevel(scene, 'oil-temperature') - endLevel(other, 'oil-temperature');
  if (Math.abs(warmer) > bridged) return [];
  // Hotter oil explains a lower pressure; colder oil must not invent a fault, so it raises nothing.
  const factor = Number.isFinite(warmer) ? 1 - limits['oil-pressure.per-kelvin'].value * Math.max(0, warmer) : 1;
  return [trackBySpeed(other, track).map((value) => value * factor)];
}
