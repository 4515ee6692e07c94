import { indexAtOrAfter } from '../../../core/numerics/index.ts';
import { keptOf } from '../scene/memory.ts';
import type { PullScene } from '../scene/scene.ts';
import { finite, middle, runningQuantile, type Series } from '../scene/series.ts';
import type { SceneTrack } from '../scene/track.ts';
import { driveForce } from './drive.ts';
import { lambdas, SETTLES } from './lambda.ts';

/**
 * Renewals that a drive and a lambda need to show a single burst, and from which on a lambda shows every one [Hz]; between the two a reading in which one stands
 * out counts while it is no more than `single`, beyond which a reading is false rather than a mixture [1]. @source our default: lambda falls back within 60 ms
 */
const SLOWEST = { drive: 15, lambda: 8, every: 19, single: 0.2 } as const;
/** The level a pulse stands out from, as a quantile within ± `half` [s]; what lies beyond it on the other side gives the noise. @source our default */
const LEVEL = { lambda: { half: 0.7, probability: 0.35 }, drive: { half: 0.4, probability: 0.4 } } as const;
/** Normal deviates of the quantiles that noise is taken from. @source normal distribution */
const DEVIATES = { 0.05: 1.645, 0.35: 0.385, 0.4: 0.253 } as const;
/** A pulse is above `each` deviations throughout, above `over` for all its samples together, and over within `longest` [s]; one of lambda has so many samples; its
 * end within `tail` [s] counts with it. @source our default: five deviations are passed by chance in one of three million */
const PULSE = { each: 2, over: 5, longest: 0.6, samples: 2, tail: 0.1 } as const;
/** What is left of a pulse's height around it when it is over, at most [1]. @source our default */
const BACK = 0.5;
/** Least that a lambda sensor is taken to scatter by [1]. @source our default: a sensor at the end of its scale does not scatter at all */
const STEADY = 0.0035;
/** A loss of drive stands out by so many deviations, for so long [s], and by so much more than what earlier pulls had at the same time. @source our default: a driveline swings from tip-in in every pull alike */
const DRIVE = { over: 9, longest: 0.3, beyond: 2.5, near: 0.4, references: 4 } as const;
/** Tip-in and lift-off swing the driveline [s]; a loss begins so much later; where no earlier pull says how, for longer; lambda feels lift-off by as much as its delay is unsure. @source our default */
const SWINGS = { after: 0.8, begins: 0.1, alone: 2, before: 0.5, lambda: 0.35 } as const;
/** Lambda shows what the drive lost within this [s]. @source our default */
const NEAR = 0.25;

/** Firings that did not burn, as one signal shows them. from, to: s; area: time's worth of firings [s]; height: peak [1]; over: peak over the noise [1]. */
export interface Pulse {
  readonly from: number;
  readonly to: number;
  readonly area: number;
  readonly height: number;
  readonly over: number;
}

/** lambda, drive: pulses of each; undefined where it is too slow or unknown. every: lambda is fast enough to show each burst. */
export interface Unlit {
  readonly every: boolean;
  readonly lambda: readonly Pulse[] | undefined;
  readonly drive: readonly Pulse[] | undefined;
}

/**
 * Firings that did not burn, burst by burst, told from noise by what only they do: lambda goes lean and comes back, the drive is lost and comes back, and
 * neither ever the other way round. So the noise is taken from the other side. A share of the firings that passes unburnt raises lambda and lowers the drive by
 * that share.
 *
 * @source λ/(1 − m) for a share m of the charge that does not burn: balance of oxygen
 */
export const unlitFirings: (scene: PullScene) => Unlit = keptOf((scene) => {
  const fast = lambdas(scene).filter(({ rate }) => rate >= SLOWEST.lambda);
  const known = fast.flatMap((track) => lambdaPulses(scene, track) ?? []);
  const lambda = known.length > 0 ? known.flat() : undefined;
  return {
    lambda,
    drive: drivePulses(scene),
    every: known.length > 0 && fast.some(({ rate }) => rate >= SLOWEST.every),
  };
});

/** True when a pulse of lambda and one of the drive belong to the same firings. */
export function agree(one: Pulse, other: Pulse): boolean {
  return other.from <= one.to + NEAR && other.to >= one.from - NEAR;
}

/** Lambda that rises by so much, and the drive that is lost to so much of it: every cylinder stopped [1]. @source our default: single cylinders of four leave half of that */
const ALL = { lambda: 0.3, drive: 0.6 } as const;
/** Stops that come nearer than this repeat: a limiter [s]. @source common practice, no source: 5–20 Hz */
const REPEATS = 0.6;

/** Single stops of all cylinders at once: air alone passes lambda, and the drive is gone, for a moment. */
export const fullStops: (scene: PullScene) => readonly Pulse[] = keptOf((scene) => {
  const { lambda = [] } = unlitFirings(scene);
  const losses = driveLosses(scene) ?? [];
  const stops = lambda.filter(
    (one) => one.height > ALL.lambda && losses.some((other) => other.height > ALL.drive && agree(one, other)),
  );
  const near = (one: Pulse, other: Pulse): boolean =>
    one !== other && one.from < other.to + REPEATS && other.from < one.to + REPEATS;
  return stops.filter((one) => !lambda.some((other) => near(one, other)));
});

/** Largest share of the firings of one second that did not burn [1]. */
export function worstSecond(pulses: readonly Pulse[]): number {
  return Math.max(
    0,
    ...pulses.map(({ from }) =>
      pulses.filter((other) => other.from >= from && other.from < from + 1).reduce((sum, { area }) => sum + area, 0),
    ),
  );
}

function lambdaPulses(scene: PullScene, track: SceneTrack): readonly (readonly Pulse[])[] | undefined {
  const first = track.times.findIndex((t) => t >= scene.from + SETTLES);
  const last = track.times.findLastIndex((t) => t <= scene.to - SWINGS.lambda);
  if (first < 0 || last - first < SLOWEST.drive) return undefined;
  const times = track.times.subarray(first, last + 1);
  const values = track.values.subarray(first, last + 1);
  const level = runningQuantile({ times, values }, LEVEL.lambda.half, LEVEL.lambda.probability);
  const rest = values.map((value, i) => value / level[i] - 1);
  const noise = Math.max(STEADY, track.noise / middle(level), otherSide(rest, LEVEL.lambda.probability));
  const pulses = pulsesIn({ times, values: rest }, noise, PULSE.longest);
  const single = track.rate < SLOWEST.every ? SLOWEST.single : 0;
  const levelAt = (time: number): number =>
    level[Math.max(0, Math.min(last - first, indexAtOrAfter(times, { from: 0, to: times.length }, time)))];
  // A mixture that goes lean to stay is no firing that did not burn, nor is what came before one that goes rich to stay.
  const comesBack = ({ from, to, height }: Pulse): boolean =>
    !(Math.abs(levelAt(to + LEVEL.lambda.half) / levelAt(from - LEVEL.lambda.half) - 1) > BACK * height);
  return [pulses.filter((one) => (one.samples >= PULSE.samples || one.height < single) && comesBack(one))];
}

function drivePulses(scene: PullScene): readonly Pulse[] | undefined {
  const own = driveLosses(scene);
  if (!own) return undefined;
  const others = scene.references.slice(0, DRIVE.references).flatMap((other) => {
    const losses = driveLosses(other);
    return losses ? [losses.map((one) => ({ ...one, from: one.from - other.from, to: one.to - other.from }))] : [];
  });
  // What was low already when looking began is the end of a swing from tip-in.
  const earliest = scene.from + (others.length > 0 ? SWINGS.after + SWINGS.begins : SWINGS.alone);
  return own.filter((one) => {
    const [from, to] = [one.from - scene.from, one.to - scene.from];
    const usual = others.map((losses) =>
      Math.max(
        0,
        ...losses
          .filter((other) => other.from < to + DRIVE.near && other.to > from - DRIVE.near)
          .map(({ area }) => area),
      ),
    );
    const known = usual.length > 0 ? middle(usual) : 0;
    return one.from > earliest && one.over >= DRIVE.over && one.area > DRIVE.beyond * known;
  });
}

/** Every loss of drive of a pull that stands out of its noise. */
const driveLosses: (scene: PullScene) => readonly Pulse[] | undefined = keptOf((scene) => {
  const drive = driveForce(scene);
  if (!drive || 1 / (drive.times[1] - drive.times[0]) < SLOWEST.drive) return undefined;
  const values = drive.values.map((value, i) =>
    drive.times[i] >= scene.from + SWINGS.after && drive.times[i] <= scene.to - SWINGS.before ? value : Number.NaN,
  );
  const level = runningQuantile({ times: drive.times, values }, LEVEL.drive.half, 1 - LEVEL.drive.probability);
  const rest = values.map((value, i) => 1 - value / level[i]);
  return pulsesIn({ times: drive.times, values: rest }, otherSide(rest, LEVEL.drive.probability), DRIVE.longest);
});

/** Deviation of normal noise whose lower part looks like that of some values around a level that is their quantile. */
function otherSide(rest: Float64Array, probability: 0.35 | 0.4): number {
  const sorted = finite(rest).sort((a, b) => a - b);
  const at = (part: number): number => sorted[Math.floor(part * sorted.length)];
  return sorted.length < 20 ? Number.NaN : (at(probability) - at(0.05)) / (DEVIATES[0.05] - DEVIATES[probability]);
}

function pulsesIn(
  { times, values }: Series,
  noise: number,
  longest: number,
): readonly (Pulse & { readonly samples: number })[] {
  const step = (times[times.length - 1] - times[0]) / (times.length - 1);
  const pulses: (Pulse & { readonly samples: number })[] = [];
  for (let i = 0; i < values.length; i++) {
    const start = i;
    let [sum, peak] = [0, 0];
    for (; i < values.length && values[i] > PULSE.each * noise; i++) {
      sum += values[i];
      peak = Math.max(peak, values[i]);
    }
    const samples = i - start;
    const stands = sum > PULSE.over * noise * Math.sqrt(samples) && peak > 0.8 * PULSE.over * noise;
    if (!(samples > 0 && stands && samples * step < longest)) continue;
    const [from, to] = [times[start], times[i - 1]];
    for (; i < values.length && values[i] > 0 && values[i] <= PULSE.each * noise && times[i] < to + PULSE.tail; i++)
      sum += values[i];
    pulses.push({ from, to, area: sum * step, height: peak, over: peak / noise, samples });
    i -= 1;
  }
  return pulses;
}
