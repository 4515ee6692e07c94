import {
  answered,
  formatQuantity,
  KINDS,
  type Outcome,
  parseQuantity,
  type Refusal,
  unitNamed,
} from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { readField } from '../../store/index.ts';
import type { FieldRefusal } from '../answers.ts';
import { FACT_ROWS } from './fact-rows.ts';
import type { FactRow } from './fact-table.ts';
import { writeFact } from './write-facts.ts';

/** Facts with the changed texts read in, or every field that cannot be read and why. */
export type FactsRead =
  | { readonly ok: true; readonly facts: DayFacts }
  | { readonly ok: false; readonly refusal: Refusal; readonly fields: readonly FieldRefusal[] };

/**
 * Facts after a person's edit. A text that was not changed leaves its value exactly as it was; one bad field and nothing changes.
 */
export function readFacts(facts: DayFacts, texts: Readonly<Record<string, string>>): FactsRead {
  const fields: FieldRefusal[] = [];
  let changed = facts;
  for (const [path, text] of Object.entries(texts)) {
    const row = FACT_ROWS.find((candidate) => candidate.path === path);
    if (!row) fields.push({ path, message: `unknown fact: ${path}` });
    else if (text.trim() !== writeFact(facts, row)) {
      const read = readFact(row, text.trim());
      if (read.ok) changed = replaced(changed, path, read.value);
      else fields.push({ path, message: read.refusal.message });
    }
  }
  if (fields.length === 0) return { ok: true, facts: changed };
  return {
    ok: false,
    fields,
    refusal: { kind: 'invalid-facts', message: fields.map(({ message }) => message).join('; ') },
  };
}

function readFact(row: FactRow, text: string): Outcome<unknown> {
  if (text === '') return row.path === 'title' ? bad(row, text, 'a title') : answered(undefined);
  if (row.written) {
    const read = readField(row.written, text);
    return read.ok ? answered(read.value) : bad(row, text, read.expected);
  }
  switch (row.form.kind) {
    case 'text':
      return row.path === 'date' && !/^\d{4}-\d{2}-\d{2}$/.test(text) ? bad(row, text, 'YYYY-MM-DD') : answered(text);
    case 'count': {
      const count = Number(text);
      return Number.isInteger(count) && count > 0 ? answered(count) : bad(row, text, 'a whole number above 0');
    }
    case 'choice': {
      const known = row.form.choices.map(({ value }) => value);
      if (!known.includes(text)) return bad(row, text, `one of ${known.join(', ')}`);
      return answered(row.path === 'engine.strokesPerCycle' ? Number(text) : text);
    }
    case 'quantity':
      return readQuantity(row, text, row.form.quantity);
  }
}

function readQuantity(row: FactRow, text: string, kind: Parameters<typeof parseQuantity>[1]): Outcome<unknown> {
  const parsed = parseQuantity(text, kind);
  if (!parsed.ok) return bad(row, text, `${expectedOf(parsed.refusal.message)}${foundUnit(text, kind)}`);
  const { value, standardUncertainty } = parsed.value;
  if (row.above !== undefined && !(value > row.above)) return bad(row, text, 'a value above zero');
  if (row.most !== undefined && value > row.most) return bad(row, text, `at most ${formatQuantity(row.most, kind)}`);
  if (row.bare) return value >= 0 ? answered(value) : bad(row, text, 'a value of zero or more');
  // A value without a written uncertainty counts as exact, and the budget shows it with zero.
  return answered({ value, standardUncertainty: standardUncertainty ?? 0 });
}

/** What a quantity should have been, from the words of its refusal. */
function expectedOf(message: string): string {
  return message.split(', expected ').at(-1) ?? message;
}

/** What a unit that is understood, but is another quantity's, stands for. */
function foundUnit(text: string, kind: Parameters<typeof parseQuantity>[1]): string {
  const [, written = ''] =
    /^[+-]?[\d.]+(?:[eE][+-]?\d+)?\s*(?:(?:±|\+\/-|\+-)\s*[\d.]+\s*)?(\S.*)$/u.exec(text.trim()) ?? [];
  const unit = unitNamed(written);
  return unit && unit.dimension !== KINDS[kind].dimension ? `; ${unit.symbol} is a unit of ${unit.dimension}` : '';
}

function bad(row: FactRow, text: string, expected: string): Outcome<unknown> {
  return {
    ok: false,
    refusal: { kind: 'invalid-fact', message: `invalid ${row.title.toLowerCase()}: "${text}", expected ${expected}` },
  };
}

/** A copy with one value set, or taken out when undefined. The table of facts vouches for the type of each path. */
function replaced(facts: DayFacts, path: string, value: unknown): DayFacts {
  const [first = '', second] = path.split('.');
  if (second === undefined) return put(facts, first, value) as DayFacts;
  const section: unknown = Reflect.get(facts, first);
  return put(
    facts,
    first,
    put(typeof section === 'object' && section !== null ? section : {}, second, value),
  ) as DayFacts;
}

function put(record: object, key: string, value: unknown): object {
  const rest = Object.fromEntries(Object.entries(record).filter(([name]) => name !== key));
  return value === undefined || isEmptyParts(key, value) ? rest : { ...rest, [key]: value };
}

/** A day without a stated part has no section of parts. */
function isEmptyParts(key: string, value: unknown): boolean {
  return key === 'parts' && typeof value === 'object' && value !== null && Object.keys(value).length === 0;
}
