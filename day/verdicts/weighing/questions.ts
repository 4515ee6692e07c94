import type { Meaning } from '../../channels/index.ts';
import { type FaultWindow, within } from '../detector.ts';
import { boostSeries } from '../evidence/boost.ts';
import { cutEvidence } from '../evidence/cut.ts';
import { roughness } from '../evidence/drive.ts';
import { leanBefore, leanSpike } from '../evidence/lambda.ts';
import { syncEvidence } from '../evidence/sync.ts';
import { wheelKeepsToRoll } from '../evidence/wheel.ts';
import { keptOf } from '../scene/memory.ts';
import { levelBetween, type PullScene, sceneTrack } from '../scene/scene.ts';
import { largest, middle, smooth } from '../scene/series.ts';
import { type Separation, separatingQuestions } from '../separation.ts';
import type { Limits } from '../thresholds.ts';

/** One question about an occurrence: the channels that answer it (each list: any one of them), and what its answers say in words. */
export interface Question {
  readonly needs: readonly (readonly Meaning[])[];
  readonly answers: Readonly<Record<string, string>>;
}

const LAMBDA = ['lambda'] as const;
const ROLL = ['roll-speed', 'roll-rotation'] as const;
const PRESSURE = ['manifold-pressure', 'manifold-gauge-pressure'] as const;
const DRIVE = ['tractive-force', 'roll-speed', 'roll-rotation'] as const;

/**
 * Every question that is weighed, besides what the detectors themselves say.
 *
 * @source the first three, in their order, and the key features: common practice, no source
 */
export const QUESTIONS = {
  tied: {
    needs: [['engine-speed'], ROLL],
    answers: { tied: 'engine speed stays tied to the roll', free: 'engine speed leaves the roll' },
  },
  commanded: {
    needs: [['cut-status', 'ignition-timing', 'throttle', 'injector-pulse', 'manifold-target']],
    answers: { changed: 'something was commanded to change', unchanged: 'nothing was commanded to change' },
  },
  supply: {
    needs: [PRESSURE, LAMBDA],
    answers: {
      air: 'the air changed',
      fuel: 'the fuel changed',
      'air and fuel': 'air and fuel both changed',
      neither: 'neither air nor fuel changed',
    },
  },
  'lean spike': {
    needs: [LAMBDA],
    answers: { yes: 'lambda swings lean with it', no: 'lambda does not swing lean' },
  },
  'lean first': {
    needs: [LAMBDA, ['lambda-target']],
    answers: { yes: 'the mixture was lean before it began', no: 'the mixture was right before it began' },
  },
  sync: {
    needs: [['sync-errors', 'engine-speed']],
    answers: {
      counted: 'sync errors were counted',
      leaps: 'engine speed makes steps that no shaft can',
      none: 'no sign of a lost trigger',
    },
  },
  cut: {
    needs: [['cut-status', 'injector-pulse', 'injector-duty', 'fuel-flow', 'ignition-timing', ...DRIVE]],
    answers: {
      status: 'the cut status says that it was cut',
      fuel: 'fuel was taken away',
      timing: 'timing was taken back at once',
      notches: 'the drive repeats itself as under a limiter',
      none: 'no sign of a cut',
    },
  },
  voltage: {
    needs: [['battery-voltage']],
    answers: {
      steady: 'battery voltage is steady',
      sagging: 'battery voltage sags',
      low: 'battery voltage is low',
    },
  },
  wheel: {
    needs: [['wheel-speed'], ROLL],
    answers: { 'with the roll': 'the driven wheels keep to the roll', apart: 'the driven wheels leave the roll' },
  },
  drive: {
    needs: [DRIVE],
    answers: { rough: 'the drive is rough', smooth: 'the drive is smooth' },
  },
  place: {
    needs: [],
    answers: {
      low: 'it begins low in the speed range',
      middle: 'it begins in the middle of the speed range',
      high: 'it begins high in the speed range',
      whole: 'it lasts through the pull',
    },
  },
  pieces: {
    needs: [],
    answers: { one: 'it comes once', few: 'it comes a few times', many: 'it comes again and again' },
  },
  pressure: {
    needs: [PRESSURE],
    answers: {
      highest: 'it begins where manifold pressure is highest',
      below: 'it begins below the highest manifold pressure',
    },
  },
  'air first': {
    needs: [PRESSURE],
    answers: { yes: 'manifold pressure moved before it began', no: 'manifold pressure was steady before it began' },
  },
  company: {
    needs: [],
    answers: { first: 'nothing surer was seen in this pull', after: 'something surer was seen in this pull' },
  },
} as const satisfies Record<string, Question>;

export type QuestionName = keyof typeof QUESTIONS;

/** Names of all questions, in their order. */
export function questionNames(): readonly QuestionName[] {
  return Object.keys(QUESTIONS).filter((name): name is QuestionName => name in QUESTIONS);
}

/** Limits between answers: seconds of a lean mixture, shares of the pull, volts, shares of pressure. @source voltages: common practice, no source; the rest: our default */
const LONG = 0.7;
const SAG = 0.4;
const LOW_VOLTAGE = 13;
const HIGHEST = 0.985;
const MOVES_FIRST = 0.025;

/** Answers by question; a question that is not in it has none. */
export type Answers = Readonly<Partial<Record<QuestionName, string>>>;

/** Answers about the windows of one occurrence; a question that this log cannot answer is left out. */
export function answersTo(
  scene: PullScene,
  windows: readonly FaultWindow[],
  limits: Limits,
): { readonly items: Answers; readonly separation: Separation } {
  const [first] = windows;
  const separation = separatingQuestions(scene, first, limits);
  const told = {
    tied: known(separation.tied.answer),
    commanded: known(separation.commanded.answer),
    supply: known(separation.supply.answer),
    'lean spike': leanIn(scene, windows, limits),
    'lean first': targeted(scene) ? yesNo(leanBefore(scene, first.from, limits)) : undefined,
    sync: syncIn(scene, windows),
    cut: cutIn(scene, windows, limits),
    voltage: voltageIn(scene, windows),
    wheel: wheelIn(scene, windows),
    drive: driveIn(scene, windows, limits),
    place: placeOf(scene, windows),
    pieces: windows.length < 2 ? 'one' : windows.length < 4 ? 'few' : 'many',
    ...pressureAt(scene, first),
  };
  return { items: Object.fromEntries(Object.entries(told).filter(([, answer]) => answer !== undefined)), separation };
}

function known(answer: string): string | undefined {
  return answer === 'unknown' ? undefined : answer;
}

function yesNo(answer: boolean): 'yes' | 'no' {
  return answer ? 'yes' : 'no';
}

function targeted(scene: PullScene): boolean {
  return sceneTrack(scene, 'lambda') !== undefined && sceneTrack(scene, 'lambda-target') !== undefined;
}

function leanIn(scene: PullScene, windows: readonly FaultWindow[], limits: Limits): string | undefined {
  const spike = leanSpike(scene, windows);
  return spike === undefined || !Number.isFinite(spike)
    ? undefined
    : yesNo(spike > limits['ignition-breakup.lean'].value);
}

function meets(windows: readonly FaultWindow[], others: readonly FaultWindow[], near: number): boolean {
  return windows.some(({ from, to }) => others.some((other) => other.from <= to + near && other.to >= from - near));
}

function syncIn(scene: PullScene, windows: readonly FaultWindow[]): string | undefined {
  if (!sceneTrack(scene, 'sync-errors') && !sceneTrack(scene, 'engine-speed')) return undefined;
  const sync = syncEvidence(scene);
  if (!meets(windows, sync.windows, 0.3)) return 'none';
  return (sync.counted ?? 0) > 0 ? 'counted' : sync.leaps > 0 ? 'leaps' : 'none';
}

function cutIn(scene: PullScene, windows: readonly FaultWindow[], limits: Limits): string | undefined {
  const cut = cutEvidence(scene, limits);
  if (cut.by === 'nothing') return commands(scene) ? 'none' : undefined;
  return meets(windows, cut.windows, 0.2) ? cut.by : 'none';
}

function commands(scene: PullScene): boolean {
  return QUESTIONS.cut.needs[0].some((meaning) => sceneTrack(scene, meaning) !== undefined);
}

function voltageIn(scene: PullScene, windows: readonly FaultWindow[]): string | undefined {
  const track = sceneTrack(scene, 'battery-voltage');
  if (!track) return undefined;
  const during = middle(windows.map(({ from, to }) => levelBetween(track, from - 0.1, to + 0.1)));
  if (!Number.isFinite(during)) return undefined;
  const fall = levelBetween(track, scene.from - 0.5, scene.from + 1) - during;
  return during < LOW_VOLTAGE ? 'low' : fall > SAG ? 'sagging' : 'steady';
}

function wheelIn(scene: PullScene, windows: readonly FaultWindow[]): string | undefined {
  const keeps = wheelKeepsToRoll(scene, windows);
  return keeps === undefined ? undefined : keeps ? 'with the roll' : 'apart';
}

function driveIn(scene: PullScene, windows: readonly FaultWindow[], limits: Limits): string | undefined {
  const drive = roughness(scene, limits);
  if (typeof drive === 'string') return undefined;
  const known = drive.share.some((value, i) => Number.isFinite(value) && within(windows, drive.times[i], 0.1));
  if (!known) return undefined;
  return drive.times.some((time, i) => drive.rough(i) && within(windows, time, 0.1)) ? 'rough' : 'smooth';
}

function placeOf(scene: PullScene, windows: readonly FaultWindow[]): string {
  const [first] = windows;
  const seconds = windows.reduce((sum, { from, to }) => sum + to - from, 0);
  if (seconds > LONG * (scene.to - scene.from)) return 'whole';
  const share = (first.from - scene.from) / (scene.to - scene.from);
  return share < 1 / 3 ? 'low' : share < 2 / 3 ? 'middle' : 'high';
}

/** Manifold pressure without what is faster than 4 Hz, and its highest value; worked out once per pull. */
const calmPressure = keptOf((scene: PullScene) => {
  const boost = boostSeries(scene);
  if (!boost) return undefined;
  const values = smooth({ times: boost.times, values: boost.pressure }, Math.min(4, boost.rate / 5));
  return { times: boost.times, values, top: largest(values) };
});

/** Manifold pressure where it began against the highest of the pull, and whether it had moved in the second before. */
function pressureAt(scene: PullScene, { from, to }: FaultWindow): Partial<Record<'pressure' | 'air first', string>> {
  const calm = calmPressure(scene);
  if (!calm) return {};
  const { times, values, top } = calm;
  const between = (a: number, b: number): number => middle(values.filter((_, i) => times[i] >= a && times[i] <= b));
  const there = between(from - 0.1, Math.min(to, from + 0.3));
  const moved = between(from - 0.4, from - 0.1) / between(from - 1, from - 0.6) - 1;
  return {
    ...(Number.isFinite(there) ? { pressure: there > HIGHEST * top ? 'highest' : 'below' } : {}),
    ...(Number.isFinite(moved) ? { 'air first': yesNo(Math.abs(moved) > MOVES_FIRST) } : {}),
  };
}
