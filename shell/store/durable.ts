import { randomUUID } from 'node:crypto';
import { type FileHandle, mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Refusal } from '../../core/quantities/index.ts';

/** How a file is to be written. `scratch`: folder for the temporary name, on the same file system. */
export interface DurableOptions {
  readonly scratch: string;
  /** Access bits of the finished file. */
  readonly mode?: number;
  /** Gives the temporary a hidden name, for folders that people look at. */
  readonly hidden?: boolean;
}

/**
 * Writes a file so that after a crash it is either whole or absent: temporary name, fsync, rename, fsync of the folder.
 * Resolves only when it is on disk; rejects with the system's error and leaves nothing behind.
 */
export async function writeDurably(path: string, bytes: Uint8Array, options: DurableOptions): Promise<void> {
  const temporary = join(options.scratch, `${options.hidden ? '.' : ''}${temporaryName()}`);
  try {
    const file = await open(temporary, 'wx', options.mode ?? 0o644);
    await filled(file, bytes);
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
  await syncFolder(dirname(path));
}

async function filled(file: FileHandle, bytes: Uint8Array): Promise<void> {
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** Makes the names in a folder durable. Systems that cannot open a folder (Windows) keep names by themselves. */
export async function syncFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return;
  const folder = await open(path, 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}

/** Makes a folder and those above it, durably. */
export async function makeFolder(path: string): Promise<void> {
  const first = await mkdir(path, { recursive: true });
  if (first === undefined) return;
  for (let made = path; made.length >= first.length; made = dirname(made)) await syncFolder(dirname(made));
}

const PREFIX = 'part-';

function temporaryName(): string {
  return `${PREFIX}${process.pid}-${randomUUID()}`;
}

/** Whether a name is that of a temporary whose writer is gone; a live writer's one is left alone. */
export function isLeftOver(name: string): boolean {
  const match = /^part-(\d+)-/.exec(name);
  if (!match) return false;
  const writer = Number(match[1]);
  return writer !== process.pid && !isAlive(writer);
}

function isAlive(processId: number): boolean {
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    return codeOf(error) === 'EPERM';
  }
}

/** The system's word for an error, `ENOSPC`. */
export function codeOf(error: unknown): string | undefined {
  if (!(error instanceof Error)) return undefined;
  const code: unknown = new Map<string, unknown>(Object.entries(error)).get('code');
  return typeof code === 'string' ? code : undefined;
}

/** A refusal for an error of the disk; errors that are not the system's are bugs and are thrown on. */
export function diskRefusal(error: unknown, what: string, file: string): Refusal {
  const code = codeOf(error);
  if (code === undefined || !/^E[A-Z0-9]+$/.test(code) || code.startsWith('ERR_')) throw error;
  const reason = REASONS[code] ?? code;
  return { kind: 'disk', message: `${what}: ${reason}; nothing was changed`, place: { file }, numbers: { code } };
}

const REASONS: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full (ENOSPC)',
  EDQUOT: 'the quota of the disk is used up (EDQUOT)',
  EFBIG: 'the file is larger than allowed (EFBIG)',
  EACCES: 'no permission (EACCES)',
  EPERM: 'no permission (EPERM)',
  EROFS: 'the disk is read-only (EROFS)',
  ENOENT: 'it is not there (ENOENT)',
  EISDIR: 'it is a folder (EISDIR)',
  ENOTDIR: 'it is not a folder (ENOTDIR)',
  EMFILE: 'too many files are open (EMFILE)',
  EIO: 'the disk reports an error (EIO)',
};
