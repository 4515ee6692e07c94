import { indexAtOrAfter } from '../../../core/numerics/index.ts';
import { humidityRatio } from '../../../core/physics/index.ts';
import { absolutePressure } from '../../../core/quantities/index.ts';
import type { Meaning } from '../../channels/index.ts';
import type { BudgetLine, EntryResult, PullResult } from '../../pulls/index.ts';
import { type DayVerdicts, isBelieved, type PullScene, type PullVerdict } from '../../verdicts/index.ts';
import { oddSettings, targetPressure, timingShift } from './settings.ts';

/** What a clean stretch of a pull showed at one engine speed; SI, NaN where not measured. */
export interface Observation {
  readonly entry: string;
  /** Number of the pull in the day. */
  readonly pull: number;
  /** Of the record, and since the full load began [s]. */
  readonly time: number;
  readonly loadTime: number;
  readonly speed: number;
  /** Brake torque, its random relative uncertainty in this point. */
  readonly torque: number;
  readonly torqueNoise: number;
  readonly manifoldPressure: number;
  readonly chargeTemperature: number;
  /** How fast it rose as logged [K/s]; 0 where that is not known. */
  readonly chargeSlope: number;
  readonly lambda: number;
  readonly timing: number;
  /** Timing of this pull on top of the day's own. */
  readonly timingShift: number;
  readonly camPhase: number;
  readonly exhaustPressure: number;
  readonly exhaustTemperature: number;
  readonly turboSpeed: number;
  readonly airFlow: number;
  readonly fuelFlow: number;
  readonly injectorDuty: number;
  readonly ambientTemperature: number;
  readonly ambientPressure: number;
  readonly humidityRatio: number;
}

export interface Observations {
  readonly points: readonly Observation[];
  /** Relative uncertainty of torque that all pulls of the day share [1]. */
  readonly shared: number;
  /** Relative uncertainty of torque from pull to pull [1]. */
  readonly repeat: number;
  readonly used: readonly string[];
  readonly leftOut: ReadonlyMap<string, string>;
}

export interface ObservationInput {
  readonly verdicts: DayVerdicts;
  readonly results: ReadonlyMap<string, EntryResult | undefined>;
  /** Engine speeds asked of each pull; default 9. */
  readonly count?: number;
}

/** Pulls repeat no better than this [1]. @source common practice, no source: 0.3 … 0.5 % is very good */
const REPEAT = 0.005;
/** Half the time over which a channel is averaged [s], and least distance from both ends of the full load [s]. @source our default */
const HALF_WINDOW = 0.2;
const ENDS = { start: 0.8, end: 0.25 } as const;

/**
 * What the clean pulls of a day showed, at some engine speeds each.
 *
 * Left out: void windows, windows of any believed fault that is worth stopping for, channels that are at fault, pulls with such a
 * fault and no window, pulls that a person excluded or that are void. Charge temperature is taken as logged: the sensor's lag is not known.
 */
export function observationsOf({ verdicts, results, count = 9 }: ObservationInput): Observations {
  const points: Observation[] = [];
  const leftOut = new Map<string, string>();
  const used: string[] = [];
  const settings = verdicts.asked.map(({ scene }) => scene.settings);
  const shares: number[] = [];
  verdicts.pulls.forEach((verdict, pull) => {
    const scene = verdicts.asked[pull]?.scene;
    const result = results.get(verdict.entry);
    const why = whyNot(verdict);
    if (!scene || !result || why !== undefined) {
      leftOut.set(verdict.entry, why ?? 'missing record');
      return;
    }
    const odd = oddSettings(scene.settings, settings).length > 0;
    const found = pointsOf({ verdict, scene, result, pull, count, odd });
    if (found.length === 0) {
      leftOut.set(verdict.entry, 'no stretch of it is clean');
      return;
    }
    used.push(verdict.entry);
    points.push(...found);
    shares.push(partOf(verdict.pull, 'shared'));
  });
  const known = shares.filter((share) => share > 0);
  const shared = known.length > 0 ? known.reduce((sum, share) => sum + share, 0) / known.length : 0.02;
  return { points, shared, repeat: REPEAT, used, leftOut };
}

function whyNot({ validity, occurrences }: PullVerdict): string | undefined {
  if (validity === 'void') return 'void';
  const whole = occurrences.find(
    (one) =>
      one.overruled === undefined && isBelieved(one) && one.stopClass >= 1 && one.windows.length === 0 && !one.channel,
  );
  return whole && `${whole.hypotheses[0]?.fault ?? 'a fault'} over the whole pull`;
}

/** A judged pull. pull: its number in the day; odd: it ran with something fitted that most pulls had not. */
export interface ObservedPull {
  readonly verdict: PullVerdict;
  readonly scene: PullScene;
  readonly result: EntryResult;
  readonly pull: number;
  readonly odd: boolean;
}

interface Pull extends ObservedPull {
  readonly count: number;
}

function pointsOf(input: Pull): Observation[] {
  const { verdict, count } = input;
  const { curve, segment } = verdict.pull;
  const spoilt = spoiltWindows(verdict);
  const usable: number[] = [];
  for (let i = 0; i < curve.time.length; i++) {
    const t = curve.time[i];
    const inside = t >= segment.fromTime + ENDS.start && t <= segment.toTime - ENDS.end;
    if (inside && curve.engineSpeed[i] > 0 && !spoilt.some(({ from, to }) => t >= from - 0.2 && t <= to + 0.2))
      usable.push(i);
  }
  if (usable.length < 3) return [];
  const first = curve.engineSpeed[usable[0]];
  const last = curve.engineSpeed[usable[usable.length - 1]];
  const found: Observation[] = [];
  const taken = new Set<number>();
  for (let k = 0; k < count; k++) {
    const wanted = first + ((last - first) * (k + 0.5)) / count;
    const i = usable.reduce((best, j) =>
      Math.abs(curve.engineSpeed[j] - wanted) < Math.abs(curve.engineSpeed[best] - wanted) ? j : best,
    );
    // the nearest usable place may be the border of a void window, met twice
    if (taken.has(i) || Math.abs(curve.engineSpeed[i] - wanted) > (last - first) / count) continue;
    taken.add(i);
    const point = observedAt(input, i);
    if (point) found.push(point);
  }
  return found;
}

function spoiltWindows({
  occurrences,
  voidWindows,
}: PullVerdict): readonly { readonly from: number; readonly to: number }[] {
  const believed = occurrences.filter(
    (one) => one.overruled === undefined && isBelieved(one) && one.stopClass >= 1 && one.voids !== 'channel',
  );
  return [...voidWindows, ...believed.flatMap(({ windows }) => windows)];
}

/** What a pull showed at one place of its curve, clean or not; undefined where the air or the manifold pressure is not known. */
export function observedAt({ verdict, scene, result, pull, odd }: ObservedPull, i: number): Observation | undefined {
  const { curve } = verdict.pull;
  const speed = curve.engineSpeed[i];
  const time = curve.time[i];
  const lost = new Set(
    verdict.occurrences.flatMap((one) =>
      one.channel && one.overruled === undefined && isBelieved(one) ? [one.channel] : [],
    ),
  );
  const read = (meaning: Meaning): number => channelAt(scene, meaning, { time, lost });
  const { temperature, pressure, vapourPressure } = result.conditions;
  if (!temperature || !pressure) return undefined;
  const absolute = read('manifold-pressure');
  const gauge = read('manifold-gauge-pressure') + pressure.value;
  const manifoldPressure = [absolute, gauge, targetPressure(scene.settings) ?? Number.NaN].find(Number.isFinite);
  if (manifoldPressure === undefined) return undefined;
  const usable = curve.valid[i] === 1;
  const power = usable ? curve.enginePower[i] : Number.NaN;
  const vapour = vapourPressure?.value ?? 1000;
  const cam = read('cam-angle');
  return {
    ...{ entry: verdict.entry, pull, time, speed, manifoldPressure },
    loadTime: Math.max(0, time - verdict.pull.segment.fromTime),
    torque: power / speed,
    torqueNoise: noiseOf(verdict.pull),
    chargeTemperature: read('charge-temperature'),
    chargeSlope: slopeAt((at) => channelAt(scene, 'charge-temperature', { time: at, lost }), time),
    lambda: read('lambda'),
    timing: read('ignition-timing'),
    timingShift: timingShift(scene.settings),
    camPhase: Math.abs(cam) < LARGEST_PHASE ? cam : Number.NaN,
    exhaustPressure: read('exhaust-pressure'),
    exhaustTemperature: read('exhaust-temperature'),
    turboSpeed: odd ? Number.NaN : read('turbo-speed'),
    airFlow: read('air-flow'),
    fuelFlow: read('fuel-flow'),
    injectorDuty: read('injector-duty'),
    ambientTemperature: temperature.value,
    ambientPressure: pressure.value,
    humidityRatio: Math.min(0.039, humidityRatio(absolutePressure(vapour), absolutePressure(pressure.value))),
  };
}

/** Half the time over which a slope is read [s]. @source our default: quick beside a pull, slow beside the noise of a thermometer */
const HALF_SLOPE = 0.6;

function slopeAt(level: (time: number) => number, time: number): number {
  const slope = (level(time + HALF_SLOPE) - level(time - HALF_SLOPE)) / (2 * HALF_SLOPE);
  return Number.isFinite(slope) ? slope : 0;
}

/** A cam angle beyond this is counted from somewhere else than the rest position [rad]. @source our default (50°) */
const LARGEST_PHASE = 0.87;

/** Mean of a channel about a time, over its positions (banks, cylinders); NaN without a usable sample. */
export function channelAt(
  scene: PullScene,
  meaning: Meaning,
  { time, lost }: { readonly time: number; readonly lost: ReadonlySet<string> },
): number {
  const levels: number[] = [];
  for (const track of scene.tracks) {
    if (track.meaning !== meaning || lost.has(track.name)) continue;
    const half = Math.max(HALF_WINDOW, 0.75 / track.rate);
    let sum = 0;
    let count = 0;
    const { times } = track;
    const from = indexAtOrAfter(times, { from: 0, to: times.length }, time - half);
    for (let k = from; k < times.length && times[k] <= time + half; k++) {
      if (!Number.isFinite(track.values[k])) continue;
      sum += track.values[k];
      count += 1;
    }
    if (count > 0) levels.push(sum / count);
  }
  return levels.length > 0 ? levels.reduce((sum, level) => sum + level, 0) / levels.length : Number.NaN;
}

/** Relative uncertainty of engine power at the peak by how its parts are shared [1]. */
function partOf({ budget, peaks }: PullResult, sharing: BudgetLine['sharing']): number {
  const peak = peaks.find(({ what, basis }) => what === 'engine power' && basis === 'curve')?.value;
  if (peak === undefined || !(peak > 0)) return 0;
  const parts = budget.filter((line) => line.sharing === sharing && Number.isFinite(line.engine));
  return Math.hypot(...parts.map(({ engine }) => engine)) / peak;
}

function noiseOf(pull: PullResult): number {
  return Math.hypot(0.004, Math.min(0.03, partOf(pull, 'random')));
}
