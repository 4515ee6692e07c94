import { createHash, randomUUID } from 'node:crypto';
import { access, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import { codeOf, diskRefusal, isLeftOver, makeFolder, syncFolder, writeDurably } from './durable.ts';

/** Raw bytes under their SHA-256, in files that are written once and never changed. */
export interface RawFiles {
  /** Keeps the bytes; resolves with their SHA-256 when they are on disk. */
  keep(bytes: Uint8Array): Promise<Outcome<string>>;
  /** The bytes, verified; refused when they are absent or no longer give their hash. */
  read(hash: string): Promise<Outcome<Uint8Array>>;
  has(hash: string): Promise<boolean>;
  /** Verifies every file; one finding for each that is damaged. */
  verify(): Promise<Outcome<number>>;
}

/** Opens the folder `raw` below `directory` and clears temporaries whose writer is gone. */
export async function openRawFiles(directory: string): Promise<RawFiles> {
  const files = new RawFolder(directory);
  await files.open();
  return files;
}

class RawFolder implements RawFiles {
  private readonly folder: string;
  private readonly scratch: string;
  private readonly damaged: string;

  constructor(directory: string) {
    this.folder = join(directory, 'raw');
    this.scratch = join(this.folder, 'part');
    this.damaged = join(directory, 'damaged');
  }

  async open(): Promise<void> {
    await makeFolder(this.scratch);
    for (const name of await readdir(this.scratch)) if (isLeftOver(name)) await rm(join(this.scratch, name));
  }

  async keep(bytes: Uint8Array): Promise<Outcome<string>> {
    // A view is copied: the caller may reuse its buffer before everything is on disk.
    const own = new Uint8Array(bytes);
    const hash = sha256(own);
    const path = this.pathOf(hash);
    try {
      const there = await bytesAt(path);
      if (there && sha256(there) === hash) {
        await syncFolder(join(path, '..'));
        return answered(hash);
      }
      if (there) await this.setAside(hash);
      await makeFolder(join(path, '..'));
      await writeDurably(path, own, { scratch: this.scratch, mode: 0o444 });
      return answered(hash);
    } catch (error) {
      return refused(diskRefusal(error, 'raw bytes cannot be kept', path));
    }
  }

  async read(hash: string): Promise<Outcome<Uint8Array>> {
    if (!isHash(hash)) return refused(unknownRaw(hash));
    const path = this.pathOf(hash);
    try {
      const bytes = await bytesAt(path);
      if (!bytes) return refused(unknownRaw(hash));
      const found = sha256(bytes);
      return found === hash ? answered(bytes) : refused(damagedRaw(hash, found, path));
    } catch (error) {
      return refused(diskRefusal(error, 'raw bytes cannot be read', path));
    }
  }

  async has(hash: string): Promise<boolean> {
    if (!isHash(hash)) return false;
    return access(this.pathOf(hash)).then(
      () => true,
      () => false,
    );
  }

  async verify(): Promise<Outcome<number>> {
    const findings = [];
    let verified = 0;
    for (const group of (await readdir(this.folder)).filter((name) => /^[0-9a-f]{2}$/.test(name))) {
      for (const hash of (await readdir(join(this.folder, group))).filter(isHash)) {
        const read = await this.read(hash);
        if (read.ok) verified++;
        else findings.push({ ...read.refusal, weight: 'fault' as const });
      }
    }
    return answered(verified, findings);
  }

  private pathOf(hash: string): string {
    return join(this.folder, hash.slice(0, 2), hash);
  }

  /** A damaged file is moved, not overwritten: what is left of it may still be of use. */
  private async setAside(hash: string): Promise<void> {
    await makeFolder(this.damaged);
    await rename(this.pathOf(hash), join(this.damaged, `${hash}-${randomUUID()}`));
    await syncFolder(this.damaged);
  }
}

/** SHA-256, hex. */
export function sha256(bytes: Uint8Array | string): string {
  return createHash('sha256').update(bytes).digest('hex');
}

export function isHash(text: string): boolean {
  return /^[0-9a-f]{64}$/.test(text);
}

async function bytesAt(path: string): Promise<Uint8Array | undefined> {
  try {
    if (!(await stat(path)).isFile()) return undefined;
    const buffer = await readFile(path);
    return new Uint8Array(buffer.buffer, buffer.byteOffset, buffer.byteLength);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}

function unknownRaw(hash: string) {
  return { kind: 'unknown-raw', message: `unknown raw bytes: ${hash}`, numbers: { value: hash } };
}

function damagedRaw(hash: string, found: string, path: string) {
  return {
    kind: 'damaged-raw',
    message: `invalid raw bytes: the file of ${hash} is damaged, its content gives ${found}; take the log in again from its origin`,
    place: { file: path },
    numbers: { expected: hash, got: found },
  };
}
