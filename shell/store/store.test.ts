import { readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formerState } from './history.ts';
import { sha256 } from './raw.ts';
import { factsDigest } from './record.ts';
import { anyFacts } from './testing/day-facts.ts';
import { EXAMPLE_DAY } from './testing/example-day.ts';
import { titled } from './testing/facts-sample.ts';
import { answerOf, bytesOf, openedStore, refusalOf, temporaryFolder } from './testing/outcomes.ts';

const AT = '2031-05-14T10:00:00Z';
const ORIGIN = { name: 'pull-03-roller.csv', at: AT };

async function storeWithDay() {
  const store = await openedStore(await temporaryFolder());
  answerOf(await store.addDay({ id: 'd', facts: titled('first'), at: AT, why: 'new' }));
  return store;
}

describe('raw bytes', () => {
  it('come back unchanged under their SHA-256, also after the store was closed', async () => {
    const folder = await temporaryFolder();
    const bytes = Uint8Array.from({ length: 70_000 }, (_, index) => (index * 7919) % 256);
    const store = await openedStore(folder);
    const hash = answerOf(await store.keepRaw(bytes, ORIGIN));
    expect(hash).toBe(sha256(bytes));
    store.close();
    const again = await openedStore(folder);
    expect(answerOf(await again.raw(hash))).toEqual(bytes);
    expect(again.source(hash)).toMatchObject({ value: { name: 'pull-03-roller.csv', bytes: 70_000 } });
    expect(answerOf(await again.verifyRaw())).toBe(1);
  });

  it('are hashed as FIPS 180-4 has it', () => {
    // Example of the standard's test vectors: SHA-256 of "abc".
    expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  it('are kept once, in a file that nobody can write, and may be empty', async () => {
    const folder = await temporaryFolder();
    const store = await openedStore(folder);
    const hash = answerOf(await store.keepRaw(bytesOf('x'), ORIGIN));
    const path = join(folder, 'raw', hash.slice(0, 2), hash);
    const before = await stat(path);
    answerOf(await store.keepRaw(bytesOf('x'), { ...ORIGIN, name: 'copy.csv' }));
    expect((await stat(path)).mtimeMs).toBe(before.mtimeMs);
    expect(before.mode & 0o222).toBe(0);
    expect(store.source(hash)).toMatchObject({ value: { name: 'copy.csv' } });
    expect(answerOf(await store.raw(answerOf(await store.keepRaw(new Uint8Array(0), ORIGIN))))).toHaveLength(0);
    expect(await readdir(join(folder, 'raw', 'part'))).toEqual([]);
  });

  it('are what they were when asked to keep them, whatever the caller does to its buffer', async () => {
    const store = await openedStore(await temporaryFolder());
    const buffer = bytesOf('before');
    const kept = store.keepRaw(buffer, ORIGIN);
    buffer.fill(0);
    expect(answerOf(await store.raw(answerOf(await kept)))).toEqual(bytesOf('before'));
  });

  it('that were never kept are refused, and so is a hash that is a path', async () => {
    const store = await openedStore(await temporaryFolder());
    for (const hash of ['0'.repeat(64), '../../etc/passwd', '']) {
      expect(refusalOf(await store.raw(hash)).kind).toBe('unknown-raw');
      expect(await store.hasRaw(hash)).toBe(false);
      expect(refusalOf(store.source(hash)).kind).toBe('unknown-raw');
    }
  });
});

describe('facts', () => {
  it('come back to the last bit', async () => {
    const store = await storeWithDay();
    await fc.assert(
      fc.asyncProperty(anyFacts(), async (facts) => {
        answerOf(await store.setFacts('d', facts, { at: AT, why: 'test' }));
        expect(answerOf(store.facts('d')).facts).toEqual(facts);
      }),
      { numRuns: 30, seed: 3 },
    );
  });

  it('keep every former state with time and reason', async () => {
    const store = await storeWithDay();
    answerOf(await store.setFacts('d', titled('second'), { at: 'later', why: 'typing error' }));
    expect(answerOf(store.facts('d'))).toEqual({ sequence: 2, facts: titled('second') });
    expect(answerOf(store.factsAt('d', 1)).facts.title).toBe('first');
    expect(answerOf(store.history('d'))).toEqual([
      { sequence: 1, at: AT, why: 'new', restores: undefined },
      { sequence: 2, at: 'later', why: 'typing error', restores: undefined },
    ]);
  });

  it('go back one state with every undo, never to and fro, and forward again by a new change', async () => {
    const store = await storeWithDay();
    const change = { at: AT, why: '' };
    for (const title of ['second', 'third']) answerOf(await store.setFacts('d', titled(title), change));
    expect(answerOf(await store.undo('d', change)).facts.title).toBe('second');
    expect(answerOf(await store.undo('d', change)).facts.title).toBe('first');
    expect(refusalOf(await store.undo('d', change)).kind).toBe('nothing-to-undo');
    answerOf(await store.setFacts('d', titled('fourth'), change));
    expect(answerOf(await store.undo('d', change)).facts.title).toBe('first');
    expect(answerOf(store.history('d'))).toHaveLength(7);
  });

  it.each([
    [[], undefined],
    [[undefined], undefined],
    [[undefined, undefined], 1],
    [[undefined, undefined, 1], undefined],
    [[undefined, undefined, undefined, 2], 1],
    [[undefined, undefined, 1, undefined], 1],
    [[undefined, undefined, undefined, 2, undefined, 2], 1],
  ])('after states restoring %j, undo gives state %s', (restores, expected) => {
    const lines = restores.map((of, index) => ({ sequence: index + 1, at: '', why: '', restores: of }));
    expect(formerState(lines)).toBe(expected);
  });

  it('are refused when they moved on since the person saw them', async () => {
    const store = await storeWithDay();
    answerOf(await store.setFacts('d', titled('second'), { at: AT, why: '', after: 1 }));
    const refusal = refusalOf(await store.setFacts('d', titled('other'), { at: AT, why: '', after: 1 }));
    expect(refusal).toMatchObject({ kind: 'changed-elsewhere', numbers: { got: 2, expected: 1 } });
    expect(refusalOf(await store.undo('d', { at: AT, why: '', after: 1 })).kind).toBe('changed-elsewhere');
    expect(answerOf(store.facts('d')).facts.title).toBe('second');
  });

  it('that a day cannot hold are refused: not finite, impossible, two entries of one id', async () => {
    const store = await storeWithDay();
    const pull = { id: 'a', kind: 'pull' as const, files: [], settings: {} };
    const bad = [
      { ...EXAMPLE_DAY, roller: { forceZero: Number.NaN } },
      { ...EXAMPLE_DAY, vehicle: { tyreRadius: { value: Number.POSITIVE_INFINITY, standardUncertainty: 0 } } },
      { ...EXAMPLE_DAY, vehicle: { tyreRadius: { value: -1, standardUncertainty: 0 } } },
      { ...EXAMPLE_DAY, entries: [{ ...pull, files: ['../a.csv'] }] },
      { ...EXAMPLE_DAY, entries: [pull, pull] },
    ];
    for (const facts of bad) {
      expect((await store.setFacts('d', facts, { at: AT, why: '' })).ok).toBe(false);
      expect((await store.addDay({ id: 'bad', facts, at: AT, why: '' })).ok).toBe(false);
    }
    expect(answerOf(store.history('d'))).toHaveLength(1);
    expect(answerOf(store.days())).toHaveLength(1);
  });

  it('have a digest that does not depend on the order of keys but on every value', () => {
    const { title, ...rest } = EXAMPLE_DAY;
    expect(factsDigest({ ...rest, title })).toBe(factsDigest(EXAMPLE_DAY));
    expect(factsDigest(titled('x'))).not.toBe(factsDigest(EXAMPLE_DAY));
    expect(factsDigest({ ...EXAMPLE_DAY, entries: EXAMPLE_DAY.entries.toReversed() })).not.toBe(
      factsDigest(EXAMPLE_DAY),
    );
  });
});

describe('days', () => {
  it('are listed with folder and state, files by name, and are taken in whole or not at all', async () => {
    const store = await openedStore(await temporaryFolder());
    const hash = answerOf(await store.keepRaw(bytesOf('log'), ORIGIN));
    const day = { id: 'd', facts: EXAMPLE_DAY, folder: '/days/d', at: AT, why: 'opened' };
    answerOf(await store.addDay({ ...day, files: [{ name: 'a.csv', hash }] }));
    expect(answerOf(store.days())).toEqual([{ id: 'd', at: AT, folder: '/days/d', sequence: 1 }]);
    expect(answerOf(store.files('d'))).toEqual([{ name: 'a.csv', hash, bytes: 3 }]);
    const half = { ...day, id: 'e', files: [{ name: 'a.csv', hash: 'f'.repeat(64) }] };
    expect(refusalOf(await store.addDay(half)).kind).toBe('unknown-raw');
    expect(refusalOf(await store.addDay(day)).kind).toBe('repeated-day');
    expect(answerOf(store.days()).map(({ id }) => id)).toEqual(['d']);
  });

  it('follow a log that was written anew, and a folder that moved', async () => {
    const store = await storeWithDay();
    for (const text of ['old', 'new']) {
      const hash = answerOf(await store.keepRaw(bytesOf(text), ORIGIN));
      answerOf(await store.nameFile('d', { name: 'a.csv', hash }, AT));
    }
    expect(answerOf(store.files('d'))).toEqual([{ name: 'a.csv', hash: sha256('new'), bytes: 3 }]);
    expect(answerOf(await store.linkFolder('d', '/here', AT)).folder).toBe('/here');
    expect(answerOf(await store.linkFolder('d', undefined, AT)).folder).toBeUndefined();
  });

  it('that nobody knows are refused by every question', async () => {
    const store = await storeWithDay();
    const change = { at: AT, why: '' };
    const outcomes = [
      store.facts('x'),
      store.factsAt('d', 9),
      store.history('x'),
      store.files('x'),
      await store.setFacts('x', EXAMPLE_DAY, change),
      await store.undo('x', change),
      await store.linkFolder('x', '/', AT),
      await store.nameFile('x', { name: 'a', hash: 'b' }, AT),
    ];
    for (const outcome of outcomes) expect(refusalOf(outcome).kind).toBe('unknown-day');
  });
});

describe('mappings', () => {
  it('are remembered by their set of columns, with what was decided before', async () => {
    const store = await openedStore(await temporaryFolder());
    const mapping = {
      columnSet: 'a'.repeat(64),
      columns: [{ column: 'v', meaning: 'roll-speed' as const, unit: 'km/h', confirmed: true }],
    };
    const better = {
      ...mapping,
      columns: [{ column: 'v', meaning: 'wheel-speed' as const, unit: 'mph', confirmed: true }],
    };
    expect(answerOf(store.mapping(mapping.columnSet))).toBeUndefined();
    for (const decided of [mapping, better]) answerOf(await store.rememberMapping(decided, AT));
    expect(answerOf(store.mapping(mapping.columnSet))).toEqual(better);
    expect(answerOf(store.mappingHistory(mapping.columnSet))).toEqual([
      { at: AT, mapping },
      { at: AT, mapping: better },
    ]);
  });
});

describe('a mapping', () => {
  it('with a unit that is not in the unit table is refused', async () => {
    const store = await openedStore(await temporaryFolder());
    const column = { column: 'v', meaning: 'roll-speed' as const, confirmed: true };
    const mapping = { columnSet: 'a'.repeat(64), columns: [{ ...column, unit: 'furlong' }] };
    expect(refusalOf(await store.rememberMapping(mapping, AT)).kind).toBe('invalid-mapping');
    expect(answerOf(store.mapping(mapping.columnSet))).toBeUndefined();
  });
});

describe('the cache', () => {
  const key = (method: string) => ({ raw: ['r'], facts: 'f', method });

  it('gives back what was put under the same parts, and nothing under others', async () => {
    const { cache, dropCache } = await openedStore(await temporaryFolder()).then((store) => ({
      cache: store.cache,
      dropCache: () => store.dropCache(),
    }));
    await cache.putJson(key('power 1'), { kW: [1, 2.5] });
    expect(await cache.getJson(key('power 1'))).toEqual({ kW: [1, 2.5] });
    expect(await cache.getJson(key('power 2'))).toBeUndefined();
    expect(await cache.get({ raw: [], facts: 'r', method: 'power 1' })).toBeUndefined();
    await dropCache();
    expect(await cache.getJson(key('power 1'))).toBeUndefined();
    await cache.put(key('power 1'), new Uint8Array(0));
    expect(await cache.get(key('power 1'))).toHaveLength(0);
  });

  it('may vanish while the store is open', async () => {
    const folder = await temporaryFolder();
    const { cache } = await openedStore(folder);
    await cache.put(key('a'), bytesOf('x'));
    await rm(join(folder, 'cache'), { recursive: true });
    expect(await cache.get(key('a'))).toBeUndefined();
    await cache.put(key('a'), bytesOf('y'));
    expect(await cache.get(key('a'))).toEqual(bytesOf('y'));
  });

  it('stays below its limit; what was used least recently goes first', async () => {
    let now = 1_000_000;
    const { cache } = await openedStore(await temporaryFolder(), { cache: { limit: 1000, now: () => (now += 1000) } });
    for (const name of ['a', 'b', 'c']) await cache.put(key(name), new Uint8Array(260));
    await cache.get(key('a'));
    await cache.put(key('d'), new Uint8Array(260));
    const kept = await Promise.all(
      ['a', 'b', 'c', 'd'].map(async (name) => (await cache.get(key(name))) !== undefined),
    );
    expect(kept).toEqual([true, false, true, true]);
    await cache.put(key('huge'), new Uint8Array(1001));
    expect(await cache.get(key('huge'))).toBeUndefined();
    expect(await cache.size()).toBeLessThanOrEqual(1000);
  });
});
