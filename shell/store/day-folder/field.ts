import type { QuantityKind } from '../../../core/quantities/index.ts';

/** Limits in SI. `above` is exclusive, `from` and `to` inclusive, `not` is left out. @source physically possible values, our default */
export interface Limits {
  readonly above?: number;
  readonly from?: number;
  readonly to?: number;
  readonly not?: number;
}

/** How the value of one key is written. `units`: the ones we write, preferred first, the SI unit always among them. */
export type Form =
  | { readonly form: 'text' }
  | { readonly form: 'date' }
  | { readonly form: 'clock' }
  | { readonly form: 'choice'; readonly options: readonly string[] }
  /** Several plain numbers, each below the one before. */
  | { readonly form: 'falling'; readonly limits: Limits }
  | { readonly form: 'whole'; readonly options?: readonly number[]; readonly limits: Limits }
  | {
      /** measured: a value with an uncertainty. plain: a value alone. */
      readonly form: 'measured' | 'plain';
      readonly kind: QuantityKind;
      readonly units: readonly string[];
      readonly limits: Limits;
    };

/** One key of `day.yaml`: how it is written, what it means, one example. */
export interface Field {
  readonly form: Form;
  readonly about: string;
  readonly example: string | number;
}

/** One field for every fact of a section: a fact without a key does not compile. */
export type Fields<Facts> = { readonly [Name in keyof Required<Facts>]: Field };

export const text = (about: string, example: string): Field => ({ form: { form: 'text' }, about, example });
export const choice = (options: readonly string[], about: string): Field => ({
  form: { form: 'choice', options },
  about,
  example: options[0] ?? '',
});

/** Kind, units a person may write, the preferred first, and limits. */
export type Scale = readonly [kind: QuantityKind, units: readonly string[], limits: Limits];
export const measured = ([kind, units, limits]: Scale, about: string, example: string | number): Field => ({
  form: { form: 'measured', kind, units, limits },
  about,
  example,
});
export const plain = ([kind, units, limits]: Scale, about: string, example: string | number): Field => ({
  form: { form: 'plain', kind, units, limits },
  about,
  example,
});

export const POSITIVE: Limits = { above: 0 };
export const NOT_NEGATIVE: Limits = { from: 0 };
export const RADIUS: Scale = ['length', ['m', 'mm', 'cm', 'in'], POSITIVE];
export const RATIO: Scale = ['ratio', ['1'], POSITIVE];
export const FORCE: Scale = ['force', ['N', 'kN', 'lbf'], POSITIVE];
export const INERTIA: Scale = ['inertia', ['kg·m²', 'lb·ft²'], NOT_NEGATIVE];
export const SHARE: Scale = ['fraction', ['%', '1'], { from: 0, to: 1 }];
