import type { Fault } from '../../day/verdicts/index.ts';
import { brierScore, calibrationError, wilson } from '../../day/verdicts/weighing/calibration.ts';
import { claimsOf, type WeighedClaim } from '../../day/verdicts/weighing/fitting/learn.ts';
import type { SaidSample, TrueFault } from '../../day/verdicts/weighing/fitting/samples.ts';
import { isBlindTwin } from '../../day/verdicts/weighing/heard.ts';
import { windowsMeet } from '../../day/verdicts/weighing/look-alikes.ts';
import type { WeighingModel } from '../../day/verdicts/weighing/model.ts';
import { type WeighedEpisode, weighedEpisodes } from '../../day/verdicts/weighing/weighed.ts';
import { FULL, REACHED } from './reached.ts';
import type { MeasuredPull } from './samples.ts';

/** From here on a cause counts as claimed: it is believed. */
const BELIEVED = 0.5;

/** A cause and where. or: twins that nobody could part from it without channels that were not logged; the claim is that one of them was there. */
export interface Claimed {
  readonly fault: Fault;
  readonly or?: readonly Fault[];
  readonly probability: number;
  readonly windows: readonly { readonly from: number; readonly to: number }[];
}

/** What a pull comes to when it is weighed. claimed: every cause that is believed; led: the first cause of each occurrence, believed or not. */
interface Weighed {
  readonly claimed: readonly Claimed[];
  readonly led: readonly Claimed[];
}

function weighedIn(pull: MeasuredPull, model: WeighingModel): Weighed {
  const episodes = weighedEpisodes<SaidSample>(pull.said, model, ({ items }) => items ?? {});
  return {
    claimed: episodes.flatMap((episode) => {
      const believed = causesOf(episode).filter(({ probability }) => probability >= BELIEVED);
      const pair = twinsOf(episode);
      return pair ? [pair, ...believed.filter(({ fault }) => !names(pair, fault))] : believed;
    }),
    led: episodes.flatMap((episode) => causesOf(episode).slice(0, 1)),
  };
}

/** Claims of one pull. */
export function claimedIn(pull: MeasuredPull, model: WeighingModel): readonly Claimed[] {
  return weighedIn(pull, model).claimed;
}

function causesOf({ causes, leader }: WeighedEpisode<SaidSample>): readonly Claimed[] {
  return causes.map(({ of, probability }) => ({
    fault: of.fault,
    probability,
    windows: of.answer === 'seen' ? of.windows : leader.windows,
  }));
}

/** A leader and its blind twins that are believed together: the verdict calls them inseparable without the twins' channels, however probable each is. */
function twinsOf(episode: WeighedEpisode<SaidSample>): Claimed | undefined {
  const { leader, causes } = episode;
  const own = causesOf(episode).find(({ fault }) => fault === leader.fault);
  const twins = causes.filter(({ of }) => isBlindTwin(leader, of));
  if (!own || twins.length === 0) return undefined;
  const probability = twins.reduce((sum, twin) => sum + twin.probability, own.probability);
  return probability < BELIEVED ? undefined : { ...own, or: twins.map(({ of }) => of.fault), probability };
}

/** Hits and misses of one fault. blind: the detector lacked a channel; untold: it said that it cannot tell for another reason, which counts as missed; wrong: claimed and not there; led: led an occurrence, believed or not. */
export interface FaultScore {
  readonly fault: string;
  readonly strengths: readonly { readonly strength: number; readonly hits: number; readonly of: number }[];
  readonly hits: number;
  readonly of: number;
  readonly blind: number;
  readonly untold: number;
  readonly wrong: number;
  readonly led: number;
  readonly precision: number;
  readonly recall: number;
  readonly f1: number;
}

/** Everything measured about a set of pulls. */
export interface Score {
  readonly pulls: number;
  readonly faults: readonly FaultScore[];
  readonly micro: { readonly precision: number; readonly recall: number; readonly f1: number; readonly led: number };
  readonly falseAlarms: Readonly<Record<'clean' | 'decoy' | 'faulty', Alarms>>;
  readonly confusion: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** Error of the first and last moment of the windows of hits [s]: middle and 90 % of the magnitudes. */
  readonly windows: { readonly middle: number; readonly most: number };
  readonly claims: readonly WeighedClaim[];
  readonly brier: number;
  readonly calibrationError: number;
  readonly weighing: { readonly middle: number; readonly most: number };
}

export interface Alarms {
  readonly pulls: number;
  readonly alarms: number;
  readonly low: number;
  readonly high: number;
}

/** Scores a set of pulls under a model. */
export function scored(pulls: readonly MeasuredPull[], model: WeighingModel): Score {
  const told = pulls.map((pull) => ({ pull, ...weighedIn(pull, model) }));
  const names = [
    ...new Set(told.flatMap(({ pull, claimed }) => [...pull.truths, ...claimed].map(({ fault }) => fault))),
  ];
  const faults = names.sort().map((fault) => faultScore(fault, told));
  const sum = (of: (one: FaultScore) => number): number => faults.reduce((total, one) => total + of(one), 0);
  const strong = sum((one) =>
    one.strengths.filter(({ strength }) => strength >= FULL).reduce((n, { hits }) => n + hits, 0),
  );
  const all = sum(fullOf);
  const right = sum(({ hits }) => hits);
  const [precision, recall] = [right / (right + sum(({ wrong }) => wrong)), strong / all];
  const led = sum((one) => (Number.isFinite(one.led) ? one.led * fullOf(one) : 0)) / all;
  const claims = claimsOf(pulls, model);
  const times = pulls.map(({ weighing }) => weighing).sort((a, b) => a - b);
  return {
    pulls: pulls.length,
    faults,
    micro: { precision, recall, f1: (2 * precision * recall) / (precision + recall), led },
    falseAlarms: {
      clean: alarmsOf(told.filter(({ pull }) => pull.truths.length === 0 && !pull.decoy)),
      decoy: alarmsOf(told.filter(({ pull }) => pull.truths.length === 0 && pull.decoy)),
      faulty: alarmsOf(told.filter(({ pull }) => pull.truths.length > 0)),
    },
    confusion: confusionOf(told),
    windows: windowErrors(told),
    claims,
    brier: brierScore(claims),
    calibrationError: calibrationError(claims),
    weighing: {
      middle: times[times.length >> 1] ?? Number.NaN,
      most: times[Math.floor(0.99 * times.length)] ?? Number.NaN,
    },
  };
}

/** Cases of a fault at full strength and above. */
function fullOf({ strengths }: FaultScore): number {
  return strengths.filter(({ strength }) => strength >= FULL).reduce((sum, each) => sum + each.of, 0);
}

interface Told extends Weighed {
  readonly pull: MeasuredPull;
}

/** Pre-ignition is heard as knock, and pressure droops when the compressor is at its end: to claim that there is neither wrong nor a hit. */
const HEARD_AS: Partial<Record<Fault, Fault>> = { 'pre-ignition': 'knock', 'compressor-choke': 'boost-droop' };

/** Whether a claim was right. */
export function isRight(claim: Claimed, { truths }: MeasuredPull): boolean {
  return truths.some(
    ({ fault, ...span }) =>
      (names(claim, fault) || HEARD_AS[fault] === claim.fault) && windowsMeet([span], claim.windows),
  );
}

function names({ fault, or }: Claimed, wanted: Fault): boolean {
  return fault === wanted || or?.includes(wanted) === true;
}

/** The claim that found a fault. */
export function hit(truth: TrueFault, claimed: readonly Claimed[]): Claimed | undefined {
  return claimed.find((claim) => names(claim, truth.fault) && windowsMeet([truth], claim.windows));
}

function faultScore(fault: Fault, told: readonly Told[]): FaultScore {
  const cases = told.flatMap(({ pull, claimed, led }) =>
    pull.truths
      .filter((truth) => truth.fault === fault)
      .map((truth) => ({
        strength: classOf(truth.strength),
        blind: pull.blind.includes(fault),
        untold: pull.said.find((one) => one.fault === fault)?.answer === 'cannot tell',
        hit: hit(truth, claimed) !== undefined,
        led: hit(truth, led) !== undefined,
      })),
  );
  const seen = cases.filter(({ blind }) => !blind);
  const strengths = [...new Set(seen.map(({ strength }) => strength))].sort((a, b) => a - b);
  const wrong = told.reduce(
    (sum, { pull, claimed }) => sum + claimed.filter((claim) => claim.fault === fault && !isRight(claim, pull)).length,
    0,
  );
  const count = (list: typeof seen): number => list.filter((one) => one.hit).length;
  const full = seen.filter(({ strength }) => !(strength < FULL));
  const [precision, recall] = [count(seen) / (count(seen) + wrong), count(full) / full.length];
  return {
    fault,
    strengths: strengths.map((strength) => {
      const at = seen.filter((one) => one.strength === strength);
      return { strength, hits: count(at), of: at.length };
    }),
    ...{ hits: count(seen), of: seen.length, blind: cases.length - seen.length, wrong, precision, recall },
    untold: full.filter((one) => one.untold).length,
    led: full.filter((one) => one.led).length / full.length,
    f1: (2 * precision * recall) / (precision + recall),
  };
}

/** The strengths that faults are sorted into: half, once, twice and four times the trade's threshold and more; what grows over a day passes through all. */
const CLASSES = [0.5, 1, 2, 4] as const;

/** The largest class that a strength reaches; the smallest for less. */
function classOf(strength: number): number {
  return CLASSES.filter((one) => strength >= REACHED * one).at(-1) ?? CLASSES[0];
}

function alarmsOf(told: readonly Told[]): Alarms {
  const wrong = told.map(({ pull, claimed }) => claimed.filter((claim) => !isRight(claim, pull)).length);
  const spoiled = wrong.filter((count) => count > 0).length;
  return { pulls: told.length, alarms: wrong.reduce((a, b) => a + b, 0), ...wilson(spoiled, told.length) };
}

/** Injected fault → who led the most probable occurrence in its windows, or nothing. */
function confusionOf(told: readonly Told[]): Score['confusion'] {
  const matrix = new Map<string, Map<string, number>>();
  for (const { pull, led } of told) {
    for (const truth of pull.truths.filter(({ strength }) => classOf(strength) >= FULL)) {
      if (pull.blind.includes(truth.fault)) continue;
      const near = led.filter(({ windows }) => windowsMeet([truth], windows));
      const first = hit(truth, near) ?? [...near].sort((a, b) => b.probability - a.probability)[0];
      const row = matrix.get(truth.fault) ?? new Map<string, number>();
      const name = first?.fault ?? 'nothing';
      matrix.set(truth.fault, row.set(name, (row.get(name) ?? 0) + 1));
    }
  }
  return matrix;
}

function windowErrors(told: readonly Told[]): Score['windows'] {
  const errors = told
    .flatMap(({ pull, claimed }) =>
      pull.truths.flatMap((truth) => {
        const claim = hit(truth, claimed);
        if (!claim || claim.windows.length === 0) return [];
        const from = Math.min(...claim.windows.map((window) => window.from));
        const to = Math.max(...claim.windows.map((window) => window.to));
        return [Math.abs(from - truth.from), Math.abs(to - truth.to)];
      }),
    )
    .sort((a, b) => a - b);
  return {
    middle: errors[errors.length >> 1] ?? Number.NaN,
    most: errors[Math.floor(0.9 * errors.length)] ?? Number.NaN,
  };
}
