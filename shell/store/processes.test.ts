import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, it } from 'vitest';
import { DATABASE_FILE } from './store.ts';
import { titled } from './testing/facts-sample.ts';
import { answerOf, openedStore, refusalOf, temporaryFolder } from './testing/outcomes.ts';
import { startWriter, type Writer } from './testing/processes.ts';

const CHANGE = { at: '2031-05-14T10:00:00Z', why: 'test' };
const ROUNDS = 14;

async function folderWithDay(): Promise<string> {
  const folder = await temporaryFolder();
  const store = await openedStore(folder);
  answerOf(await store.addDay({ id: 'd', facts: titled('0'), ...CHANGE }));
  store.close();
  return folder;
}

/** Everything a writer acknowledged is there and verifies. Gives how many changes that were. */
async function expectKept(folder: string, lines: readonly string[]): Promise<number> {
  const store = await openedStore(folder);
  let kept = 0;
  for (const [what, first = '', title] of lines.map((line) => line.split(' '))) {
    if (what === 'raw') answerOf(await store.raw(first));
    if (what === 'raw') expect(store.source(first).ok).toBe(true);
    if (what === 'facts') expect(answerOf(store.factsAt('d', Number(first))).facts.title).toBe(title);
    if (what === 'raw' || what === 'facts') kept++;
  }
  expect(await store.verifyRaw()).toMatchObject({ findings: [] });
  store.close();
  return kept;
}

describe('a store whose process is killed', () => {
  it(`at ${ROUNDS} random moments has everything that was acknowledged`, async () => {
    const folder = await folderWithDay();
    const acknowledged: string[] = [];
    // Moments of the kill after the first acknowledgement [ms], from a fixed seed (Lehmer's generator).
    let seed = 20310514;
    let kept = 0;
    for (let round = 0; round < ROUNDS; round++) {
      const writer = startWriter([folder, 'd', `round${round}`, '100000']);
      await writer.reaches(2);
      seed = (seed * 48271) % 2147483647;
      await new Promise((resolve) => setTimeout(resolve, seed % 120));
      writer.process.kill('SIGKILL');
      await writer.ended();
      expect(writer.process.signalCode).toBe('SIGKILL');
      expect(writer.lines()[0]).toBe('open');
      expect(writer.lines().some((line) => line.startsWith('refused'))).toBe(false);
      acknowledged.push(...writer.lines());
      kept = await expectKept(folder, acknowledged);
    }
    expect(kept).toBeGreaterThan(ROUNDS);
  });
});

describe('two processes at one store', () => {
  it('wait for one another: every change of both is there, under numbers without a gap', async () => {
    const folder = await folderWithDay();
    const writers: Writer[] = ['left', 'right'].map((name) => startWriter([folder, 'd', name, '40']));
    await Promise.all(writers.map((writer) => writer.ended()));
    const lines = writers.flatMap((writer) => writer.lines());
    expect(lines.filter((line) => line === 'done')).toHaveLength(2);
    expect(await expectKept(folder, lines)).toBe(160);
    const history = answerOf((await openedStore(folder)).history('d'));
    expect(history.map(({ sequence }) => sequence)).toEqual(Array.from({ length: 81 }, (_, index) => index + 1));
  });

  it('make a new store together', async () => {
    const folder = await temporaryFolder();
    const writers = ['left', 'right'].map((name) => startWriter([folder, 'd', name, '1']));
    await Promise.all(writers.map((writer) => writer.ended()));
    for (const writer of writers) expect(writer.lines()).toContain('done');
  });

  it('are refused clearly when one does not finish in time', async () => {
    const folder = await folderWithDay();
    const store = await openedStore(folder, { patience: 50 });
    const other = new DatabaseSync(join(folder, DATABASE_FILE));
    other.exec('begin immediate');
    const refusal = refusalOf(await store.setFacts('d', titled('1'), CHANGE));
    expect(refusal).toMatchObject({ kind: 'store-busy', numbers: { code: 5 } });
    expect(answerOf(store.facts('d')).sequence).toBe(1);
    other.exec('rollback');
    other.close();
    expect(answerOf(await store.setFacts('d', titled('1'), CHANGE)).sequence).toBe(2);
  });

  it('see the changes of one another', async () => {
    const folder = await folderWithDay();
    const [left, right] = [await openedStore(folder), await openedStore(folder)];
    await Promise.all([left.setFacts('d', titled('l'), CHANGE), right.setFacts('d', titled('r'), CHANGE)]);
    expect(answerOf(left.facts('d'))).toEqual(answerOf(right.facts('d')));
    expect(answerOf(left.facts('d')).sequence).toBe(3);
  });
});
