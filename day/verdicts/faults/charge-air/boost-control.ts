import { against, type Detector, type FaultWindow, strengthOf, windowsWhere } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { type BoostSeries, boostSeries, closingDuty } from '../../evidence/boost.ts';
import { boostExcess, lastingSwing } from '../../evidence/boost-swings.ts';
import { trackBySpeed } from '../../evidence/by-speed.ts';
import { chargeCooled, compressorFails, compressorLack } from '../../evidence/compressor.ts';
import { held } from '../../evidence/references.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import { finite, largest, middle } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

const NO_TARGET = { why: 'missing manifold-target', missing: ['manifold-target'] } as const;

/** Manifold pressure falling away from its target with the wastegate at its end. @source common practice, no source; share: our default */
export const boostDroop: Detector = {
  fault: 'boost-droop',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'manifold-target'],
  lookAlikes: ['boost-leak', 'compressor-choke', 'exhaust-restriction'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    if (!boost?.target) return NO_TARGET;
    const { times, reached } = boost;
    const short = boostExcess(scene, boost, 2).map((value, i) => -value / (boost.target?.[i] ?? Number.NaN));
    const limit = limits['boost-droop.share'].value;
    // A swing that runs into the end of the gate is short in the mean as well.
    const swing = lastingSwing(scene);
    const swinging = (i: number): number =>
      swing && times[i] > swing.from && times[i] < swing.to
        ? (IN_THE_MEAN * swing.amplitude) / (boost.target?.[i] ?? Number.NaN)
        : 0;
    const windows = windowsWhere(scene, {
      times,
      holds: (i) => times[i] > reached + 0.3 && short[i] > limit + swinging(i),
      shortest: limits['boost-droop.shortest'].value,
      join: 0.2,
    });
    const top = largest(short.filter((_, i) => times[i] > reached + 0.3));
    const features = [against(limits, 'boost-droop.share', Math.max(0, top))];
    const steady = windows.filter((window) => targetHolds(boost, window));
    if (steady.length === 0) return { features };
    const [least, most] = compressorLacks(scene, limits, top)
      ? LOOKS_ALIKE
      : [atItsEnd(scene, steady) ? 0.72 : 0.5, 0.85];
    return { windows: steady, features, strength: strengthOf(top / limit, least, most), stopClass: 1 };
  },
};

/** A swing whose crests are cut at the target is short by so many of its amplitudes in the mean. @source our default: by one where only the target cuts them, by more where the gate is late as well */
const IN_THE_MEAN = 1.5;

/** Manifold pressure climbing above its target and staying there: a wastegate that flows too little. @source common practice, no source */
export const boostCreep: Detector = {
  fault: 'boost-creep',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'manifold-target'],
  lookAlikes: ['boost-overshoot'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    if (!boost?.target) return NO_TARGET;
    const { times, reached } = boost;
    const above = boostExcess(scene, boost, 1).map((value, i) => value / (boost.target?.[i] ?? Number.NaN));
    const limit = limits['boost-creep.share'].value;
    const late = reached + (climbsToTheEnd(times, above, limit) ? 0 : RETURNED);
    const top = largest(above.filter((_, i) => times[i] > late));
    const shortest = limits['boost-creep.shortest'].value;
    // What climbs well beyond the limit to the end of the pull would have gone on.
    const climbing = ({ from, to }: FaultWindow): boolean =>
      to > times[times.length - 1] - AT_THE_END && to - from >= CUT_OFF.part * shortest && top > CUT_OFF.beyond * limit;
    const windows = windowsWhere(scene, {
      times,
      holds: (i) => times[i] > late && above[i] > limit,
      shortest: CUT_OFF.part * shortest,
      join: 0.2,
    }).filter((window) => (window.to - window.from >= shortest || climbing(window)) && targetHolds(boost, window));
    const features = [against(limits, 'boost-creep.share', Math.max(0, top))];
    if (windows.length === 0) return { features };
    const opened = gateOpened(scene, windows[0].lowSpeed);
    return {
      windows,
      features,
      strength: strengthOf(top / limit, opened ? 0.74 : 0.5, opened ? 0.92 : 0.85),
      stopClass: 1,
    };
  },
};

/** A creep that the end of the pull cuts off lasts this part of the shortest one at least [1], and is so many times the limit there [1]; the end is so near [s]. @source our default */
const CUT_OFF = { part: 0.3, beyond: 1.3 } as const;
const AT_THE_END = 0.1;

/** What was passed soon after it was reached is an overshoot, which has come back by then [s]. @source our default */
const RETURNED = 2.5;
/** Where the pull ends before that, what has been above for so long [s], above half of the limit for longer [s], and is at its highest to the end has not come back [1]. @source our default */
const CLIMBS = { seconds: 0.6, since: 1.2, of: 0.9 } as const;

function climbsToTheEnd(times: Float64Array, above: Float64Array, limit: number): boolean {
  const end = times[times.length - 1];
  const stays = (seconds: number, least: number): boolean =>
    above.every((value, i) => !(times[i] > end - seconds) || value > least);
  return (
    stays(CLIMBS.seconds, limit) &&
    stays(CLIMBS.since, limit / 2) &&
    middle(above.slice(-5)) > CLIMBS.of * largest(above)
  );
}

/** True when the control opens the wastegate much further there than in other pulls: the pressure is there although it is not wanted. */
function gateOpened(scene: PullScene, fromSpeed: number): boolean {
  const duty = sceneTrack(scene, 'wastegate-duty');
  if (!duty) return false;
  const others = besideState(scene, ['boost-creep', 'boost-leak']).flatMap((other) => {
    const same = sceneTrack(other, 'wastegate-duty');
    return same ? [trackBySpeed(other, same)] : [];
  });
  const compared = held(trackBySpeed(scene, duty), others);
  const moved = compared?.speed.map((speed, i) =>
    speed < fromSpeed ? Number.NaN : compared.here[i] - compared.there[i],
  );
  return closingDuty(scene) * middle(moved ?? []) < -OPENED;
}

/** Duty that has gone this far towards opening has been moved by the control [1]. @source our default */
const OPENED = 0.06;

/** Strength where the compressor lacks, not what drives it [1]. @source our default */
const LOOKS_ALIKE = [0.4, 0.5] as const;
/** A turbine that turns its compressor more slowly leaves the charge cooler by so much at least for all of its pressure [K]. @source our default: a third of what a cooler of 0.7 lets through */
const COOLS = 10;

/** True when the wheel turns no slower than the pressure lacks, or where no wheel speed tells, the charge is heated no less: the turbine does its part then, and a compressor or a leak does not. */
function compressorLacks(scene: PullScene, limits: Limits, short: number): boolean {
  const lack = compressorLack(scene);
  if (lack) return compressorFails(lack, limits['choke.speed-rises'].value);
  return chargeCooled(scene) < COOLS * short;
}

/** A target that itself moves by more than 5 % within the window is being followed, not missed. @source our default */
function targetHolds({ times, target }: BoostSeries, { from, to }: { from: number; to: number }): boolean {
  const inside = finite((target ?? new Float64Array(0)).filter((_, i) => times[i] >= from - 0.3 && times[i] <= to));
  return Math.max(...inside) < 1.05 * Math.min(...inside);
}

/** Wastegate duty or position at one end of what it did in this pull; false when not logged. */
function atItsEnd(scene: PullScene, windows: readonly { readonly from: number; readonly to: number }[]): boolean {
  const gate = sceneTrack(scene, 'wastegate-duty') ?? sceneTrack(scene, 'wastegate-position');
  if (!gate) return false;
  const at = Float64Array.from(
    { length: 21 },
    (_, k) => windows[0].from + ((windows[0].to - windows[0].from) * k) / 20,
  );
  const value = middle(onTimes(gate, at));
  return value > 0.93 || value < 0.07;
}
