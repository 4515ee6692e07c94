import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { DayFacts, EntryFacts } from '../../../day/pulls/index.ts';
import { FAULT_TITLES } from '../../../day/reports/index.ts';
import { HEALTH_FINDINGS } from '../../../day/verdicts/index.ts';
import type { EntryDecision, NewEntry } from '../../contract/index.ts';

/** Facts with one more entry, put in the order of the clock; an entry without a clock goes to the end. */
export function withEntry(
  facts: DayFacts,
  { kind, files, clock, title, notes }: NewEntry,
): { facts: DayFacts; id: string } {
  const id = freeId(facts, kind);
  const entry: EntryFacts = {
    id,
    kind,
    files: [...files],
    settings: {},
    ...(clock !== undefined && { clock }),
    ...(title !== undefined && { title }),
    ...(notes !== undefined && { notes }),
  };
  const later =
    clock === undefined ? -1 : facts.entries.findIndex((other) => other.clock !== undefined && other.clock > clock);
  const at = later < 0 ? facts.entries.length : later;
  return { id, facts: { ...facts, entries: [...facts.entries.slice(0, at), entry, ...facts.entries.slice(at)] } };
}

/** Facts with a person's decision about one entry; null forgets a former one. */
export function withDecision(facts: DayFacts, id: string, decision: EntryDecision): Outcome<DayFacts> {
  if (!facts.entries.some((entry) => entry.id === id)) {
    return refused({ kind: 'unknown-entry', message: `unknown entry: ${id}` });
  }
  const unknown = Object.keys(decision.overruled ?? {}).find((name) => !isDecidable(name));
  if (unknown !== undefined) return refused({ kind: 'unknown-fault', message: `unknown fault: ${unknown}` });
  const entries = facts.entries.map((entry) => (entry.id === id ? decided(entry, decision) : entry));
  return answered({ ...facts, entries });
}

function decided(former: EntryFacts, { overruled, ...decision }: EntryDecision): EntryFacts {
  const entry = overruled ? withReasons(former, overruled) : former;
  const nulled = new Set(Object.entries(decision).flatMap(([key, value]) => (value === null ? [key] : [])));
  const kept = Object.fromEntries(Object.entries(entry).filter(([key]) => !nulled.has(key)));
  const set = Object.fromEntries(Object.entries(decision).filter(([, value]) => value !== null && value !== undefined));
  // The contract has checked every field of the decision against the type of the entry's field of the same name.
  return { ...kept, ...set } as EntryFacts;
}

/** A fault of a pull, or a kind of finding about the health of the day. */
function isDecidable(name: string): boolean {
  return Object.hasOwn(FAULT_TITLES, name) || HEALTH_FINDINGS.some((kind) => name === `health.${kind}`);
}

/** The entry with reasons added, or taken back where they are null. */
function withReasons(entry: EntryFacts, reasons: NonNullable<EntryDecision['overruled']>): EntryFacts {
  const { overruled: before, ...rest } = entry;
  const all = Object.entries({ ...before, ...reasons }).flatMap(([fault, why]) => (why === null ? [] : [[fault, why]]));
  return all.length === 0 ? rest : { ...rest, overruled: Object.fromEntries(all) };
}

const PREFIX = { pull: 'pull', 'coast-down': 'coast', change: 'change', note: 'note' } as const;

function freeId({ entries }: DayFacts, kind: EntryFacts['kind']): string {
  const taken = new Set(entries.map(({ id }) => id));
  let number = entries.filter((entry) => entry.kind === kind).length + 1;
  while (taken.has(`${PREFIX[kind]}-${number}`)) number += 1;
  return `${PREFIX[kind]}-${number}`;
}
