import { appendFileSync, chmodSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { expect, it, vi } from 'vitest';
import type { Refusal } from '../../core/quantities/index.ts';
import { waveBytes } from '../../day/channels/sound/testing/wave-bytes.ts';
import { makePlateauDay } from '../../scenarios/index.ts';
import { answerOf } from '../store/testing/outcomes.ts';
import { deskInFolder, folderWith } from './testing/desk-in-folder.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['9'] });
const [dayFile, roller, engine] = files;
if (!dayFile || !roller || !engine) throw new Error('the made day lacks its files');
const noEntries = new TextDecoder().decode(dayFile.bytes).replace(/entries:[\s\S]*$/, 'entries: []\n');
const emptyDay = { name: 'day.yaml', bytes: new TextEncoder().encode(noEntries) };

async function watched() {
  const desk = await deskInFolder();
  const folder = folderWith([emptyDay]);
  const { id } = answerOf(await desk.openFolder(folder));
  const seen: string[] = [];
  const troubles: Refusal[] = [];
  const stop = desk.watch(
    id,
    (entry) => seen.push(entry),
    (refusal) => troubles.push(refusal),
  );
  return { desk, folder, id, seen, troubles, stop };
}

it('takes in a log that is copied slowly, once, analysed, with its partner in the same entry', async () => {
  const { desk, folder, id, seen, troubles, stop } = await watched();
  const half = Math.floor(roller.bytes.length / 2);
  writeFileSync(join(folder, roller.name), roller.bytes.subarray(0, half));
  await wait(300);
  appendFileSync(join(folder, roller.name), roller.bytes.subarray(half));
  await vi.waitFor(() => expect(seen).toHaveLength(1), 15_000);
  await wait(900);
  expect(seen).toHaveLength(1);
  expect(answerOf(desk.files(id))).toMatchObject([{ name: roller.name, bytes: roller.bytes.length }]);

  writeFileSync(join(folder, engine.name), engine.bytes);
  await vi.waitFor(() => expect(seen).toHaveLength(2), 15_000);
  expect(new Set(seen).size).toBe(1);
  const { entries } = answerOf(await desk.report(id));
  expect(entries.map(({ facts }) => facts.files)).toEqual([[roller.name, engine.name]]);
  expect(entries[0]?.result?.pulls).toHaveLength(1);
  expect(troubles).toEqual([]);
  stop();
});

it('puts a sound into the entry of the logs it is named like, whichever comes first', async () => {
  const { desk, folder, id, seen, stop } = await watched();
  const sound = roller.name.replace('roller.csv', 'sound.wav');
  writeFileSync(join(folder, sound), waveBytes({ tracks: [new Float64Array(8000)] }));
  await vi.waitFor(() => expect(seen).toHaveLength(1), 15_000);
  writeFileSync(join(folder, roller.name), roller.bytes);
  await vi.waitFor(() => expect(seen).toHaveLength(2), 15_000);
  writeFileSync(join(folder, engine.name), engine.bytes);
  await vi.waitFor(() => expect(seen).toHaveLength(3), 15_000);
  const { entries } = answerOf(await desk.report(id));
  expect(entries.map(({ facts }) => facts.files)).toEqual([[sound, roller.name, engine.name]]);
  expect(entries[0]?.unread).toMatchObject([{ file: sound, why: expect.stringContaining('digital silence') }]);
  expect(entries[0]?.result?.pulls).toHaveLength(1);
  stop();
});

it('takes in two logs that arrive at the same moment without losing either', async () => {
  const { desk, folder, id, seen, stop } = await watched();
  writeFileSync(join(folder, roller.name), roller.bytes);
  writeFileSync(join(folder, engine.name), engine.bytes);
  await vi.waitFor(() => expect(seen).toHaveLength(2), 15_000);
  expect(
    answerOf(desk.facts(id))
      .entries.flatMap(({ files: names }) => names)
      .sort(),
  ).toEqual([roller.name, engine.name].sort());
  stop();
});

it('reads a log again when it is saved again with other content', async () => {
  const { desk, folder, id, seen, stop } = await watched();
  writeFileSync(join(folder, roller.name), roller.bytes.subarray(0, 20_000));
  await vi.waitFor(() => expect(seen).toHaveLength(1), 15_000);
  writeFileSync(join(folder, roller.name), roller.bytes);
  await vi.waitFor(() => expect(seen).toHaveLength(2), 15_000);
  expect(answerOf(desk.files(id))).toMatchObject([{ bytes: roller.bytes.length }]);
  expect(answerOf(desk.facts(id)).entries).toHaveLength(1);
  stop();
});

it.skipIf(process.getuid?.() === 0)('tells when a log cannot be read', async () => {
  const { folder, seen, troubles, stop } = await watched();
  writeFileSync(join(folder, roller.name), roller.bytes);
  chmodSync(join(folder, roller.name), 0);
  await vi.waitFor(() => expect(troubles).toMatchObject([{ kind: 'log-not-taken' }]), 15_000);
  expect(seen).toEqual([]);
  stop();
});

it('tells when the store cannot keep a log', async () => {
  const { desk, folder, seen, troubles, stop } = await watched();
  desk.close();
  writeFileSync(join(folder, roller.name), roller.bytes);
  await vi.waitFor(() => expect(troubles.length).toBeGreaterThan(0), 15_000);
  expect(seen).toEqual([]);
  stop();
});

it('passes over what is no log, and hears nothing after it was stopped', async () => {
  const { folder, seen, troubles, stop } = await watched();
  writeFileSync(join(folder, 'notes.md'), 'nothing');
  mkdirSync(join(folder, 'folder.csv'));
  symlinkSync('nowhere', join(folder, 'link.csv'));
  writeFileSync(join(folder, 'gone.csv'), 'x');
  rmSync(join(folder, 'gone.csv'));
  await wait(600);
  stop();
  writeFileSync(join(folder, roller.name), roller.bytes);
  await wait(1000);
  expect(seen).toEqual([]);
  expect(troubles).toEqual([]);
});

it('does not watch a day that has no folder', async () => {
  const desk = await deskInFolder();
  const facts = answerOf(desk.facts(answerOf(await desk.openFolder(folderWith([emptyDay]))).id));
  const { id } = answerOf(await desk.newDay(facts));
  expect(() => desk.watch(id, () => undefined)()).not.toThrow();
});
