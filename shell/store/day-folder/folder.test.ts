import { writeFileSync } from 'node:fs';
import { mkdir, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { EXAMPLE_DAY } from '../testing/example-day.ts';
import { answerOf, bytesOf, refusalOf, temporaryFolder } from '../testing/outcomes.ts';
import { readDayFolder } from './folder.ts';
import { updateDayFile, writeDayFolder } from './write-folder.ts';

const LOGS = [
  { name: 'pull-03-roller.csv', bytes: bytesOf('t,v\n0,1\n') },
  { name: 'pull-03-engine.csv', bytes: bytesOf('t,n\n0,1\n') },
];

describe('a day folder', () => {
  it('comes back as it was written', async () => {
    const folder = join(await temporaryFolder(), 'new', 'day');
    answerOf(await writeDayFolder(folder, EXAMPLE_DAY, LOGS));
    const reading = answerOf(await readDayFolder(folder));
    expect(reading).toMatchObject({ facts: EXAMPLE_DAY, findings: [], written: true });
    expect(reading.files.map(({ name }) => name)).toEqual(['pull-03-roller.csv', 'pull-03-engine.csv']);
    expect(await readdir(folder)).toEqual(['day.yaml', 'pull-03-engine.csv', 'pull-03-roller.csv']);
  });

  it('reads the sample of version 1', async () => {
    const { facts, files, findings } = answerOf(await readDayFolder(`${import.meta.dirname}/../fixtures/day-1`));
    expect(facts.entries.map(({ id }) => id)).toEqual(['pull-01', 'coast-1', 'gap']);
    expect(facts.vehicle.tyreRadius?.value).toBe(0.33);
    expect(files.map(({ name }) => name)).toEqual(['pull-01-roller.csv', 'coast-1/roller.csv']);
    expect(findings).toEqual([]);
  });

  it('names files that are missing with their entry, and logs that no entry names', async () => {
    const folder = await temporaryFolder();
    answerOf(await writeDayFolder(folder, EXAMPLE_DAY, []));
    await writeFile(join(folder, 'Pull-03-roller.csv'), 'x');
    const { findings, files } = answerOf(await readDayFolder(folder));
    expect(files).toEqual([]);
    expect(findings).toMatchObject([
      { kind: 'missing-file', weight: 'fault', numbers: { entry: 'pull-03', near: 'Pull-03-roller.csv' } },
      { kind: 'missing-file', numbers: { entry: 'pull-03' } },
      { kind: 'unnamed-file', place: { file: 'Pull-03-roller.csv' } },
    ]);
  });

  it('does not follow a link out of the folder', async () => {
    const folder = await temporaryFolder();
    answerOf(await writeDayFolder(folder, EXAMPLE_DAY, LOGS.slice(1)));
    const secret = join(await temporaryFolder(), 'secret.csv');
    await writeFile(secret, 'x');
    await symlink(secret, join(folder, 'pull-03-roller.csv'));
    const { files, findings } = answerOf(await readDayFolder(folder));
    expect(files.map(({ name }) => name)).toEqual(['pull-03-engine.csv']);
    expect(findings).toMatchObject([{ kind: 'file-outside', numbers: { entry: 'pull-03' } }]);
  });

  it('is proposed from its file names when there is no day.yaml', async () => {
    const folder = join(await temporaryFolder(), 'Monday');
    await mkdir(folder);
    for (const { name, bytes } of LOGS) await writeFile(join(folder, name), bytes);
    const { facts, files, written, findings } = answerOf(await readDayFolder(folder));
    expect(facts).toMatchObject({ title: 'Monday', entries: [{ id: 'pull-3', kind: 'pull' }] });
    expect(files).toHaveLength(2);
    expect(written).toBe(false);
    expect(findings.map(({ kind }) => kind)).toEqual(['proposed-day', 'proposed-pair']);
  });

  it('is refused when it is absent, a file, empty, or not UTF-8', async () => {
    const folder = await temporaryFolder();
    expect(refusalOf(await readDayFolder(join(folder, 'none')))).toMatchObject({
      kind: 'disk',
      numbers: { code: 'ENOENT' },
    });
    await writeFile(join(folder, 'file'), 'x');
    expect(refusalOf(await readDayFolder(join(folder, 'file')))).toMatchObject({
      kind: 'disk',
      numbers: { code: 'ENOTDIR' },
    });
    expect(refusalOf(await readDayFolder(folder)).kind).toBe('missing-logs');
    await writeFile(join(folder, 'day.yaml'), Uint8Array.of(0x6b, 0xe4, 0x0a));
    expect(refusalOf(await readDayFolder(folder)).kind).toBe('invalid-encoding');
  });

  it('is refused when it holds more files than a day ever has', async () => {
    const folder = await temporaryFolder();
    for (let index = 0; index <= 5000; index++) writeFileSync(join(folder, `${index}.csv`), '');
    expect(refusalOf(await readDayFolder(folder))).toMatchObject({
      kind: 'folder-too-large',
      numbers: { limit: 5000 },
    });
    await rm(join(folder, '0.csv'));
    expect((await readDayFolder(folder)).ok).toBe(true);
  });

  it('never overwrites a log with other content, and then writes nothing at all', async () => {
    const folder = await temporaryFolder();
    await writeFile(join(folder, 'pull-03-engine.csv'), 'precious');
    const refusal = refusalOf(await writeDayFolder(folder, EXAMPLE_DAY, LOGS));
    expect(refusal).toMatchObject({ kind: 'file-exists', place: { file: 'pull-03-engine.csv' } });
    expect(await readdir(folder)).toEqual(['pull-03-engine.csv']);
    const outside = await writeDayFolder(folder, EXAMPLE_DAY, [{ name: '../x.csv', bytes: bytesOf('x') }]);
    expect(refusalOf(outside).kind).toBe('invalid-value');
  });

  it('keeps the comments of a day.yaml, and refuses an update when somebody else changed it', async () => {
    const folder = await temporaryFolder();
    const path = answerOf(await writeDayFolder(folder, EXAMPLE_DAY, LOGS));
    await writeFile(path, `# by hand\n${await readFile(path, 'utf8')}`);
    const next = { ...EXAMPLE_DAY, title: 'Next' };
    answerOf(await updateDayFile(folder, EXAMPLE_DAY, next));
    expect(await readFile(path, 'utf8')).toMatch(/^# by hand\nknurl: 1\ntitle: Next\n/);
    expect(refusalOf(await updateDayFile(folder, EXAMPLE_DAY, next)).kind).toBe('changed-elsewhere');
    answerOf(await writeDayFolder(folder, EXAMPLE_DAY, []));
    expect(await readFile(path, 'utf8')).toMatch(/^# by hand\nknurl: 1\ntitle: Plateau test\n/);
  });
});
