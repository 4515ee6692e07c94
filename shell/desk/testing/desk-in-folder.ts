import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { MadeFile } from '../../../scenarios/index.ts';
import { type Desk, openDesk } from '../index.ts';

/** A folder that is gone when the test is over. */
export function emptyFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'knurl-desk-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Files of an invented day in a folder of their own. */
export function folderWith(files: readonly MadeFile[], folder: string = emptyFolder()): string {
  for (const { name, bytes } of files) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), bytes);
  }
  return folder;
}

/** A desk on an empty store, with a clock that counts minutes. */
export async function deskInFolder(directory: string = emptyFolder()): Promise<Desk> {
  let minute = 0;
  const opened = await openDesk({
    directory,
    now: () =>
      `2041-09-12T${String(8 + Math.floor(minute / 60)).padStart(2, '0')}:${String(minute++ % 60).padStart(2, '0')}:00Z`,
  });
  if (!opened.ok) throw new Error(opened.refusal.message);
  onTestFinished(() => opened.value.close());
  return opened.value;
}
