import { type Measured, measured, type QuantityKind } from '../../../core/quantities/index.ts';
import type { EngineModel } from '../model/engine-model.ts';

/** A usual value for something nobody stated. SI. */
export interface Usual extends Measured {
  readonly kind?: QuantityKind;
  readonly source: string;
}

/** What a limit rests on, noted while it is worked out. */
export interface Ledger {
  /** A known value; where the model has none, the usual one. Both leave a note when nobody stated them. */
  readonly take: (name: string, usual: Usual) => Measured;
  /** A known value, or undefined with a note of what is missing. */
  readonly need: (name: string) => Measured | undefined;
  /** A known value without any note. */
  readonly look: (name: string) => Measured | undefined;
  readonly assumed: readonly string[];
  readonly missing: readonly string[];
  /** By what the day showed the borders that were used, in words. */
  readonly learnt: readonly string[];
}

export function ledgerOf(model: EngineModel): Ledger {
  const assumed = new Set<string>();
  const missing = new Set<string>();
  const learnt = new Set<string>();
  const look = (name: string): Measured | undefined => {
    const known = model.values.get(name);
    if (known === undefined || !Number.isFinite(known.value)) return undefined;
    if (known.learnt !== undefined) learnt.add(known.learnt);
    return measured(known.value, Math.max(known.standardUncertainty || 0, 0));
  };
  const note = (name: string): void => {
    if (model.values.get(name)?.origin === 'prior') assumed.add(name);
  };
  return {
    look,
    take: (name, usual) => {
      const known = look(name);
      if (known) note(name);
      else assumed.add(name);
      return known ?? measured(usual.value, usual.standardUncertainty);
    },
    need: (name) => {
      const known = look(name);
      if (known) note(name);
      else missing.add(name);
      return known;
    },
    get assumed() {
      return [...assumed];
    },
    get missing() {
      return [...missing];
    },
    get learnt() {
      return [...learnt];
    },
  };
}
