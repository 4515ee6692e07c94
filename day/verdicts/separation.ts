import type { Meaning } from '../channels/index.ts';
import { against, type FaultWindow, type Feature, informs, within } from './detector.ts';
import { boostSeries } from './evidence/boost.ts';
import { cutEvidence } from './evidence/cut.ts';
import { lambdaErrors } from './evidence/lambda.ts';
import { slipSeries } from './evidence/slip.ts';
import { gridOf, type PullScene, sceneTrack, tracksAt } from './scene/scene.ts';
import { largest, middle } from './scene/series.ts';
import { onTimes } from './scene/track.ts';
import type { Limits } from './thresholds.ts';

/** One answer with what it rests on. `unknown`: no channel tells. */
export interface SeparationAnswer<Answer extends string> {
  readonly answer: Answer | 'unknown';
  readonly evidence: readonly Feature[];
  readonly missing: readonly Meaning[];
}

/**
 * The three questions that separate faults, in their order, about one window of a pull:
 * tied: is engine speed still tied to roll speed? commanded: did spark, fuel, throttle or a cut change on command?
 * supply: did air, fuel, both or neither change?
 */
export interface Separation {
  readonly tied: SeparationAnswer<'tied' | 'free'>;
  readonly commanded: SeparationAnswer<'changed' | 'unchanged'>;
  readonly supply: SeparationAnswer<'air' | 'fuel' | 'air and fuel' | 'neither'>;
}

/** What counts as a change in a window. Shares of the level before, angles in rad, lambda in itself. @source our default */
const MOVES = { throttle: 0.05, timing: 0.07, fuel: 0.15, air: 0.04, pressure: 0.05, lambda: 0.03 } as const;
/** Air is held against the second before; a command comes at most this long before what it does [s]. @source our default */
const BEFORE = 1;
const LEAD = 0.4;

/** The three separating questions, answered for one window. @source order of the questions: common practice, no source */
export function separatingQuestions(scene: PullScene, window: FaultWindow, limits: Limits): Separation {
  return {
    tied: tiedIn(scene, window, limits),
    commanded: commandedIn(scene, window, limits),
    supply: supplyIn(scene, window),
  };
}

function tiedIn(scene: PullScene, window: FaultWindow, limits: Limits): Separation['tied'] {
  const seen = slipSeries(scene, limits);
  if (typeof seen === 'string')
    return { answer: 'unknown', evidence: [], missing: ['engine-speed', 'roll-speed'].filter(isMissing(scene)) };
  const inside = seen.departure.map((value, i) =>
    within([window], seen.times[i]) ? value - seen.doubt[i] : Number.NaN,
  );
  const top = largest(inside);
  if (!Number.isFinite(top)) return { answer: 'unknown', evidence: [], missing: [] };
  const limit = limits['wheel-slip.departure'].value;
  return {
    answer: top > limit ? 'free' : 'tied',
    evidence: [against(limits, 'wheel-slip.departure', top)],
    missing: [],
  };
}

function isMissing(scene: PullScene): (meaning: string) => meaning is Meaning {
  return (meaning): meaning is Meaning => !scene.tracks.some((track) => track.meaning === meaning);
}

function commandedIn(scene: PullScene, window: FaultWindow, limits: Limits): Separation['commanded'] {
  const evidence: Feature[] = [];
  const cut = cutEvidence(scene, limits);
  const hit = cut.windows.some(({ from, to }) => from <= window.to && to >= window.from);
  const status = sceneTrack(scene, 'cut-status');
  if (status || hit) evidence.push(informs('cut commanded', hit ? 1 : 0, 'count'));
  const asked = [
    { meaning: 'throttle', limit: MOVES.throttle, share: true, kind: 'fraction' },
    { meaning: 'ignition-timing', limit: MOVES.timing, share: false, kind: 'angle' },
    { meaning: 'injector-pulse', limit: MOVES.fuel, share: true, kind: 'fraction' },
    { meaning: 'lambda-target', limit: MOVES.lambda, share: false, kind: 'lambda' },
    { meaning: 'manifold-target', limit: MOVES.air, share: true, kind: 'fraction' },
  ] as const;
  let changed = hit;
  for (const { meaning, limit, share, kind } of asked) {
    const move = moved(scene, window, { meaning, share });
    if (!Number.isFinite(move)) continue;
    evidence.push({ ...informs(`${meaning} moved`, move, kind), threshold: limit, source: 'our default' });
    changed ||= Math.abs(move) > limit;
  }
  if (evidence.length === 0) return { answer: 'unknown', evidence, missing: ['cut-status', 'ignition-timing'] };
  return { answer: changed ? 'changed' : 'unchanged', evidence, missing: [] };
}

/** A command moves within this [s]; what takes longer is the course that a table takes as speed rises. @source our default */
const STEP = 0.2;

/**
 * Largest step of a channel within a window, with its sign: mean of the 0.2 s (or two renewals) after a moment less that before it;
 * relative when `share`; NaN when unknown. The slow course of a table over engine speed is no step.
 */
function moved(
  scene: PullScene,
  window: FaultWindow,
  { meaning, share }: { readonly meaning: Meaning; readonly share: boolean },
): number {
  const moves = tracksAt(scene, meaning).map((track) => {
    const rate = Math.min(50, track.rate);
    const span = { from: Math.max(scene.from + STEP, window.from - LEAD), to: Math.min(scene.to - STEP, window.to) };
    const values = onTimes(track, gridOf(scene, rate, span));
    const side = Math.max(2, Math.round(STEP * rate));
    const steps = values.map((_, i) => {
      if (i < side || i + side > values.length) return Number.NaN;
      const [before, after] = [meanOf(values, i - side, i), meanOf(values, i, i + side)];
      return share ? after / before - 1 : after - before;
    });
    const top = largest(steps.map(Math.abs));
    return steps.find((value) => Math.abs(value) === top) ?? Number.NaN;
  });
  return moves.reduce(
    (best, move) => (Math.abs(move) > Math.abs(best) || Number.isNaN(best) ? move : best),
    Number.NaN,
  );
}

/** Mean of the values from one index to before another; NaN where one of them is missing. */
function meanOf(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i];
  return sum / (to - from);
}

function supplyIn(scene: PullScene, window: FaultWindow): Separation['supply'] {
  const evidence: Feature[] = [];
  const air = airMoved(scene, window, evidence);
  const fuel = fuelMoved(scene, window, evidence);
  if (air === undefined || fuel === undefined) {
    const missing: Meaning[] = [
      ...(air === undefined ? (['manifold-pressure'] as const) : []),
      ...(fuel === undefined ? (['lambda'] as const) : []),
    ];
    return { answer: 'unknown', evidence, missing };
  }
  return { answer: air && fuel ? 'air and fuel' : air ? 'air' : fuel ? 'fuel' : 'neither', evidence, missing: [] };
}

function airMoved(scene: PullScene, window: FaultWindow, evidence: Feature[]): boolean | undefined {
  const boost = boostSeries(scene);
  if (!boost) return undefined;
  const { times, target } = boost;
  // Against the target where there is one: pressure that follows its target has not moved by itself.
  const pressure = target ? boost.pressure.map((value, i) => value / target[i]) : boost.pressure;
  const before = middle(pressure.filter((_, i) => times[i] >= window.from - BEFORE && times[i] < window.from));
  const inside = middle(
    pressure.filter((_, i) => within([window], times[i])).map((value) => Math.abs(value / before - 1)),
  );
  if (!Number.isFinite(inside)) return undefined;
  evidence.push({
    ...informs('manifold pressure moved', inside, 'fraction'),
    threshold: MOVES.air,
    source: 'our default',
  });
  return inside > MOVES.air;
}

/** Fuel moved when its pressure did, or lambda left its target and stayed off it; single lean spikes are misfires. */
function fuelMoved(scene: PullScene, window: FaultWindow, evidence: Feature[]): boolean | undefined {
  const pressure = moved(scene, window, { meaning: 'fuel-pressure-difference', share: true });
  const errors = lambdaErrors(scene).map(({ times, error }) =>
    middle(error.filter((_, i) => within([window], times[i]))),
  );
  const lambda = largest(errors.map(Math.abs));
  const known = Number.isFinite(lambda);
  if (known)
    evidence.push({
      ...informs('lambda off its target', lambda, 'lambda'),
      threshold: MOVES.lambda,
      source: 'our default',
    });
  if (!known && !Number.isFinite(pressure)) return undefined;
  const settled = settledMove(scene, window);
  if (Number.isFinite(settled)) {
    evidence.push({
      ...informs('fuel pressure moved', settled, 'fraction'),
      threshold: MOVES.pressure,
      source: 'our default',
    });
  }
  return lambda > MOVES.lambda || Math.abs(settled) > MOVES.pressure;
}

/** Middle of fuel pressure inside the window against the start of the pull, as a share; NaN when not logged. */
function settledMove(scene: PullScene, window: FaultWindow): number {
  const track = sceneTrack(scene, 'fuel-pressure-difference');
  if (!track) return Number.NaN;
  const at = (from: number, to: number): number =>
    middle(onTimes(track, gridOf(scene, Math.min(50, track.rate), { from, to })));
  return at(window.from, window.to) / at(scene.from + 0.4, scene.from + 2) - 1;
}
