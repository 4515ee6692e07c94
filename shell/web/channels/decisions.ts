import { displayUnit, KINDS, type QuantityKind, UNITS } from '../../../core/quantities/index.ts';
import type { ColumnView, FileView, MappingDecision, Vocabulary } from '../../contract/index.ts';

/** What a person has decided about one column so far. Undefined meaning: not decided, the column is not used. */
export interface Decision {
  readonly column: string;
  readonly meaning: string | undefined;
  readonly unit: string;
  /** What the written numbers are divided by before the unit counts. */
  readonly divisor?: number | undefined;
  /** From where a written pressure counts. */
  readonly zero?: 'vacuum' | 'ambient' | undefined;
}

/** Where everybody starts: our proposals, except where a question must be answered first. */
export function firstDecisions({ columns }: FileView): readonly Decision[] {
  return columns.map(({ name, meaning, proposedUnit, question, unit, divisor, zero }) => ({
    column: name,
    meaning: question === undefined ? meaning : undefined,
    unit: proposedUnit === '' ? unit : proposedUnit,
    divisor,
    zero,
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
    columns: decisions.flatMap(({ column, meaning, unit, divisor, zero }) => {
      if (meaning === undefined) return [];
      const position = columns.find(({ name }) => name === column)?.position;
      return [{ column, meaning, unit, divisor, zero, position }];
    }),
  };
}

export interface Sorted {
  readonly asked: readonly ColumnView[];
  readonly unsure: readonly ColumnView[];
  readonly sure: readonly ColumnView[];
  readonly unnamed: readonly ColumnView[];
}

/** From here on a column is shown folded away. Our default. */
const SURE = 0.9;

/** Columns in the order in which they deserve a look: open questions, the unsure with the least sure first, the sure, those nothing spoke for. */
export function inOrder(columns: readonly ColumnView[]): Sorted {
  const rest = columns.filter(({ question }) => question === undefined);
  const named = rest.filter(({ meaning }) => meaning !== 'unknown');
  return {
    asked: columns.filter(({ question }) => question !== undefined),
    unsure: named.filter(({ confidence }) => confidence < SURE).sort((one, other) => one.confidence - other.confidence),
    sure: named.filter(({ confidence }) => confidence >= SURE),
    unnamed: rest.filter(({ meaning }) => meaning === 'unknown'),
  };
}

/** Symbols of the units in which this kind can be written. */
export function unitsFor(kind: QuantityKind): readonly string[] {
  return UNITS.filter(({ dimension }) => dimension === KINDS[kind].dimension).map(({ symbol }) => symbol);
}

/** Two readings offer each other as a meaning once: the proposal, its alternatives. */
export function offers({ meaning, proposedUnit, divisor, zero, confidence, reason, alternatives }: ColumnView) {
  const all = [{ meaning, unit: proposedUnit, divisor, zero, confidence, reason }, ...alternatives];
  return all.filter((offer, at) => all.findIndex((other) => isSame(other, offer)) === at);
}

type Written = Pick<Decision, 'meaning' | 'unit' | 'divisor' | 'zero'>;

/** True when two readings turn the same text into the same value. */
export function isSame(one: Written, other: Written): boolean {
  return (
    one.meaning === other.meaning && one.unit === other.unit && one.divisor === other.divisor && one.zero === other.zero
  );
}

function divided(divisor = 1): string {
  if (divisor === 1) return '';
  return divisor === -1 ? ', its sign turned' : ` after dividing by ${divisor}`;
}

/** How the column is written, in words: `kPa`, `kPa above ambient`, `1 after dividing by 14.7`. */
export function unitInWords({ unit, divisor, zero }: Omit<Written, 'meaning'>): string {
  const parts = `${unit}${divided(divisor)}`;
  const from = zero === undefined ? '' : zero === 'ambient' ? ' above ambient' : ' above vacuum';
  return `${parts}${from}`;
}
