import type { Meaning } from '../../channels/index.ts';
import type { Detection, Fault } from '../detector.ts';
import type { Inseparable } from '../verdict.ts';
import type { ItemName, Items, WeighingModel } from './model.ts';
import { QUESTIONS, type QuestionName, questionNames } from './questions.ts';

/** Two causes count as parted when one is this many times as probable as the other. @source our default */
const PARTED = 4;
/** An item parts two causes when its answers differ by this much (Jeffreys divergence) [nat]. @source our default */
export const PARTS = 0.5;

/** What is asked: hypotheses with what their detectors said, the answers, and which meanings are logged. */
export interface PartingInput {
  readonly hypotheses: readonly {
    readonly fault: Fault;
    readonly probability: number;
    readonly detection: Detection;
  }[];
  readonly items: Items;
  readonly model: WeighingModel;
  readonly logged: (meaning: Meaning) => boolean;
}

/** Pairs that stayed together in this log, with the channels that would part them, most probable pairs first. */
export function inseparablePairs({ hypotheses, items, model, logged }: PartingInput): readonly Inseparable[] {
  return hypotheses.flatMap((one, i) =>
    hypotheses.slice(i + 1).flatMap((other): Inseparable[] => {
      const unseen = [one, other].find(
        ({ detection }) => detection.answer === 'cannot tell' && detection.missing.length > 0,
      );
      const close = one.probability < PARTED * other.probability;
      if (!close && !unseen) return [];
      const missing = new Set<Meaning>(unseen?.detection.missing ?? []);
      for (const name of questionNames()) {
        if (items[name] !== undefined || divergence(model, name, [one.fault, other.fault]) < PARTS) continue;
        for (const meaning of missingFor(name, logged)) missing.add(meaning);
      }
      for (const { detection } of hypotheses) {
        if (detection.answer !== 'cannot tell') continue;
        if (divergence(model, `said:${detection.fault}`, [one.fault, other.fault]) < PARTS) continue;
        for (const meaning of detection.missing) missing.add(meaning);
      }
      return [{ one: one.fault, other: other.fault, without: [...missing] }];
    }),
  );
}

/** Channels that a question lacks: the first of each list of which none is logged. */
export function missingFor(name: QuestionName, logged: (meaning: Meaning) => boolean): readonly Meaning[] {
  const needs: readonly (readonly Meaning[])[] = QUESTIONS[name].needs;
  return needs.flatMap((anyOf) => (anyOf.some(logged) ? [] : anyOf.slice(0, 1)));
}

/**
 * How far an item's answers tell two causes apart [nat]; 0 when nothing was learnt.
 *
 *     D = Σ (P₁ − P₂)·ln(P₁/P₂)
 *
 * @source Jeffreys, Proc. R. Soc. A 186 (1946) 453
 */
export function divergence(
  model: WeighingModel,
  item: ItemName,
  [one, other]: readonly [Fault | 'nothing', Fault | 'nothing'],
): number {
  const weights = model.weights[item];
  return Object.entries(model.general[item] ?? {}).reduce((sum, [answer, share]) => {
    const [a, b] = [weights?.[one]?.[answer] ?? 0, weights?.[other]?.[answer] ?? 0];
    return sum + share * (Math.exp(a) - Math.exp(b)) * (a - b);
  }, 0);
}
