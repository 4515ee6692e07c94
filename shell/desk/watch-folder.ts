import { type FSWatcher, watch } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { answered, type Outcome, type Refusal, refused } from '../../core/quantities/index.ts';
import type { DayFacts, EntryFacts } from '../../day/pulls/index.ts';
import { isLog, isSoundName, proposeDay, type Store } from '../store/index.ts';

export interface Watching {
  readonly store: Store;
  readonly day: string;
  readonly now: () => string;
  /** A new log now belongs to this entry. */
  readonly arrived: (entry: string) => void | Promise<void>;
  /** A log could not be taken in, or the folder cannot be watched any more. */
  readonly trouble: (refusal: Refusal) => void;
}

/** A log counts as complete when its size has not changed for this long [ms]. @source our default */
const QUIET = 400;
/** Longest wait for a log that keeps growing, in turns of `QUIET`. @source our default: ten minutes, longer than any pull */
const TURNS = 1500;

/**
 * Watches the folder of a day. A new log that has stopped growing is kept, named, and put into the entry that waits for it, or into a
 * new entry beside its partner by name. Logs are taken in one after the other. Returns what ends it. A day without a folder is not watched.
 */
export function watchFolder(watching: Watching): () => void {
  const days = watching.store.days();
  const folder = days.ok ? days.value.find(({ id }) => id === watching.day)?.folder : undefined;
  if (folder === undefined) return () => undefined;
  const ended = new AbortController();
  /** `again`: it changed while it was being taken in. */
  const busy = new Map<string, 'once' | 'again'>();
  let queue: Promise<void> = Promise.resolve();
  const taken = async (name: string): Promise<void> => {
    do {
      busy.set(name, 'once');
      const entry = await arrival({ ...watching, ended: ended.signal }, folder, name);
      if (ended.signal.aborted) return;
      if (!entry.ok) watching.trouble(entry.refusal);
      else if (entry.value !== undefined) await watching.arrived(entry.value);
    } while (busy.get(name) === 'again');
  };
  const changed = (name: string): void => {
    if (!isLog(name)) return;
    if (busy.has(name)) {
      busy.set(name, 'again');
      return;
    }
    busy.set(name, 'once');
    queue = queue
      .then(() => taken(name))
      .catch((error: unknown) => watching.trouble(notTaken(name, error)))
      .finally(() => busy.delete(name));
  };
  const opened = watched(folder, changed, watching.trouble);
  return () => {
    ended.abort();
    opened?.close();
  };
}

function watched(
  folder: string,
  changed: (name: string) => void,
  trouble: (refusal: Refusal) => void,
): FSWatcher | undefined {
  const lost = (error: unknown): void =>
    trouble({ kind: 'not-watched', message: `the folder cannot be watched: ${error}`, place: { file: folder } });
  try {
    return watch(folder, (_event, name) => name !== null && changed(name)).on('error', lost);
  } catch (error) {
    lost(error);
    return undefined;
  }
}

/** Takes one log in; gives the entry it went to, or nothing when there was nothing new. */
async function arrival(
  { store, day, now, ended }: Watching & { readonly ended: AbortSignal },
  folder: string,
  name: string,
): Promise<Outcome<string | undefined>> {
  const path = join(folder, name);
  const size = await settled(path, ended);
  if (size === 'gone' || ended.aborted) return answered(undefined);
  if (size === 'growing') return refused(notTaken(name, 'it has not stopped growing'));
  const kept = await store.keepRaw(await readFile(path), { name, at: now() });
  if (!kept.ok) return kept;
  const known = store.files(day);
  if (!known.ok) return known;
  if (known.value.find((file) => file.name === name)?.hash === kept.value) return answered(undefined);
  const named = await store.nameFile(day, { name, hash: kept.value }, now());
  if (!named.ok) return named;
  return entryFor({ store, day, now }, name);
}

/** The entry that waits for the log, else a place for it; none for a file of the parts. A change of the facts that came between is tried once more on top of it. */
async function entryFor(
  { store, day, now }: Pick<Watching, 'store' | 'day' | 'now'>,
  name: string,
): Promise<Outcome<string | undefined>> {
  for (let turn = 0; ; turn++) {
    const state = store.facts(day);
    if (!state.ok) return state;
    const { facts, sequence } = state.value;
    if (facts.parts?.compressorMap === name) return answered(undefined);
    const waiting = facts.entries.find(({ files }) => files.includes(name));
    if (waiting) return answered(waiting.id);
    const { entry, changed } = placed(facts, name);
    const why = `${name} appeared in the folder`;
    const set = await store.setFacts(day, changed, { at: now(), why, after: sequence });
    if (set.ok) return answered(entry);
    if (turn > 0) return set;
  }
}

async function settled(path: string, ended: AbortSignal): Promise<'complete' | 'growing' | 'gone'> {
  let before = -1;
  for (let turn = 0; turn < TURNS && !ended.aborted; turn++) {
    const found = await stat(path).catch(() => undefined);
    if (!found?.isFile()) return 'gone';
    if (found.size === before && before > 0) return 'complete';
    before = found.size;
    await wait(QUIET, undefined, { signal: ended }).catch(() => undefined);
  }
  return 'growing';
}

/** Beside the files that names pair it with, while their entry has room for it; else a new entry at the end. */
function placed(facts: DayFacts, name: string): { entry: string; changed: DayFacts } {
  const partner = facts.entries.find(({ files }) => hasRoom(files, name) && files.some((file) => pairs(file, name)));
  if (partner) {
    const entries = facts.entries.map((entry) =>
      entry === partner ? { ...entry, files: [...entry.files, name] } : entry,
    );
    return { entry: partner.id, changed: { ...facts, entries } };
  }
  const proposed = proposeDay([name]);
  const first = proposed.ok ? proposed.value.entries[0] : undefined;
  const id = freeId(first?.id ?? name, facts.entries);
  const entry: EntryFacts = { kind: 'pull', settings: {}, ...first, id, files: [name] };
  return { entry: id, changed: { ...facts, entries: [...facts.entries, entry] } };
}

/** An entry takes two logs and one sound. */
function hasRoom(files: readonly string[], name: string): boolean {
  const alike = files.filter((file) => isSoundName(file) === isSoundName(name));
  return alike.length < (isSoundName(name) ? 1 : 2);
}

function pairs(one: string, other: string): boolean {
  const proposed = proposeDay([one, other]);
  return proposed.ok && proposed.value.entries.length === 1 && proposed.value.entries[0]?.files.length === 2;
}

function freeId(wanted: string, entries: readonly EntryFacts[]): string {
  const taken = new Set(entries.map(({ id }) => id));
  let id = wanted;
  for (let k = 2; taken.has(id); k++) id = `${wanted} (${k})`;
  return id;
}

function notTaken(name: string, reason: unknown): Refusal {
  return {
    kind: 'log-not-taken',
    message: `${name} could not be taken in: ${reason instanceof Error ? reason.message : reason}`,
    place: { file: name },
  };
}
