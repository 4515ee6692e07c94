import { type LinearFit, linearFit, polynomialDesign } from '../../../core/numerics/index.ts';
import { keptOf } from '../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack, speedsAt } from '../scene/scene.ts';
import { mean, middle } from '../scene/series.ts';
import { onTimes } from '../scene/track.ts';
import { rollSpeed } from './drive.ts';

/** The brake opens and the intake empties within this after lift-off [s]; it is looked at for so long, and needs so much [s]. @source our default */
const SETTLES = 1.2;
const LONGEST = 12;
const SHORTEST = 1.5;
/** One force is read from a straight line over this [s]. @source our default */
const PIECE = 0.4;
/** Engine and roll are tied while their ratio stays within `keeps` of its middle and not further than `near` from the pull's [1]. @source our default: a converter takes up to a tenth at full load and nothing in the overrun */
const TIED = { keeps: 0.025, near: 0.12 } as const;
/** Throttle that is still shut [1]. @source our default */
const SHUT = 0.12;

/** What holds the rolls back after lift-off, engine in gear and throttle shut: force at the roll surface [N, positive] over their speed [m/s]. */
export interface Overrun {
  readonly low: number;
  readonly high: number;
  /** Force at a speed [m/s] between low and high, and its standard deviation [N]. */
  readonly at: (speed: number) => { readonly force: number; readonly deviation: number };
  /** Engine speed over roll speed in it [rad/m]. */
  readonly ratio: number;
  /** Manifold pressure in it [Pa]; NaN where none is logged. */
  readonly pressure: number;
}

/** The overrun of a pull; undefined when the engine was not dragged along, or speed, ratio or mass are unknown. */
export const overrunOf: (scene: PullScene) => Overrun | undefined = keptOf(measuredOverrun);

function measuredOverrun(scene: PullScene): Overrun | undefined {
  const roll = rollSpeed(scene);
  const mass = scene.facts.roller.equivalentMass?.value;
  const { ratio } = scene.pull.segment;
  if (!roll || !mass || ratio === undefined || !scene.engineSpeed) return undefined;
  const rate = Math.min(50, roll.track.rate);
  const times = gridOf(scene, rate, { from: scene.to + SETTLES, to: endOf(scene) });
  const v = onTimes(roll.track, times).map((value) => value * roll.scale);
  const held = heldBy(scene, times);
  if (!held) return undefined;
  const tied = tiedUntil(scene, { times, v, ratio });
  if (!tied) return undefined;
  const { count } = tied;
  const size = Math.max(4, Math.round(PIECE * rate));
  const rows: { speed: number; force: number }[] = [];
  for (let i = 0; i + size <= count; i += size) {
    const speed = v.subarray(i, i + size);
    const braked = held.subarray(i, i + size);
    if (![...speed, ...braked].every(Number.isFinite)) continue;
    const along = linearFit({
      design: polynomialDesign(
        times.subarray(i, i + size).map((t) => t - times[i]),
        1,
      ),
      response: speed,
    });
    rows.push({ speed: mean(speed), force: -mass * along.coefficients[1] - mean(braked) });
  }
  if (rows.length * PIECE < SHORTEST || rows.length < 4 || middle(rows.map(({ force }) => force)) <= 0)
    return undefined;
  const speeds = rows.map(({ speed }) => speed);
  return {
    low: Math.min(...speeds),
    high: Math.max(...speeds),
    at: lineOf(rows),
    ratio: tied.ratio,
    pressure: pressureIn(scene, times.subarray(0, count)),
  };
}

/** Where the record or the next full load ends it [s]. */
function endOf({ to, segments }: PullScene): number {
  const next = segments
    .filter(({ kind, fromTime }) => kind === 'full-load' && fromTime > to)
    .map(({ fromTime }) => fromTime);
  return Math.min(to + LONGEST, ...next);
}

/** Force of the roller's brake [N]; zero for rolls that have none; undefined where it should be known and is not. */
function heldBy(scene: PullScene, times: Float64Array): Float64Array | undefined {
  if (scene.facts.roller.kind === 'inertia') return times.map(() => 0);
  const brake = sceneTrack(scene, 'brake-force');
  return brake && onTimes(brake, times);
}

/** How many of the times the engine stays tied to the rolls with its throttle shut, and by what ratio [rad/m]; undefined when it is not from the start. */
function tiedUntil(
  scene: PullScene,
  { times, v, ratio }: { times: Float64Array; v: Float64Array; ratio: number },
): { readonly count: number; readonly ratio: number } | undefined {
  const omega = speedsAt(scene, times);
  const throttle = sceneTrack(scene, 'throttle');
  const open = throttle && onTimes(throttle, times);
  const first = Math.round(SHORTEST / (times[1] - times[0]));
  const own = middle(omega.subarray(0, first).map((w, i) => w / v[i]));
  if (!(Math.abs(own / ratio - 1) < TIED.near)) return undefined;
  const loose = times.findIndex(
    (_, i) => !(Math.abs(omega[i] / (v[i] * own) - 1) < TIED.keeps) || (open !== undefined && open[i] > SHUT),
  );
  return { count: loose < 0 ? times.length : loose, ratio: own };
}

/** A straight line through the forces over speed, curved where there are enough of them. */
function lineOf(rows: readonly { readonly speed: number; readonly force: number }[]): Overrun['at'] {
  const centre = mean(rows.map(({ speed }) => speed));
  const degree = rows.length >= 10 ? 2 : 1;
  const fit = linearFit({
    design: polynomialDesign(
      rows.map(({ speed }) => speed - centre),
      degree,
    ),
    response: rows.map(({ force }) => force),
  });
  return (speed) => {
    const terms = Array.from({ length: degree + 1 }, (_, k) => (speed - centre) ** k);
    const force = terms.reduce((sum, term, k) => sum + term * fit.coefficients[k], 0);
    return { force, deviation: Math.sqrt(varianceOf(fit, terms)) };
  };
}

function varianceOf({ covariance }: LinearFit, terms: readonly number[]): number {
  let sum = 0;
  terms.forEach((a, i) => {
    terms.forEach((b, k) => {
      sum += a * b * covariance[i * terms.length + k];
    });
  });
  return sum;
}

function pressureIn(scene: PullScene, times: Float64Array): number {
  const track = sceneTrack(scene, 'manifold-pressure') ?? sceneTrack(scene, 'manifold-gauge-pressure');
  return track && times.length > 1 ? middle(onTimes(track, times)) : Number.NaN;
}
