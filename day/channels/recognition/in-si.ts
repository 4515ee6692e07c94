import { toSi } from '../../../core/quantities/index.ts';
import type { Column } from '../table.ts';
import type { Hypothesis } from './hypotheses.ts';
import type { Weighed } from './relations.ts';

/** Samples in SI under a hypothesis. */
export function inSi({ samples }: Column, { unit, divisor }: Hypothesis): Float64Array {
  return samples.map((value) => toSi(value / divisor, unit));
}

/** Samples in SI under the likeliest hypothesis; undefined where there is none. */
export function likeliestInSi({ column, hypotheses }: Weighed): Float64Array | undefined {
  return hypotheses.length === 0 ? undefined : inSi(column, likeliest(hypotheses));
}

export function likeliest(hypotheses: readonly Hypothesis[]): Hypothesis {
  return hypotheses.reduce((best, each) => (each.weight > best.weight ? each : best));
}
