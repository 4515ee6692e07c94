import { displayUnit, KINDS, type QuantityKind, UNITS } from '../../../core/quantities/index.ts';
import type { ColumnView, FileView, MappingDecision, Vocabulary } from '../../contract/index.ts';

/** What a person has decided about one column so far. Undefined meaning: not decided, the column is not used. */
export interface Decision {
  readonly column: string;
  readonly meaning: string | undefined;
  readonly unit: string;
}

/** Where everybody starts: our proposals, except where a question must be answered first. */
export function firstDecisions({ columns }: FileView): readonly Decision[] {
  return columns.map(({ name, meaning, proposedUnit, question, unit }) => ({
    column: name,
    meaning: question === undefined ? meaning : undefined,
    unit: proposedUnit === '' ? unit : proposedUnit,
  }));
}

/** Decisions with one changed. A new meaning takes its usual unit when the present one does not fit it. */
export function decided(decisions: readonly Decision[], change: Decision, vocabulary: Vocabulary): readonly Decision[] {
  const kind = vocabulary.meanings.find(({ meaning }) => meaning === change.meaning)?.kind;
  const unit =
    kind === undefined || unitsFor(kind).includes(change.unit) ? change.unit : displayUnit(kind, 'metric').symbol;
  return decisions.map((decision) => (decision.column === change.column ? { ...change, unit } : decision));
}

/** What is sent: every column that has a meaning. `text` and unknown columns are kept as numbers without a name. */
export function mappingOf({ columns }: FileView, decisions: readonly Decision[]): MappingDecision {
  return {
    columns: decisions.flatMap(({ column, meaning, unit }) => {
      if (meaning === undefined) return [];
      const position = columns.find(({ name }) => name === column)?.position;
      return [{ column, meaning, unit, ...(position !== undefined && { position }) }];
    }),
  };
}

/** Columns in the order in which they deserve a look: open questions, then the least sure, then the sure ones, then those nothing spoke for. */
export function inOrder(columns: readonly ColumnView[]): {
  readonly asked: readonly ColumnView[];
  readonly believed: readonly ColumnView[];
  readonly unnamed: readonly ColumnView[];
} {
  const asked = columns.filter(({ question }) => question !== undefined);
  const rest = columns.filter(({ question }) => question === undefined);
  const believed = rest
    .filter(({ meaning }) => meaning !== 'unknown')
    .sort((one, other) => one.confidence - other.confidence);
  return { asked, believed, unnamed: rest.filter(({ meaning }) => meaning === 'unknown') };
}

/** Symbols of the units in which this kind can be written. */
export function unitsFor(kind: QuantityKind): readonly string[] {
  return UNITS.filter(({ dimension }) => dimension === KINDS[kind].dimension).map(({ symbol }) => symbol);
}

/** Two readings offer each other as a meaning once: the proposal, its alternatives. */
export function offers({ meaning, proposedUnit, confidence, reason, alternatives }: ColumnView) {
  const all = [{ meaning, unit: proposedUnit, confidence, reason }, ...alternatives];
  return all.filter(
    (offer, at) => all.findIndex((other) => other.meaning === offer.meaning && other.unit === offer.unit) === at,
  );
}
