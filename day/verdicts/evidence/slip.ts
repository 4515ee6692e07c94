import { kept, keptOf } from '../scene/memory.ts';
import { gridOf, type PullScene, speedsAt } from '../scene/scene.ts';
import { finite, middle, runningQuantile, smooth } from '../scene/series.ts';
import { onTimes } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';
import { besideState } from './beside.ts';
import { driveForce, rollSpeed } from './drive.ts';

/** Slip is judged on at most this grid [Hz]; the first moments after tip-in wind the driveline up [s]. @source our default */
const FINEST = 50;
const AFTER_START = 0.3;

/** A reference belongs to a pull's gear when the two ratios agree within this share; the clutch takes up while engine speed is further ahead than `free`, and is home within `home` [1]. @source our default: gears are further apart, tyres seldom slip so much from the start */
const SAME_GEAR = 0.1;
const TAKES_UP = { free: 0.15, home: 0.05 } as const;

/**
 * How far engine speed over roll speed leaves what creep explains [1], on `times` [s].
 * doubt: what noise and the clocks' uncertainty can make of it [1], as long as `times`. relative: no low-force ratio was known.
 */
export interface SlipSeries {
  readonly times: Float64Array;
  readonly slip: Float64Array;
  readonly departure: Float64Array;
  readonly doubt: Float64Array;
  /** Roll surface speed [m/s], as long as `times`. */
  readonly surface: Float64Array;
  readonly creep: number;
  /** Largest force of the pull [N]; NaN where it is unknown. */
  readonly top: number;
  readonly relative: boolean;
}

/** Slip beyond creep over the pull; a sentence when it cannot be seen. @source creep proportional to force, 0.5–3 %: common practice, no source */
export const slipSeries: (scene: PullScene, limits: Limits) => SlipSeries | string = kept(measuredSlip);

function measuredSlip(scene: PullScene, limits: Limits): SlipSeries | string {
  const roll = rollSpeed(scene);
  if (!roll || !scene.engineSpeed) return 'needs engine speed and roll speed';
  if (scene.facts.vehicle.transmission === 'converter') return 'a converter’s slip hides the tyre’s';
  if (gearOf(scene) === undefined) return 'no single gear in this pull';
  if (scene.record.findings.some(({ kind }) => kind === 'computed-engine-speed'))
    return 'engine speed is computed from roll speed';
  const times = gridOf(scene, Math.min(FINEST, roll.track.rate, scene.engineSpeed.rate), {
    from: scene.from + AFTER_START,
    to: scene.to,
  });
  const v = onTimes(roll.track, times).map((value) => value * roll.scale);
  const omega = speedsAt(scene, times);
  if (omega.every((w, i) => !(w > 0) || Math.abs(w / v[i] / (omega[0] / v[0]) - 1) < 1e-6)) {
    return 'engine speed is computed from roll speed';
  }
  const reference = inThisGear(scene);
  const logarithm = omega.map((w, i) => Math.log(w / (v[i] * (1 + (reference?.growth ?? 0) * v[i] ** 2))));
  const base = reference
    ? Math.log(reference.ratio)
    : (finite(logarithm).sort((a, b) => a - b)[Math.floor(0.1 * logarithm.length)] ?? Number.NaN);
  const slip = onceTakenUp(runningQuantile({ times, values: logarithm.map((value) => value - base) }, 0.05, 0.5));
  const { share: force, top } = forceShare(scene, times);
  const largest = limits['wheel-slip.largest-creep'].value;
  const perForce = finite(slip.map((s, i) => (force[i] > 0.3 ? s / force[i] : Number.NaN))).sort((a, b) => a - b);
  const own = perForce[Math.floor(0.25 * perForce.length)];
  const creep = Math.min(creepOf(scene, { own, top, largest }), usualCreep(scene, limits, top));
  const departure = slip.map((s, i) => s - creep * (Number.isFinite(force[i]) ? force[i] : 1));
  return {
    times,
    slip,
    departure,
    doubt: doubtOf(scene, { times, omega, v }),
    surface: v,
    creep,
    top,
    relative: reference === undefined,
  };
}

/** So far may a pull that slips throughout leave the ratio of its gear, ln; nearly all of it must be between. @source our default: gears are further apart */
const SLIPS = { below: -0.03, above: 0.18, nearly: 0.97 } as const;

/**
 * Engine speed over roll speed in the gear of a pull [rad/m]. A pull that slips from its start to its end shows no ratio by itself: then it is that of an earlier pull
 * which this one stays near.
 */
const gearOf: (scene: PullScene) => number | undefined = keptOf((scene) => {
  const { ratio } = scene.pull.segment;
  const roll = rollSpeed(scene);
  if (ratio !== undefined || !roll || !scene.engineSpeed) return ratio;
  const times = gridOf(scene, Math.min(FINEST, roll.track.rate, scene.engineSpeed.rate), {
    from: scene.from + AFTER_START,
    to: scene.to,
  });
  const surface = onTimes(roll.track, times).map((value) => value * roll.scale);
  const ratios = finite(speedsAt(scene, times).map((w, i) => w / surface[i]));
  return scene.references
    .flatMap((other) => other.pull.segment.ratio ?? [])
    .find((gear) => {
      const near = ratios.filter((each) => {
        const apart = Math.log(each / gear);
        return apart > SLIPS.below && apart < SLIPS.above;
      });
      return near.length > SLIPS.nearly * ratios.length;
    });
});

/** The ratio without slip, when it was found in the gear of this pull. */
function inThisGear(scene: PullScene): PullScene['slip'] {
  const ratio = gearOf(scene);
  const { slip } = scene;
  return slip && ratio !== undefined && Math.abs(Math.log(ratio / slip.ratio)) < SAME_GEAR ? slip : undefined;
}

/** Slip from the moment on at which the clutch has taken up: a car that moves off with its engine far ahead of the rolls does not slip its tyres. */
function onceTakenUp(slip: Float64Array): Float64Array {
  const first = slip.find(Number.isFinite) ?? 0;
  if (!(first > TAKES_UP.free)) return slip;
  const home = slip.findIndex((value) => value < TAKES_UP.home);
  return slip.map((value, i) => (home >= 0 && i >= home ? value : Number.NaN));
}

/** Creep of the tyre changes by this between pulls at most [1]. @source our default */
const CREEP_CHANGES = 0.004;

/** What the earlier pulls of this gear show of the tyre, brought to this pull's force [1]; ∞ without them. */
function usualCreep(scene: PullScene, limits: Limits, top: number): number {
  const values = besideState(scene, ['wheel-slip', 'clutch-slip'])
    .slice(0, 4)
    .flatMap((other) => {
      const seen = slipSeries(other, limits);
      return typeof seen === 'string' || seen.relative !== (inThisGear(scene) === undefined)
        ? []
        : [(seen.creep * top) / seen.top];
    });
  const usual = middle(values);
  return Number.isFinite(usual) ? usual + CREEP_CHANGES : Number.POSITIVE_INFINITY;
}

/** Creep at the pull's largest force [1]: what the pull itself shows, held within what the day knows of the tyre. */
function creepOf(
  { slip }: PullScene,
  { own, top, largest }: { readonly own: number | undefined; readonly top: number; readonly largest: number },
): number {
  const shown = Math.max(0, Math.min(largest, own ?? 0));
  if (!slip || !Number.isFinite(top)) return shown;
  const [low, high] = [-2, 2].map((times) => (slip.creep + times * slip.creepSpread) * top);
  return Math.max(0, Math.min(Math.max(shown, Math.min(low, largest)), Math.max(high, 0)));
}

/** Force over the pull's largest [1], and that one [N]; 1 and NaN where no force is known. */
function forceShare(scene: PullScene, times: Float64Array): { readonly share: Float64Array; readonly top: number } {
  const drive = driveForce(scene);
  const ones = new Float64Array(times.length).fill(1);
  if (!drive) return { share: ones, top: Number.NaN };
  const smoothed = smooth(drive, 1.5);
  const top = Math.max(...finite(smoothed), 0);
  const step = drive.times[1] - drive.times[0];
  if (!(top > 0)) return { share: ones, top: Number.NaN };
  return { share: times.map((t) => (smoothed[Math.round((t - drive.times[0]) / step)] ?? Number.NaN) / top), top };
}

/** Three standard deviations of noise after the median of five, and the clocks: a lag shows as slip where speed grows. */
function doubtOf(
  scene: PullScene,
  { times, omega, v }: { times: Float64Array; omega: Float64Array; v: Float64Array },
): Float64Array {
  const roll = rollSpeed(scene);
  const lag = Math.max(0, ...scene.alignment.pieces.map(({ offsetUncertainty }) => offsetUncertainty));
  const step = times[1] - times[0];
  const growth = smooth(
    { times, values: omega.map((w, i) => (i > 0 ? Math.log(w / omega[i - 1]) / step : Number.NaN)) },
    1,
  );
  const usual = Math.abs(middle(growth));
  const engineNoise = scene.engineSpeed?.noise ?? 0;
  const rollNoise = (roll?.track.noise ?? 0) * (roll?.scale ?? 1);
  return omega.map((w, i) => {
    const along = Math.abs(Number.isFinite(growth[i]) ? growth[i] : usual);
    return 3 * Math.hypot((0.6 * engineNoise) / w, (0.6 * rollNoise) / v[i], lag * along);
  });
}
