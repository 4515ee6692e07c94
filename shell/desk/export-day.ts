import { answered, type Outcome } from '../../core/quantities/index.ts';
import { type Store, writeDayFolder } from '../store/index.ts';
import type { DayQuestion } from './bench.ts';

/** Writes a day as a folder: facts and every log, bytes unchanged. Refused when a log's bytes no longer verify: nothing is left out silently. */
export async function exportDay(store: Store, { facts, files }: DayQuestion, path: string): Promise<Outcome<string>> {
  const logs: { name: string; bytes: Uint8Array }[] = [];
  for (const { name, hash } of files) {
    const bytes = await store.raw(hash);
    if (!bytes.ok) return bytes;
    logs.push({ name, bytes: bytes.value });
  }
  const written = await writeDayFolder(path, facts, logs);
  return written.ok ? answered(path, written.findings) : written;
}
