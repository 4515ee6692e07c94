import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Outcome, Refusal } from '../../../core/quantities/index.ts';
import type { Store } from '../interface.ts';
import { openStore, type StoreOptions } from '../store.ts';

/** The answer, or a failure that says why there is none. */
export function answerOf<Value>(outcome: Outcome<Value>): Value {
  if (!outcome.ok) throw new Error(`${outcome.refusal.kind}: ${outcome.refusal.message}`);
  return outcome.value;
}

export function refusalOf(outcome: Outcome<unknown>): Refusal {
  if (outcome.ok) throw new Error(`expected a refusal, got ${JSON.stringify(outcome.value)}`);
  return outcome.refusal;
}

/** A folder that vanishes with the test. */
export async function temporaryFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'knurl-store-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

/** A store that is closed with the test. */
export async function openedStore(directory: string, options: StoreOptions = {}): Promise<Store> {
  const store = answerOf(await openStore(directory, options));
  onTestFinished(() => store.close());
  return store;
}

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}
