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
import { besidePower, besideState, TAKES_POWER } from '../../evidence/beside.ts';
import { burstsOf } from '../../evidence/bursts.ts';
import { FINE_STEP, powerFinely, pressureBySpeed, SPEED_STEP } from '../../evidence/by-speed.ts';
import { cutEvidence } from '../../evidence/cut.ts';
import { roughness } from '../../evidence/drive.ts';
import { lambdas } from '../../evidence/lambda.ts';
import { mixtureLoss } from '../../evidence/mixture-loss.ts';
import { overrunRise } from '../../evidence/overrun-rise.ts';
import { atEqualPressure, heldAgainst } from '../../evidence/references.ts';
import { slipAt } from '../../evidence/slip-beside.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import { finite, largest, mean, middle } from '../../scene/series.ts';
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
    const loss = smoothLoss(scene, limits);
    if (others.length === 0)
      return 'windows' in loss
        ? loss
        : { why: 'rough to the end, but no pull at another manifold pressure to compare the speed of onset with' };
    const onsets = others.flatMap((other) => onsetOf(other, limits) ?? []);
    const alike = onsets.filter(
      ({ speed }) => Math.abs(Math.log(speed / here.speed)) < limits['valve-float.same-speed'].value,
    );
    const features = [
      informs('engine speed of onset', here.speed, 'engine-speed'),
      informs('pulls at other pressures with the same onset', alike.length, 'count'),
      ...(alike[0] ? [against(limits, 'valve-float.same-speed', Math.abs(Math.log(alike[0].speed / here.speed)))] : []),
    ];
    if (alike.length === 0) return 'windows' in loss ? loss : { features };
    return { windows: [here.window], features, strength: 0.45 + 0.15 * Math.min(2, alike.length), stopClass: 2 };
  },
};

/** Fine steps of engine speed at the top that must all be short, and below them that must all be there. @source our default: 24 rad/s and 80 rad/s */
const ABOVE = 3;
const BELOW = 10;
/** Steps before the onset, and what may be lost there already of what is lost above it [1]. @source our default */
const BEFORE = { from: 8, to: 2 } as const;
const CREEPS = 0.17;
/** The lower part of the speeds that says how strong the pull is as a whole, and how far it may be off [1]. @source our default */
const LOWER = 0.6;
const REPEATS = 0.03;
/** The loss must stand out of the scatter below it by so many standard deviations of its own mean. @source our default: one in ten thousand pulls by chance, for some ten places where it may begin */
const STANDS_OUT = 4.5;
/** Power of a pull changes by this for each share of its manifold pressure [1]. @source simple engine model near 200 kPa */
const BY_PRESSURE = 0.9;

/** Springs hold the valves at lower speeds than this share of the redline [1]. @source common practice, no source */
const FAST = 0.75;

/** Power that breaks off from one speed up, at a manifold pressure that does not fall, with a drive too even or too slow to look rough. */
function smoothLoss(scene: PullScene, limits: Limits): Seen | Unseen {
  const others = atEqualPressure(scene, limits, besidePower(scene));
  const gap = fineGap(scene, others);
  if (gap.short.length < ABOVE + BELOW) return { features: [] };
  const limit = limits['float.lost'].value;
  const { usual, short } = gap;
  let first = short.length;
  while (first > 0 && short[first - 1] > limit / 2) first -= 1;
  const [above, below] = [short.slice(first), short.slice(0, first)];
  // Valves float more and more over the first few steps: the later half says how much.
  const lost = middle(above.slice(Math.floor(above.length / 2)));
  const features = [against(limits, 'float.lost', above.length >= ABOVE ? lost : 0)];
  const kept = below.length >= BELOW && Math.abs(middle(below)) < limit / 2 && Math.abs(usual) < REPEATS;
  const speed = gap.speed[first];
  const repeats = limits['loss-rising.repeatability'].value;
  const sure =
    lost > STANDS_OUT * scatterOf(below) * Math.sqrt(2 / Math.max(1, above.length)) &&
    lost > APART * scatterAbove(others, speed, repeats);
  // Springs give way at one speed; what takes more the more flows has taken some of it well before.
  const sharp = mean(below.slice(-BEFORE.from, -BEFORE.to)) < CREEPS * lost;
  const at = scene.pull.curve.engineSpeed.findIndex((value) => value >= speed);
  const from = at < 0 ? scene.from : scene.pull.curve.time[at];
  const events = [...cutEvidence(scene, limits).windows, ...syncEvidence(scene).windows];
  const quiet = events.length === 0 && !isRoughBefore(scene, limits, from);
  const fast = !(speed < FAST * (scene.facts.engine.redline?.value ?? Number.NaN));
  const found =
    above.length >= ABOVE && kept && lost > limit && largest(above) < MOST && sure && sharp && quiet && fast;
  if (!found || isDragging(scene, lost) || changedAbove(scene, limits, { speed, lost })) return { features };
  return {
    windows: [windowOf(scene, { from, to: scene.to })],
    features: [...features, informs('engine speed of onset', speed, 'engine-speed')],
    strength:
      strengthOf(lost / limit, watched(scene) ? 0.72 : 0.55, 0.85) * (lambdaSwings(scene, from) ? SWINGS.left : 1),
    stopClass: 2,
    voids: 'power',
  };
}

/** A drive that was rough, or misfired, well before the onset fails for another reason [s]. @source our default */
const WELL_BEFORE = 0.5;

function isRoughBefore(scene: PullScene, limits: Limits, onset: number): boolean {
  const [drive, bursts] = [roughness(scene, limits), burstsOf(scene, limits)];
  const rough =
    typeof drive === 'string'
      ? []
      : windowsWhere(scene, { times: drive.times, holds: drive.rough, shortest: 0.3, join: 0.2 });
  const misfired = typeof bursts === 'string' || !bursts.confirmed ? [] : bursts.windows;
  return [...rough, ...misfired].some(({ to }) => to < onset - WELL_BEFORE);
}

/** As long as each other; usual: gap of the lower speeds [1]. */
interface FineGap {
  readonly speed: readonly number[];
  readonly short: readonly number[];
  readonly usual: number;
}

/** The loss must stand out of what the other pulls differ by from one another at the same speeds, in standard deviations. @source our default */
const APART = 3;
/** The usual repeatability counts as so many pulls beside those of the day. @source our default */
const USUAL_WEIGHS = 3;

/** What each of the other pulls lacks from a speed on beside the rest of them, as a standard deviation [1]: the ends of a curve scatter more than its middle, and neighbouring steps share it. */
function scatterAbove(others: readonly PullScene[], speed: number, usual: number): number {
  const lost = others.flatMap((other) => {
    const gap = fineGap(
      other,
      others.filter((one) => one !== other),
    );
    const above = gap.short.filter((_, i) => gap.speed[i] >= speed);
    const later = middle(above.slice(Math.floor(above.length / 2)));
    return Number.isFinite(later) ? [later] : [];
  });
  // Each is held against the middle of the rest, as this pull is against all of them.
  const squares = lost.reduce((sum, each) => sum + each ** 2, USUAL_WEIGHS * usual ** 2);
  return Math.sqrt((squares / (USUAL_WEIGHS + lost.length)) * (1 + 1 / Math.max(1, others.length)));
}

/** Power here over that of the other pulls at equal pressure, in fine steps of engine speed: what is missing beside the lower speeds, which are usual apart from a share [1]. */
function fineGap(scene: PullScene, others: readonly PullScene[]): FineGap {
  const here = powerFinely(scene);
  const more = others.map((other) => morePressure(scene, other));
  const found = [...here].flatMap((power, k) => {
    const coarse = Math.round((k * FINE_STEP) / SPEED_STEP);
    // Where nobody knows the pressure nobody knows what power it should have given.
    const ratios = others.map(
      (other, o) => power / powerFinely(other)[k] / (1 + BY_PRESSURE * (more[o][coarse] ?? Number.NaN)),
    );
    const ratio = middle(ratios.filter(Number.isFinite));
    return ratio > 0 ? [{ speed: k * FINE_STEP, ratio }] : [];
  });
  // What slips away between engine and rolls is not missing from the engine.
  const slip = slipAt(
    scene,
    found.map(({ speed }) => speed),
    FINE_STEP,
  );
  const rows = found.map(({ speed, ratio }, i) => ({ speed, gap: ratio / (1 - slip[i]) - 1 }));
  const usual = middle(rows.slice(0, Math.ceil(LOWER * rows.length)).map(({ gap }) => gap));
  const short = rows.map(({ gap }) => usual - gap);
  // One step that is off is no end of the loss.
  const steady = short.map((value, i) => (i > 0 && i < short.length - 1 ? middle(short.slice(i - 1, i + 2)) : value));
  return { speed: rows.map(({ speed }) => speed), short: steady, usual };
}

/** Steps on either side that the ratio of two pressures is told from: pulsation makes single steps uneven. @source our default: 60 rad/s in all */
const EVEN = 1;

/** How much more manifold pressure a pull has than another at each step of engine speed [1]; NaN where one of the two is not known. */
function morePressure(scene: PullScene, other: PullScene): readonly number[] {
  const [here, there] = [pressureBySpeed(scene), pressureBySpeed(other)];
  if (!here || !there) return [];
  const ratios = [...here].map((value, k) => value / there[k] - 1);
  return ratios.map((ratio, k) =>
    Number.isFinite(ratio) ? middle(ratios.slice(Math.max(0, k - EVEN), k + EVEN + 1)) : ratio,
  );
}

/** Scatter of a step against those before and after it [1]: a slow drift over the speeds is none. */
function scatterOf(short: readonly number[]): number {
  const slow = short.map((_, i) => middle(short.slice(Math.max(0, i - 4), i + 5)));
  const squares = short.map((value, i) => (value - slow[i]) ** 2);
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / Math.max(1, squares.length - 1));
}

/** Lambda that scatters by so many times its noise, and by this, while power is lost: firings do not burn, which a limiter and a weak spark do as well; what is left of the strength then [1]. @source lambda swings: common practice, no source; rest: our default */
const SWINGS = { noise: 4, least: 0.02, left: 0.65 } as const;
/** The first and the last of the loss are not looked at: lambda tells late [s]. @source our default */
const SETTLED = { after: 0.2, before: 0.4 } as const;

function lambdaSwings(scene: PullScene, from: number): boolean {
  return lambdas(scene).some(({ times, values, noise }) => {
    const inside = finite(
      values.filter((_, i) => times[i] > from + SETTLED.after && times[i] < scene.to - SETTLED.before),
    );
    const level = mean(inside);
    const scatter = Math.sqrt(mean(inside.map((value) => (value - level) ** 2)));
    return scatter > Math.max(SWINGS.noise * noise, SWINGS.least);
  });
}

/** True when mixture and timing, which would take power from one speed up as well, are logged. */
function watched(scene: PullScene): boolean {
  const { ignition } = scene.facts.engine;
  const asked = ignition === 'compression' ? ['lambda' as const] : (['lambda', 'ignition-timing'] as const);
  return asked.every((meaning) => sceneTrack(scene, meaning) !== undefined);
}

/** A larger loss from one speed up is a cut or a gross fault rather than valves that begin to float [1]. @source our default */
const MOST = 0.25;
/** True when the drag of the driveline rose by a good part of what is lost: it grows with speed, too. */
function isDragging(scene: PullScene, lost: number): boolean {
  const rise = overrunRise(scene);
  return typeof rise !== 'string' && rise.deviations > DEVIATIONS && rise.share > DRAGS * lost;
}

/** Of the spread of the drag; and the part of the loss. @source our default */
const DEVIATIONS = 2.5;
const DRAGS = 0.3;

/** What would have taken the power there as well, and how far it may differ. @source our default */
const OTHERWISE = [
  { meaning: 'manifold-pressure', by: 'ratio', limit: 0.025 },
  { meaning: 'lambda', by: 'difference', limit: 0.02 },
  { meaning: 'ignition-timing', by: 'difference', limit: 0.0175 },
  { meaning: 'knock-retard', by: 'difference', limit: 0.0175 },
  { meaning: 'fuel-pressure-difference', by: 'ratio', limit: 0.05 },
  { meaning: 'fuel-pressure', by: 'ratio', limit: 0.05 },
  { meaning: 'exhaust-pressure', by: 'ratio', limit: 0.06 },
  { meaning: 'coolant-pressure', by: 'difference', limit: 12e3 },
  { meaning: 'battery-voltage', by: 'difference', limit: 0.4 },
  { meaning: 'coil-current', by: 'ratio', limit: 0.04 },
  { meaning: 'cam-angle', by: 'difference', limit: 0.0175 },
] as const;

/** True when something else changed against earlier pulls from a speed on; a mixture that can have taken but little of what was lost does not count. */
function changedAbove(
  scene: PullScene,
  limits: Limits,
  { speed, lost }: { readonly speed: number; readonly lost: number },
): boolean {
  return OTHERWISE.some(({ meaning, by, limit }) => {
    const held = heldAgainst(scene, limits, { meaning, spoiling: TAKES_POWER });
    if (!held) return false;
    const rows = held.speed.flatMap((at, i) => (at < speed ? [] : [{ here: held.here[i], there: held.there[i] }]));
    // As of the loss, the later half says how much.
    const late = rows.slice(Math.floor(rows.length / 2));
    const apart = middle(late.map(({ here, there }) => (by === 'ratio' ? here / there - 1 : here - there)));
    if (!(Math.abs(apart) > limit)) return false;
    const mixed = scene.facts.engine.ignition !== 'compression' && meaning === 'lambda';
    return !(mixed && middle(late.map(mixtureLoss)) < LITTLE * lost);
  });
}

/** Part of the loss that another cause may have had, and the valves still be behind the rest [1]. @source our default */
const LITTLE = 0.4;

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
