import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { MadeFile } from '../../../scenarios/index.ts';
import type { ExitCode, Surroundings } from '../command.ts';
import { run } from '../run.ts';

export interface Said {
  readonly code: ExitCode;
  readonly out: string;
  readonly err: string;
}

/** A folder that is gone when the test is over. */
export function emptyFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'knurl-cli-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export function folderWith(files: readonly MadeFile[]): string {
  const folder = emptyFolder();
  for (const { name, bytes } of files) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), bytes);
  }
  return folder;
}

/** Runs a command line with its own store, a fixed clock and a window of 100 characters. */
export async function said(words: readonly string[], own: Partial<Surroundings> = {}): Promise<Said> {
  const out: string[] = [];
  const err: string[] = [];
  const code = await run(words, {
    out: (text) => out.push(`${text}\n`),
    err: (text) => err.push(text),
    live: false,
    now: () => '2041-09-12T17:30:00.000Z',
    signal: new AbortController().signal,
    home: join(emptyFolder(), 'store'),
    width: 100,
    ...own,
  });
  return { code, out: out.join(''), err: err.join('') };
}
