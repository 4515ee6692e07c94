import { calibrated, lnOdds } from './calibration.ts';
import type { Candidate } from './candidate.ts';
import { heard, isBlindTwin } from './heard.ts';
import { believedWeight, type Cause, type ItemName, type Items, priorOf, type WeighingModel } from './model.ts';

/** Shares of candidates brought to probabilities that hold, in their order: by the calibration of each one's group, and not above 1 together. */
export function calibratedShares(
  candidates: readonly Candidate[],
  shares: readonly number[],
  { calibration }: Pick<WeighingModel, 'calibration'>,
): readonly number[] {
  const told = candidates.map(({ subject }, i) => calibrated(shares[i], calibration[subject] ?? calibration.all));
  const sum = told.reduce((total, one) => total + one, 0);
  return heard(candidates, sum > 1 ? told.map((one) => one / sum) : told);
}

/**
 * Share of each candidate, in their order, given the answers: naive Bayes with shrunk weights over the candidates and `nothing`. They exclude
 * one another, so they add up to 1 at most.
 *
 *     ln s(cause) = ln prior + Σ shrinkage·weight(answer)      share = s / Σ s
 *
 * @source Bayes' rule with conditional independence; the shrinkage allows for answers that depend on one another
 */
export function uncalibrated(candidates: readonly Candidate[], items: Items, model: WeighingModel): readonly number[] {
  const priors = candidates.map(({ fault }) => priorOf(model, fault));
  const none = Math.max(0.05, 1 - priors.reduce((sum, prior) => sum + prior, 0));
  const own = candidates.map((candidate, i) =>
    isUnlearnt(candidate, model)
      ? Math.log(none) + lnOdds(candidate.strength)
      : Math.log(priors[i]) + summed(candidate.fault, items, model),
  );
  const scores = candidates.map((candidate, i) =>
    Math.max(own[i], isBlindTwin(candidates[0], candidate) ? own[0] - gapOf(candidates[0], candidate, model) : own[i]),
  );
  const nothing = Math.log(none) + summed('nothing', items, model);
  const top = Math.max(nothing, ...scores);
  const total = [nothing, ...scores].reduce((sum, score) => sum + Math.exp(score - top), 0);
  return scores.map((score) => Math.exp(score - top) / total);
}

/** How much less a blind twin counts than the leader that was seen, where nothing was learnt about the two [nat]. @source our default: the one that was seen is the more frequent one */
const TWIN = 0.5;

/** A twin that only its missing channel hides looks like the leader in all that is logged: it counts as the leader, but for how often each was behind it. */
function gapOf(leader: Candidate, { fault }: Candidate, { twins }: WeighingModel): number {
  return twins?.[leader.fault]?.[fault] ?? TWIN;
}

/** A detector that sees something and of which nothing was learnt yet is believed as far as its own strength. @source our default */
function isUnlearnt({ fault, answer }: Candidate, model: WeighingModel): boolean {
  return answer === 'seen' && model.trust[fault] === undefined;
}

function summed(cause: Cause, items: Items, model: WeighingModel): number {
  return answered(items).reduce((sum, { item, answer }) => sum + believedWeight(model, item, { cause, answer }), 0);
}

/** Items with an answer, in a list. */
export function answered(items: Items): readonly { readonly item: ItemName; readonly answer: string }[] {
  return Object.keys(items).flatMap((item) => (isItem(item, items) ? [{ item, answer: items[item] ?? '' }] : []));
}

function isItem(name: string, items: Items): name is ItemName {
  return name in items;
}
