import type { Fault, Subject } from '../fault.ts';
import type { QuestionName } from './questions.ts';

/** What can lie behind an occurrence: one of the faults, or none of them. */
export type Cause = Fault | 'nothing';

/** A question about an occurrence, or what one detector said of it. */
export type ItemName = QuestionName | `said:${Fault}`;

/** How a detector answered: it looked in vain, or saw it faintly, clearly or surely. The borders are `CLEAR` and `SURE`. */
export type Said = 'no' | 'faint' | 'clear' | 'sure';

/** Strengths from which a detection counts as clear and as sure. @source our default: detectors give 0.5 at a threshold and 0.95 from three times it on */
export const CLEAR = 0.7;
export const SURE = 0.88;

/** How a detection of some strength counts. */
export function saidAt(strength: number): Exclude<Said, 'no'> {
  return strength >= SURE ? 'sure' : strength >= CLEAR ? 'clear' : 'faint';
}

/** Answers by item; an item that is not in it is not known. */
export type Items = Readonly<Partial<Record<ItemName, string>>>;

/** Calibration of one group: ln odds told = intercept + slope · ln odds computed. */
export interface LogisticLine {
  readonly slope: number;
  readonly intercept: number;
}

/**
 * What was learnt from invented days.
 * priors: share of pulls in which a fault was. weights: per item, cause and answer the natural logarithm of how much more often that answer
 * comes with the cause than in general; what is not listed is 0. general: share of each answer in general.
 * trust: how often a fault was there when its detector saw it. explains: detectors that a fault sets off besides its own.
 * twins: per detector that saw something and twin of its fault that nobody could look for, ln of how much more often its own fault was behind it.
 */
export interface WeighingModel {
  readonly priors: Readonly<Partial<Record<Fault, number>>>;
  readonly general: Readonly<Partial<Record<ItemName, Readonly<Record<string, number>>>>>;
  readonly weights: Readonly<
    Partial<Record<ItemName, Readonly<Partial<Record<Cause, Readonly<Record<string, number>>>>>>>
  >;
  readonly trust: Readonly<Partial<Record<Fault, Readonly<Record<Exclude<Said, 'no'>, number>>>>>;
  readonly explains: Readonly<Partial<Record<Fault, readonly Fault[]>>>;
  readonly twins?: Readonly<Partial<Record<Fault, Readonly<Partial<Record<Fault, number>>>>>>;
  /**
   * Share of a weight that is believed: answers to related questions repeat one another. said: of look-alikes' detectors that saw nothing; what a
   * detector did see, and what it says of its own fault, counts in full.
   */
  readonly shrinkage: { readonly said: number; readonly questions: number };
  readonly calibration: { readonly all: LogisticLine } & Readonly<Partial<Record<Subject, LogisticLine>>>;
}

/** Prior of a fault that no invented day had [1]. @source our default */
const RARE = 0.005;

/** Share of pulls in which a fault was [1]. */
export function priorOf(model: WeighingModel, fault: Fault): number {
  return model.priors[fault] ?? RARE;
}

/** How much an answer speaks for a cause as it is counted: its weight as far as it is believed. */
export function believedWeight(
  model: WeighingModel,
  item: ItemName,
  { cause, answer }: { readonly cause: Cause; readonly answer: string },
): number {
  const weight = model.weights[item]?.[cause]?.[answer] ?? 0;
  if (!item.startsWith('said:')) return model.shrinkage.questions * weight;
  return answer === 'no' && item !== `said:${cause}` ? model.shrinkage.said * weight : weight;
}
