import { randomUUID } from 'node:crypto';
import { mkdir, readdir, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { isLeftOver } from './durable.ts';
import type { Cache, CacheParts } from './interface.ts';
import { sha256 } from './raw.ts';

/** `limit`: bytes, the least recently used go first. `now`: ms, orders the uses. */
export interface CacheOptions {
  readonly limit?: number;
  readonly now?: () => number;
}

/** Results under the key of what they were made of, in files of the folder `cache` below `directory`. */
export function openCache(directory: string, options: CacheOptions = {}): Cache {
  return new CacheFolder(join(directory, 'cache'), options);
}

/** @source our default: some thousand pulls */
const LIMIT = 2e9;

/** Files: 8 bytes magic with version, 32 bytes SHA-256 of the payload, payload. */
const MAGIC = new TextEncoder().encode('KNRLC\0\0\x01');
const HEADER = MAGIC.length + 32;

/** Errors of the disk are misses: a cache that cannot be used costs time, never an answer. */
class CacheFolder implements Cache {
  private readonly folder: string;
  private readonly limit: number;
  private readonly now: () => number;
  /** Removals run one after another. */
  private tidying: Promise<void> = Promise.resolve();
  /** Bytes put since the folder was last measured; undefined before the first time. */
  private known: number | undefined;

  constructor(folder: string, { limit, now }: CacheOptions) {
    this.folder = folder;
    this.limit = limit ?? LIMIT;
    this.now = now ?? Date.now;
  }

  async get(parts: CacheParts): Promise<Uint8Array | undefined> {
    const path = this.pathOf(parts);
    const file = await readFile(path).catch(() => undefined);
    if (!file) return undefined;
    const payload = payloadOf(file);
    if (!payload) await rm(path, { force: true }).catch(ignored);
    else await utimes(path, this.now() / 1000, this.now() / 1000).catch(ignored);
    return payload;
  }

  async put(parts: CacheParts, bytes: Uint8Array): Promise<void> {
    if (bytes.length + HEADER > this.limit) return;
    const path = this.pathOf(parts);
    const temporary = join(this.folder, `part-${process.pid}-${randomUUID()}`);
    try {
      await mkdir(dirname(path), { recursive: true });
      await writeFile(temporary, framed(bytes));
      await utimes(temporary, this.now() / 1000, this.now() / 1000);
      await rename(temporary, path);
    } catch {
      await rm(temporary, { force: true }).catch(ignored);
      return;
    }
    this.known = this.known === undefined ? undefined : this.known + bytes.length + HEADER;
    if (this.known === undefined || this.known > this.limit) await this.tidy();
  }

  async getJson(parts: CacheParts): Promise<unknown> {
    const bytes = await this.get(parts);
    return bytes === undefined ? undefined : JSON.parse(new TextDecoder().decode(bytes));
  }

  async putJson(parts: CacheParts, value: unknown): Promise<void> {
    await this.put(parts, new TextEncoder().encode(JSON.stringify(value)));
  }

  async drop(): Promise<void> {
    this.known = undefined;
    await rm(this.folder, { recursive: true, force: true });
  }

  async size(): Promise<number> {
    return (await this.entries()).reduce((sum, { bytes }) => sum + bytes, 0);
  }

  /** Brings the folder below nine tenths of the limit, oldest use first, and clears what dead writers left. */
  private tidy(): Promise<void> {
    this.tidying = this.tidying.then(async () => {
      for (const name of await readdir(this.folder).catch(() => []))
        if (isLeftOver(name)) await rm(join(this.folder, name), { force: true }).catch(ignored);
      const entries = await this.entries();
      let total = entries.reduce((sum, { bytes }) => sum + bytes, 0);
      if (total > this.limit)
        for (const { path, bytes } of entries.sort((a, b) => a.used - b.used)) {
          if (total <= this.limit * SPARE) break;
          await rm(path, { force: true }).catch(ignored);
          total -= bytes;
        }
      this.known = total;
    });
    return this.tidying;
  }

  private async entries(): Promise<{ readonly path: string; readonly bytes: number; readonly used: number }[]> {
    const found = [];
    for (const group of await readdir(this.folder, { withFileTypes: true }).catch(() => [])) {
      if (!group.isDirectory()) continue;
      for (const name of await readdir(join(this.folder, group.name)).catch(() => [])) {
        const path = join(this.folder, group.name, name);
        const seen = await stat(path).catch(() => undefined);
        if (seen) found.push({ path, bytes: seen.size, used: seen.mtimeMs });
      }
    }
    return found;
  }

  private pathOf({ raw, facts, method }: CacheParts): string {
    const key = sha256(JSON.stringify([raw, facts, method]));
    return join(this.folder, key.slice(0, 2), key);
  }
}

/** @source our default: leave room so that not every put has to remove */
const SPARE = 0.9;

function framed(payload: Uint8Array): Uint8Array {
  const file = new Uint8Array(HEADER + payload.length);
  file.set(MAGIC);
  file.set(Buffer.from(sha256(payload), 'hex'), MAGIC.length);
  file.set(payload, HEADER);
  return file;
}

/** Undefined when the file is short, of another version, or damaged. */
function payloadOf(file: Uint8Array): Uint8Array | undefined {
  if (file.length < HEADER || !MAGIC.every((byte, index) => file[index] === byte)) return undefined;
  const payload = new Uint8Array(file.subarray(HEADER));
  return sha256(payload) === Buffer.from(file.subarray(MAGIC.length, HEADER)).toString('hex') ? payload : undefined;
}

/** The cache may fail at anything. */
function ignored(): undefined {
  return undefined;
}
