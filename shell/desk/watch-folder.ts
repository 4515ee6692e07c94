import { type FSWatcher, watch } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { DayFacts, EntryFacts } from '../../day/pulls/index.ts';
import { isLog, proposeDay, type Store } from '../store/index.ts';

export interface Watching {
  readonly store: Store;
  readonly day: string;
  readonly now: () => string;
}

/** A log counts as complete when its size has not changed for this long [ms]. @source our default */
const QUIET = 400;

/**
 * Watches the folder of a day. A new log that has stopped growing is kept, named, and put into the entry that waits for it, or into a
 * new entry beside its partner by name. Calls back with the entry's id. Returns what ends it. A day without a folder is not watched.
 */
export function watchFolder(watching: Watching, seen: (entry: string) => void): () => void {
  const days = watching.store.days();
  const folder = days.ok ? days.value.find(({ id }) => id === watching.day)?.folder : undefined;
  if (folder === undefined) return () => undefined;
  const busy = new Set<string>();
  let watcher: FSWatcher | undefined;
  try {
    watcher = watch(folder, (_event, name) => {
      if (name === null || !isLog(name) || busy.has(name)) return;
      busy.add(name);
      arrived(watching, folder, name)
        .then((entry) => entry !== undefined && seen(entry))
        .catch(() => undefined)
        .finally(() => busy.delete(name));
    });
  } catch {
    return () => undefined;
  }
  const opened = watcher;
  return () => opened.close();
}

async function arrived({ store, day, now }: Watching, folder: string, name: string): Promise<string | undefined> {
  const path = join(folder, name);
  if (!(await settled(path))) return undefined;
  const kept = await store.keepRaw(await readFile(path), { name, at: now() });
  if (!kept.ok) return undefined;
  const known = store.files(day);
  const before = known.ok ? known.value.find((file) => file.name === name) : undefined;
  if (before?.hash === kept.value) return undefined;
  const named = await store.nameFile(day, { name, hash: kept.value }, now());
  const state = named.ok ? store.facts(day) : named;
  if (!state.ok) return undefined;
  const { facts } = state.value;
  const waiting = facts.entries.find(({ files }) => files.includes(name));
  if (waiting) return waiting.id;
  const { entry, changed } = placed(facts, name);
  const set = await store.setFacts(day, changed, { at: now(), why: `${name} appeared in the folder` });
  return set.ok ? entry : undefined;
}

async function settled(path: string): Promise<boolean> {
  let size = -1;
  for (let turn = 0; turn < 150; turn++) {
    const now = await stat(path).then(
      (found) => found.size,
      () => -1,
    );
    if (now < 0) return false;
    if (now === size && now > 0) return true;
    size = now;
    await wait(QUIET);
  }
  return false;
}

/** Beside the log that names pair it with, when that one's entry holds a single file; else a new entry at the end. */
function placed(facts: DayFacts, name: string): { entry: string; changed: DayFacts } {
  const partner = facts.entries.find(({ files }) => files.length === 1 && pairs(files[0] ?? '', name));
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

function pairs(one: string, other: string): boolean {
  const proposed = proposeDay([one, other]);
  return proposed.ok && proposed.value.entries.length === 1;
}

function freeId(wanted: string, entries: readonly EntryFacts[]): string {
  const taken = new Set(entries.map(({ id }) => id));
  let id = wanted;
  for (let k = 2; taken.has(id); k++) id = `${wanted} (${k})`;
  return id;
}
