import { kept } from '../scene/memory.ts';
import { gridOf, type PullScene, speedsAt } from '../scene/scene.ts';
import { finite, middle, runningQuantile, smooth } from '../scene/series.ts';
import { onTimes } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';
import { driveForce, rollSpeed } from './drive.ts';

/** Slip is judged on at most this grid [Hz]; the first moments after tip-in wind the driveline up [s]. @source our default */
const FINEST = 50;
const AFTER_START = 0.3;

/**
 * How far engine speed over roll speed leaves what creep explains [1], on `times` [s].
 * doubt: what noise and the clocks' uncertainty can make of it [1], as long as `times`. relative: no low-force ratio was known.
 */
export interface SlipSeries {
  readonly times: Float64Array;
  readonly slip: Float64Array;
  readonly departure: Float64Array;
  readonly doubt: Float64Array;
  readonly creep: number;
  readonly relative: boolean;
}

/** Slip beyond creep over the pull; a sentence when it cannot be seen. @source creep proportional to force, 0.5–3 %: common practice, no source */
export const slipSeries: (scene: PullScene, limits: Limits) => SlipSeries | string = kept(measuredSlip);

function measuredSlip(scene: PullScene, limits: Limits): SlipSeries | string {
  const roll = rollSpeed(scene);
  if (!roll || !scene.engineSpeed) return 'needs engine speed and roll speed';
  if (scene.facts.vehicle.transmission === 'converter') return 'a converter’s slip hides the tyre’s';
  if (scene.pull.segment.ratio === undefined) return 'no single gear in this pull';
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
  const logarithm = omega.map((w, i) => Math.log(w / (v[i] * (1 + (scene.slip?.growth ?? 0) * v[i] ** 2))));
  const base = scene.slip
    ? Math.log(scene.slip.ratio)
    : (finite(logarithm).sort((a, b) => a - b)[Math.floor(0.1 * logarithm.length)] ?? Number.NaN);
  const slip = runningQuantile({ times, values: logarithm.map((value) => value - base) }, 0.05, 0.5);
  const force = forceShare(scene, times);
  const largest = limits['wheel-slip.largest-creep'].value;
  const perForce = finite(slip.map((s, i) => (force[i] > 0.3 ? s / force[i] : Number.NaN))).sort((a, b) => a - b);
  const creep = Math.max(0, Math.min(largest, perForce[Math.floor(0.25 * perForce.length)] ?? 0));
  const departure = slip.map((s, i) => s - creep * (Number.isFinite(force[i]) ? force[i] : 1));
  return {
    times,
    slip,
    departure,
    doubt: doubtOf(scene, { times, omega, v }),
    creep,
    relative: scene.slip === undefined,
  };
}

/** Force over the pull's largest [1]; 1 where no force is known. */
function forceShare(scene: PullScene, times: Float64Array): Float64Array {
  const drive = driveForce(scene);
  const ones = new Float64Array(times.length).fill(1);
  if (!drive) return ones;
  const smoothed = smooth(drive, 1.5);
  const top = Math.max(...finite(smoothed), 0);
  const step = drive.times[1] - drive.times[0];
  return top > 0 ? times.map((t) => (smoothed[Math.round((t - drive.times[0]) / step)] ?? Number.NaN) / top) : ones;
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
