import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import { factsDigest, readDayFolder, type Store } from '../store/index.ts';

/**
 * Takes a day's folder into the store: raw bytes kept, facts as `day.yaml` says. The folder is not changed. The same folder taken again
 * is the same day; facts that changed in its file since become a new state with the former one in the history.
 */
export async function takeFolder(store: Store, path: string, now: () => string): Promise<Outcome<string>> {
  const folder = resolve(path);
  const read = await readDayFolder(folder);
  if (!read.ok) return read;
  const files: { name: string; hash: string }[] = [];
  for (const file of read.value.files) {
    const bytes = await readFile(file.path).catch((error: unknown) => String(error));
    if (typeof bytes === 'string')
      return refused({ kind: 'unreadable-file', message: `unreadable file: ${bytes}`, place: { file: file.name } });
    const kept = await store.keepRaw(bytes, { name: file.name, at: now() });
    if (!kept.ok) return kept;
    files.push({ name: file.name, hash: kept.value });
  }
  const id = createHash('sha256').update(folder).digest('hex').slice(0, 16);
  const known = store.facts(id);
  const why = `read from ${folder}`;
  if (!known.ok) {
    const added = await store.addDay({ id, facts: read.value.facts, folder, files, at: now(), why });
    return added.ok ? answered(id, read.findings) : added;
  }
  for (const file of files) {
    const named = await store.nameFile(id, file, now());
    if (!named.ok) return named;
  }
  if (factsDigest(known.value.facts) === factsDigest(read.value.facts)) return answered(id, read.findings);
  const set = await store.setFacts(id, read.value.facts, { at: now(), why });
  return set.ok ? answered(id, read.findings) : set;
}
