import type { Fault } from '../../fault.ts';
import { companyOf, episodesOf, saidOf } from '../episodes.ts';
import { isBlindTwin } from '../heard.ts';
import { areTwins, lookAlikesOf, SUMMARY } from '../look-alikes.ts';
import { type Cause, type ItemName, saidAt, type WeighingModel } from '../model.ts';
import { answered } from '../posterior.ts';
import { QUESTIONS, type QuestionName, questionNames } from '../questions.ts';
import { type PullSample, type SaidSample, wasThere } from './samples.ts';

/** How often each answer was counted. */
export type Shares = Readonly<Record<string, number>>;
export type Tables = Pick<WeighingModel, 'priors' | 'general' | 'weights' | 'trust' | 'explains' | 'twins'>;

/** What a detector says before any was counted: of its own fault, and where nothing is. @source our default: what detectors are built to do */
const OWN: Shares = { sure: 0.2, clear: 0.25, faint: 0.25, no: 0.3 };
const SILENT: Shares = { sure: 0.001, clear: 0.001, faint: 0.001, no: 0.997 };

/** How many pulls those expectations are worth against a detector's own count. Chosen by `learntModel`. */
export interface Worth {
  readonly own: number;
  readonly silent: number;
}

/** @source our default: the middle of what `learntModel` tries */
const USUAL: Worth = { own: 3, silent: 200 };
/** Pulls that a detector's general share is worth, that its silence is worth under another's fault, and that the usual share of all faults is worth in a prior. @source our default */
const GENERAL = 2;
const CROSS = 4;
const PRIOR = 4;
/** Episodes that the general share of a question's answers is worth against a cause's own count. @source our default */
const SMOOTHING = 4;
/** A fault explains another's detector when that one saw something in this share of its pulls, in so many of them, and so many times as often as in clean pulls. @source our default */
const EXPLAINS = { share: 0.25, pulls: 2, times: 4 } as const;
/** Weights nearer to 0 than this are left out: they are noise of the counting. @source our default */
const SMALLEST = 0.05;

/** Everything that is counted in pulls; smoothed as Laplace did, with the general share in place of equal ones. @source Laplace's rule of succession; m-estimate: Cestnik 1990 */
export function countedTables(pulls: readonly PullSample[], faults: readonly Fault[], worth = USUAL): Tables {
  const found = faults.map((fault) => pullsWith(pulls, fault).length);
  const usual = (found.reduce((sum, count) => sum + count, 0) / faults.length + 0.5) / (pulls.length + 1);
  const priors = Object.fromEntries(
    faults.map((fault, i) => [fault, rounded(((found[i] ?? 0) + PRIOR) / (pulls.length + PRIOR / usual))]),
  );
  const trust = Object.fromEntries(faults.map((fault) => [fault, trustIn(pulls, fault)]));
  const explains = explained(pulls, faults);
  const said = saidWeights(pulls, faults, { explains, worth });
  const questions = questionWeights(pulls, { explains, trust });
  return {
    priors,
    trust,
    explains,
    twins: twinGaps(pulls, faults),
    general: { ...said.general, ...questions.general },
    weights: { ...said.weights, ...questions.weights },
  };
}

function pullsWith(pulls: readonly PullSample[], fault: Fault): readonly PullSample[] {
  return pulls.filter(({ truths }) => truths.some((truth) => truth.fault === fault));
}

/** Of two sightings that are granted, so many were right. @source our default */
const GRANTED = { faint: 1, clear: 1.4, sure: 1.7 } as const;

/** How often a fault was there when its detector saw it; two sightings are granted. */
function trustIn(pulls: readonly PullSample[], fault: Fault): Record<'faint' | 'clear' | 'sure', number> {
  const seen = { faint: 0, clear: 0, sure: 0 };
  const right = { faint: 0, clear: 0, sure: 0 };
  for (const pull of pulls) {
    const one = pull.said.find((sample) => sample.fault === fault);
    if (one?.answer !== 'seen') continue;
    const said = saidAt(one.strength);
    seen[said] += 1;
    if (wasThere(pull, fault, one.windows)) right[said] += 1;
  }
  const share = (said: 'faint' | 'clear' | 'sure'): number => rounded((right[said] + GRANTED[said]) / (seen[said] + 2));
  return { faint: share('faint'), clear: share('clear'), sure: share('sure') };
}

/** Pulls with either of two twins that are granted. @source our default */
const BOTH = 2;

/** For each detector and each blind twin of its fault, ln of how much more often its own fault was there than the twin. */
function twinGaps(pulls: readonly PullSample[], faults: readonly Fault[]): NonNullable<Tables['twins']> {
  const gapOf = (fault: Fault, twin: Fault): number => {
    const seen = pulls.flatMap((pull) => {
      const [one, other] = [fault, twin].map((name) => pull.said.find((said) => said.fault === name));
      return one && other && isBlindTwin(one, other) ? [{ pull, windows: one.windows }] : [];
    });
    const [own, twins] = [fault, twin].map(
      (name) => seen.filter(({ pull, windows }) => wasThere(pull, name, windows)).length,
    );
    return rounded(Math.log((own + BOTH) / (twins + BOTH)));
  };
  const pairs = faults.map((fault) => [fault, faults.filter((other) => areTwins(fault, other))] as const);
  return Object.fromEntries(
    pairs
      .filter(([, twins]) => twins.length > 0)
      .map(([fault, twins]) => [fault, Object.fromEntries(twins.map((twin) => [twin, gapOf(fault, twin)]))]),
  );
}

/** Detectors that a fault sets off besides its own, learnt from pulls with that fault alone. */
function explained(pulls: readonly PullSample[], faults: readonly Fault[]): Tables['explains'] {
  const clean = pulls.filter(({ truths }) => truths.length === 0);
  const leaks = seenCounts(clean);
  const found: Partial<Record<Fault, readonly Fault[]>> = {};
  for (const fault of faults) {
    const alone = pullsWith(pulls, fault).filter(({ truths }) => truths.every((truth) => truth.fault === fault));
    const seen = seenCounts(alone);
    const set = faults.filter((other) => {
      const hits = seen.get(other) ?? 0;
      const leak = ((leaks.get(other) ?? 0) + 0.5) / (clean.length + 1);
      const share = hits / Math.max(1, alone.length);
      return other !== fault && hits >= EXPLAINS.pulls && share >= EXPLAINS.share && share >= EXPLAINS.times * leak;
    });
    if (set.length > 0) found[fault] = set;
  }
  return found;
}

/** In how many pulls each detector saw something, in the windows of what was there. */
function seenCounts(pulls: readonly PullSample[]): ReadonlyMap<Fault, number> {
  const counts = new Map<Fault, number>();
  for (const { said, truths } of pulls) {
    for (const one of said) {
      if (one.answer !== 'seen' || saidOf(one, truths) === 'no') continue;
      counts.set(one.fault, (counts.get(one.fault) ?? 0) + 1);
    }
  }
  return counts;
}

interface Weights {
  readonly general: Partial<Record<ItemName, Shares>>;
  readonly weights: Partial<Record<ItemName, Partial<Record<Cause, Shares>>>>;
}

/** Weights of what detectors say, for their own fault, for its look-alikes, and for nothing. What all detectors do together is what one is expected to do. */
function saidWeights(
  pulls: readonly PullSample[],
  faults: readonly Fault[],
  { explains, worth }: { readonly explains: Tables['explains']; readonly worth: Worth },
): Weights {
  const result: Weights = { general: {}, weights: {} };
  const everyone = pulls.flatMap(({ said }) => said);
  const lookAlikes = lookAlikesOf(everyone, explains);
  const own = new Map(faults.map((fault) => [fault, countsOf(pullsWith(pulls, fault), fault, fault)]));
  const silent = new Map(
    faults.map((fault) => {
      const like = new Set([fault, ...(lookAlikes.get(fault) ?? [])]);
      const others = pulls.filter(({ truths }) => !truths.some((truth) => like.has(truth.fault)));
      return [fault, countsOf(others, fault)];
    }),
  );
  const usualOwn = pooled([...own.values()], OWN);
  const caused = pulls.filter(({ truths }) => truths.some(({ fault }) => fault !== SUMMARY));
  for (const detector of faults) {
    const item: ItemName = `said:${detector}`;
    const quiet = smoothed(silent.get(detector) ?? {}, SILENT, worth.silent);
    const general = smoothed(countsOf(pulls, detector), quiet, GENERAL);
    result.general[item] = roundedAll(general);
    const weights: Partial<Record<Cause, Shares>> = { nothing: logRatios(quiet, general) };
    for (const fault of faults) {
      if (fault !== detector && lookAlikes.get(fault)?.has(detector) !== true) continue;
      const counts = fault === detector ? (own.get(fault) ?? {}) : countsOf(pullsWith(pulls, fault), detector, fault);
      // A summary is set off by whatever costs power: of one cause it is expected as of all of them, not to be quiet.
      const others = detector === SUMMARY ? smoothed(countsOf(caused, detector), quiet, GENERAL) : quiet;
      const expected = fault === detector ? usualOwn : others;
      weights[fault] = logRatios(smoothed(counts, expected, fault === detector ? worth.own : CROSS), general);
    }
    result.weights[item] = weights;
  }
  return result;
}

/** What detectors usually say of their own fault: the mean of their shares. */
function pooled(counts: readonly Shares[], expected: Shares): Shares {
  const each = counts.filter((one) => Object.keys(one).length > 0).map((one) => smoothed(one, expected, 1));
  if (each.length === 0) return expected;
  return Object.fromEntries(
    Object.keys(expected).map((answer) => [answer, each.reduce((sum, one) => sum + one[answer], 0) / each.length]),
  );
}

/** How often a detector answered what; with a fault, only where it could have spoken about that fault's windows. */
function countsOf(pulls: readonly PullSample[], detector: Fault, fault?: Fault): Shares {
  const counts: Record<string, number> = {};
  for (const { said, truths } of pulls) {
    const one = said.find((sample) => sample.fault === detector);
    const windows = fault === undefined ? (one?.windows ?? []) : truths.filter((truth) => truth.fault === fault);
    const answer = one && saidOf(one, windows);
    if (answer !== undefined) counts[answer] = (counts[answer] ?? 0) + 1;
  }
  return counts;
}

/** Weights of the questions' answers, from the episodes that the detectors of these pulls make. */
function questionWeights(
  pulls: readonly PullSample[],
  { explains, trust }: Pick<Tables, 'explains' | 'trust'>,
): Weights {
  const result: Weights = { general: {}, weights: {} };
  const rows = pulls.flatMap((pull) => episodeRows(pull, { explains, trust }));
  for (const item of questionNames()) {
    const answers: readonly string[] = Object.keys(QUESTIONS[item].answers);
    const equal: Shares = Object.fromEntries(answers.map((answer) => [answer, 1 / answers.length]));
    const general = smoothed(tally(rows, item), equal, 1);
    result.general[item] = roundedAll(general);
    const causes = new Set(rows.flatMap((row) => row.causes));
    const weights: Partial<Record<Cause, Shares>> = {};
    for (const cause of causes) {
      const own = rows.filter((row) => row.causes.includes(cause));
      const ratios = logRatios(smoothed(tally(own, item), general, SMOOTHING), general);
      if (Object.keys(ratios).length > 0) weights[cause] = ratios;
    }
    result.weights[item] = weights;
  }
  return result;
}

interface Row {
  readonly items: NonNullable<SaidSample['items']>;
  readonly causes: readonly Cause[];
}

/** Each episode with the faults that really were behind it, or `nothing`. */
function episodeRows(pull: PullSample, { explains, trust }: Pick<Tables, 'explains' | 'trust'>): readonly Row[] {
  const lookAlikes = lookAlikesOf(pull.said, explains);
  return episodesOf(pull.said, lookAlikes, { trust }).map(({ leader }, rank) => {
    const like = [leader.fault, ...(lookAlikes.get(leader.fault) ?? [])];
    const causes = like.filter((fault) => wasThere(pull, fault, leader.windows));
    const items = { ...leader.items, ...companyOf(rank) };
    return { items, causes: causes.length > 0 ? causes : ['nothing'] };
  });
}

function tally(rows: readonly Row[], item: QuestionName): Shares {
  const counts: Record<string, number> = {};
  for (const { items } of rows) {
    const answer = answered(items).find((one) => one.item === item)?.answer;
    if (answer !== undefined) counts[answer] = (counts[answer] ?? 0) + 1;
  }
  return counts;
}

/** Shares from counts, drawn towards expected shares that are worth some counts. */
export function smoothed(counts: Shares, expected: Shares, worth: number): Shares {
  const total = Object.values(counts).reduce((sum, count) => sum + count, 0);
  return Object.fromEntries(
    Object.entries(expected).map(([answer, share]) => [
      answer,
      ((counts[answer] ?? 0) + worth * share) / (total + worth),
    ]),
  );
}

function logRatios(shares: Shares, general: Shares): Shares {
  const ratios = Object.entries(shares).map(([answer, share]) => [answer, Math.log(share / general[answer])] as const);
  if (ratios.every(([, ratio]) => Math.abs(ratio) < SMALLEST)) return {};
  return Object.fromEntries(ratios.map(([answer, ratio]) => [answer, Number(ratio.toFixed(1))]));
}

function roundedAll(shares: Shares): Shares {
  return Object.fromEntries(Object.entries(shares).map(([answer, share]) => [answer, rounded(share)]));
}

function rounded(value: number): number {
  return Number(value.toPrecision(2));
}
