import {
  against,
  type Detector,
  informs,
  type Seen,
  strengthOf,
  type Unseen,
  windowOf,
  windowsWhere,
  within,
} from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { pressureBySpeed } from '../../evidence/by-speed.ts';
import { cutEvidence } from '../../evidence/cut.ts';
import { roughness } from '../../evidence/drive.ts';
import { engineUnchanged, powerGap } from '../../evidence/power-gap.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import type { PullScene } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

/** Roughness that lasts to the end of the pull stops within this of it [s]. @source our default */
const TO_THE_END = 0.7;

/**
 * Valve float: rough from one engine speed up to the end, in pulls of different manifold pressure at the same speed, without a cut or a
 * lost trigger. One pull alone cannot tell it from ignition breakup.
 *
 * @source signature: common practice, no source; limits: our default
 */
export const valveFloat: Detector = {
  fault: 'valve-float',
  subject: 'loads',
  needs: ['engine-speed', 'manifold-pressure'],
  lookAlikes: ['ignition-breakup', 'rev-or-torque-cut'],
  look: (scene, limits) => {
    const drive = roughness(scene, limits);
    if (typeof drive === 'string') return { why: drive };
    const here = onsetOf(scene, limits);
    if (!here) return smoothLoss(scene, limits);
    const pressure = middle(pressureBySpeed(scene) ?? []);
    const others = besideState(scene, [])
      .slice(0, 6)
      .filter(
        (other) =>
          Math.abs(Math.log(middle(pressureBySpeed(other) ?? []) / pressure)) >
          limits['valve-float.other-pressure'].value,
      );
    if (others.length === 0)
      return { why: 'rough to the end, but no pull at another manifold pressure to compare the speed of onset with' };
    const onsets = others.flatMap((other) => onsetOf(other, limits) ?? []);
    const alike = onsets.filter(
      ({ speed }) => Math.abs(Math.log(speed / here.speed)) < limits['valve-float.same-speed'].value,
    );
    const features = [
      informs('engine speed of onset', here.speed, 'engine-speed'),
      informs('pulls at other pressures with the same onset', alike.length, 'count'),
      ...(alike[0] ? [against(limits, 'valve-float.same-speed', Math.abs(Math.log(alike[0].speed / here.speed)))] : []),
    ];
    if (alike.length === 0) return { features };
    return { windows: [here.window], features, strength: 0.45 + 0.15 * Math.min(2, alike.length), stopClass: 2 };
  },
};

/** Steps of engine speed at the top that must all be short, and below them that must all be there. @source our default */
const ABOVE = 2;
const BELOW = 4;

/** Power that breaks off from one speed up, at a manifold pressure that does not fall, with a drive too even or too slow to look rough. */
function smoothLoss(scene: PullScene, limits: Limits): Seen | Unseen {
  const gap = powerGap(scene, limits, 'equal');
  if (!gap || gap.gap.length < ABOVE + BELOW) return { features: [] };
  const limit = limits['float.lost'].value;
  let first = gap.gap.length;
  while (first > 0 && -gap.gap[first - 1] > limit / 2) first -= 1;
  const [above, below] = [gap.gap.slice(first), gap.gap.slice(0, first)];
  const lost = -middle(above) + Math.min(0, middle(below));
  const features = [against(limits, 'float.lost', above.length >= ABOVE ? lost : 0)];
  const kept = below.length >= BELOW && Math.abs(middle(below)) < limit / 2;
  const speed = gap.speed[first];
  const quiet = [...cutEvidence(scene, limits).windows, ...syncEvidence(scene).windows].length === 0;
  const { changed } = engineUnchanged(scene, limits);
  if (above.length < ABOVE || !kept || !(lost > limit) || !quiet || changed.length > 0) return { features };
  const at = scene.pull.curve.engineSpeed.findIndex((value) => value >= speed);
  const from = at < 0 ? scene.from : scene.pull.curve.time[at];
  return {
    windows: [windowOf(scene, { from, to: scene.to })],
    features: [...features, informs('engine speed of onset', speed, 'engine-speed')],
    strength: strengthOf(lost / limit, 0.4, 0.6),
    stopClass: 2,
    voids: 'power',
  };
}

function onsetOf(scene: PullScene, limits: Limits) {
  const drive = roughness(scene, limits);
  if (typeof drive === 'string') return undefined;
  const cut = cutEvidence(scene, limits).windows;
  const lost = syncEvidence(scene).windows;
  const windows = windowsWhere(scene, {
    times: drive.times,
    holds: (i) => drive.rough(i) && !within(cut, drive.times[i], 0.4) && !within(lost, drive.times[i], 0.5),
    shortest: 0.3,
    join: 0.5,
  });
  const last = windows[windows.length - 1];
  return last && scene.to - last.to < TO_THE_END && last.lowSpeed > 0
    ? { speed: last.lowSpeed, window: last }
    : undefined;
}
