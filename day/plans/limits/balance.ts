import { normalCdf } from '../../../core/numerics/index.ts';
import type { Measured, QuantityKind } from '../../../core/quantities/index.ts';
import type { Subject } from '../../verdicts/index.ts';
import type { KnownValue, PredictedLine, Prediction } from '../model/engine-model.ts';
import { LEFT_IN_OWN_TERMS } from './border-seen.ts';
import type { Ledger } from './ledger.ts';
import type { Limit, LimitName } from './limit.ts';
import { RESTS_ON } from './rests-on.ts';

/** What a limit is called and where its equation comes from. */
export interface LimitTitle {
  readonly name: LimitName;
  readonly subject: Subject;
  readonly kind: QuantityKind;
  readonly source: string;
  readonly kept?: number;
}

/** What is asked and what there is at one engine speed. */
export interface Balance {
  readonly required: Measured;
  readonly available: Measured;
}

/** Nothing can be said at this speed. */
export const UNKNOWN: Measured = { value: Number.NaN, standardUncertainty: Number.NaN };

/**
 * A limit over engine speed from its balance at each.
 *
 *     margin = a/r − 1,   u(margin) = (a/r)·√(u(a)²/a² + u(r)²/r²),   over = Φ((r − a)/√(u(a)² + u(r)²))
 *
 * @valid   required and available independent and near normal
 * @source  JCGM 100:2008, equation 12
 */
export function limitFrom(
  title: LimitTitle,
  at: { readonly prediction: Prediction; readonly ledger: Ledger; readonly why?: string },
  balance: (index: number) => Balance | undefined,
): Limit {
  const { speed } = at.prediction;
  const column = (): Float64Array => new Float64Array(speed.length).fill(Number.NaN);
  const found = {
    required: column(),
    requiredUncertainty: column(),
    available: column(),
    availableUncertainty: column(),
    margin: column(),
    marginUncertainty: column(),
    over: column(),
  };
  for (let i = 0; i < speed.length; i++) {
    const here = balance(i);
    if (here === undefined) continue;
    const { required, available } = here;
    found.required[i] = required.value;
    found.requiredUncertainty[i] = required.standardUncertainty;
    found.available[i] = available.value;
    found.availableUncertainty[i] = available.standardUncertainty;
    const quotient = available.value / required.value;
    const relative = Math.hypot(
      available.standardUncertainty / available.value,
      required.standardUncertainty / required.value,
    );
    found.margin[i] = quotient - 1;
    found.marginUncertainty[i] = Math.abs(quotient) * relative;
    found.over[i] = chanceOver(here);
  }
  const { missing } = at.ledger;
  const felt = RESTS_ON[title.name].filter((name) => at.prediction.assumed.includes(name));
  const assumed = [...new Set([...at.ledger.assumed, ...felt])];
  const nothing = found.over.every(Number.isNaN);
  const why = nothing ? (at.why ?? reasonOf(at.prediction, missing)) : undefined;
  const learnt = nothing || at.ledger.learnt.length === 0 ? {} : { learnt: at.ledger.learnt };
  return { ...title, speed, ...found, ...(why === undefined ? {} : { why }), missing, assumed, ...learnt };
}

/** A limit of which nothing can be said, with the facts that would tell. */
export function unknownLimit(
  title: LimitTitle,
  at: { readonly prediction: Prediction; readonly ledger: Ledger },
  why: string,
): Limit {
  return limitFrom(title, { ...at, why }, () => undefined);
}

/** Value of a predicted line at one speed; NaN where it could not be told. */
export function predicted(prediction: Prediction, line: PredictedLine, index: number): Measured {
  const curve = prediction.lines[line];
  const standardUncertainty = curve.standardUncertainty[index];
  return { value: curve.value[index], standardUncertainty: Math.max(standardUncertainty, 0) };
}

/**
 * A predicted line against a border that the day showed in the model's own terms: then only what carrying to this place may have wrong is
 * left of its uncertainty. Elsewhere the prediction as it is.
 */
export function againstBorder(told: Measured, fact: KnownValue | undefined): Measured {
  const left = fact?.origin === 'measured today' ? LEFT_IN_OWN_TERMS[fact.name] : undefined;
  if (left === undefined) return told;
  return { value: told.value, standardUncertainty: Math.min(told.standardUncertainty, left * Math.abs(told.value)) };
}

/** Probability that more is asked than there is [0 … 1]. */
function chanceOver({ required, available }: Balance): number {
  const short = required.value - available.value;
  if (Number.isNaN(short)) return Number.NaN;
  const spread = Math.hypot(required.standardUncertainty, available.standardUncertainty);
  if (spread > 0) return normalCdf(short / spread);
  return short > 0 ? 1 : 0;
}

function reasonOf(prediction: Prediction, missing: readonly string[]): string {
  if (missing.length > 0) return `missing ${missing.join(', ')}`;
  const lines = prediction.missing.join(', ');
  return lines === '' ? 'not predicted at any of these speeds' : `not predicted: missing ${lines}`;
}
