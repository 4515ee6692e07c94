import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { makePlateauDay } from '../../scenarios/index.ts';
import { parseDayText, proposeDay } from '../store/index.ts';
import { answerOf, refusalOf } from '../store/testing/outcomes.ts';
import { deskInFolder, emptyFolder, folderWith } from './testing/desk-in-folder.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['C1', '9'] });
const logs = files.filter(({ name }) => name !== 'day.yaml');
const dayText = new TextDecoder().decode(files[0]?.bytes);

function fileNamed(name: string) {
  const file = files.find((one) => one.name === name);
  if (!file) throw new Error(`no ${name} in the made day`);
  return file;
}

it('answers a whole day from its folder and gives every log back unchanged', async () => {
  const desk = await deskInFolder();
  const day = answerOf(await desk.openFolder(folderWith(files)));
  expect(day).toMatchObject({ title: 'Plateau: torque at altitude', date: '2041-09-12', invented: true, entries: 9 });

  const report = answerOf(await desk.report(day.id));
  expect(report.entries.map(({ facts }) => facts.id).slice(0, 2)).toEqual(['C1', '9']);
  const pull = answerOf(await desk.entry(day.id, '9'));
  expect(pull.result?.pulls).toHaveLength(1);
  expect(pull.sentence).toMatch(/ Made \d+\.\d ± \d\.\d kW at the engine, \d+\.\d ± \d\.\d kW at the wheels, /);
  expect(answerOf(await desk.record(day.id, '9')).tracks.length).toBeGreaterThan(20);
  expect(answerOf(await desk.logs(day.id, '9'))).toMatchObject({
    roller: { file: 'pull-09-roller.csv' },
    engine: { file: 'pull-09-engine.csv' },
  });

  const out = join(emptyFolder(), 'copy');
  answerOf(await desk.exportFolder(day.id, out));
  for (const { name, bytes } of logs) expect(readFileSync(join(out, name)).equals(Buffer.from(bytes)), name).toBe(true);
  const again = answerOf(await desk.openFolder(out));
  expect(answerOf(desk.facts(again.id))).toEqual(answerOf(desk.facts(day.id)));
});

it('keeps former facts: undo brings them back, and what depends on them follows', async () => {
  const desk = await deskInFolder();
  const { id } = answerOf(await desk.openFolder(folderWith(files)));
  const before = answerOf(await desk.entry(id, '9')).sentence;
  const facts = answerOf(desk.facts(id));
  const { equivalentMass: _, ...roller } = facts.roller;
  answerOf(await desk.setFacts(id, { ...facts, roller }, 'the plate of the rolls could not be read'));
  expect(answerOf(await desk.entry(id, '9')).sentence).not.toBe(before);
  expect(answerOf(await desk.undo(id))).toEqual(facts);
  expect(answerOf(await desk.entry(id, '9')).sentence).toBe(before);
});

it('takes the same folder twice as one day and picks up what was changed in day.yaml', async () => {
  const desk = await deskInFolder();
  const folder = folderWith(files);
  const first = answerOf(await desk.openFolder(folder));
  expect(answerOf(await desk.openFolder(folder))).toEqual(first);
  expect(desk.days()).toHaveLength(1);
  writeFileSync(join(folder, 'day.yaml'), dayText.replace('Plateau: torque at altitude', 'Another title'));
  expect(answerOf(await desk.openFolder(folder))).toMatchObject({ id: first.id, title: 'Another title' });
  expect(answerOf(await desk.undo(first.id)).title).toBe('Plateau: torque at altitude');
});

it('says with the opened folder which logs are missing and which belong to no entry', async () => {
  const desk = await deskInFolder();
  const some = files.filter(({ name }) => name !== 'pull-09-engine.csv');
  const folder = folderWith([...some, { name: 'left-over.csv', bytes: new TextEncoder().encode('t,x\n0,1\n') }]);
  const opened = await desk.openFolder(folder);
  expect(opened.ok && opened.findings.map(({ kind, place }) => [kind, place?.file])).toEqual([
    ['missing-file', 'pull-09-engine.csv'],
    ['unnamed-file', 'left-over.csv'],
  ]);
});

it('makes an entry of a dropped pair of logs', async () => {
  const desk = await deskInFolder();
  const names = ['pull-09-roller.csv', 'pull-09-engine.csv'];
  for (const name of names) {
    const reading = answerOf(await desk.take(`somewhere/${name}`, fileNamed(name).bytes));
    expect(reading).toMatchObject({ file: name, bytes: fileNamed(name).bytes.length, remembered: false });
    expect(reading.columns.every(({ sketch }) => sketch.length <= 120)).toBe(true);
    expect(answerOf(await desk.reading(reading.source))).toEqual(reading);
  }
  const facts = answerOf(parseDayText(dayText, 'day.yaml'));
  const { entries } = answerOf(proposeDay(names));
  const day = answerOf(await desk.newDay({ ...facts, entries: [] }));
  answerOf(await desk.setFacts(day.id, { ...facts, entries }, 'two logs were dropped'));
  expect(answerOf(desk.files(day.id)).map(({ name }) => name)).toEqual([...names].sort());
  const [entry] = answerOf(await desk.report(day.id)).entries;
  expect(entry?.result?.alignment?.by).toBe('speed');
  expect(entry?.result?.pulls).toHaveLength(1);
});

it('asks about a column that matters and gives no answer until it is decided, then remembers the decision', async () => {
  const directory = emptyFolder();
  const desk = await deskInFolder(directory);
  // Two speed columns that nothing tells apart.
  const text = new TextDecoder()
    .decode(fileNamed('pull-09-roller.csv').bytes)
    .replace('force_N', 'S2')
    .replace('speed_kmh', 'S1');
  const name = 'odd-roller.csv';
  const reading = answerOf(await desk.take(name, new TextEncoder().encode(text)));
  expect(reading.columns.find((column) => column.name === 'S2')?.proposal).not.toMatchObject({
    meaning: 'brake-force',
  });
  const facts = { ...answerOf(parseDayText(dayText, 'day.yaml')), entries: answerOf(proposeDay([name])).entries };
  const day = answerOf(await desk.newDay(facts));
  const [open] = answerOf(await desk.report(day.id)).entries;
  expect(open?.result?.pulls.flatMap(({ peaks }) => peaks) ?? []).toEqual([]);

  const columns = [
    { column: 'S1', meaning: 'roll-speed', unit: 'km/h', confirmed: true },
    { column: 'S2', meaning: 'brake-force', unit: 'N', confirmed: true },
  ] as const;
  answerOf(await desk.decide({ columnSet: reading.columnSet, columns }));
  const [decided] = answerOf(await desk.report(day.id)).entries;
  expect(decided?.questions).toEqual([]);
  expect(decided?.result?.pulls.length).toBe(1);
  desk.close();
  const later = await deskInFolder(directory);
  expect(answerOf(await later.reading(reading.source))).toMatchObject({ remembered: true });
});

it('answers the rest of a day when one log is broken', async () => {
  const desk = await deskInFolder();
  const { files: whole } = makePlateauDay({ seed: 5, pulls: ['C1', '9', '10'] });
  const broken = whole.map((file) =>
    file.name === 'pull-09-roller.csv' ? { ...file, bytes: new Uint8Array([0x89, 0x50, 0, 0, 1, 2, 3, 0]) } : file,
  );
  const { id } = answerOf(await desk.openFolder(folderWith(broken)));
  const report = answerOf(await desk.report(id));
  expect(report.findings).toMatchObject([
    { kind: 'log-not-read', weight: 'fault', place: { file: 'pull-09-roller.csv' } },
  ]);
  const of = (id: string) => report.entries.find(({ facts }) => facts.id === id);
  expect(of('C1')?.result?.losses).toHaveLength(1);
  expect(of('10')?.result?.pulls).toHaveLength(1);
  expect(of('9')?.result?.pulls.flatMap(({ peaks }) => peaks) ?? []).toEqual([]);
  expect(of('9')?.sentence).toMatch(
    /^No answer: pull-09-roller.csv could not be read: invalid file: .*missing roll speed/,
  );
  expect(of('10')?.unread).toBeUndefined();
});

it('says of which entry a log is not there', async () => {
  const desk = await deskInFolder();
  const { id } = answerOf(await desk.openFolder(folderWith(files.filter(({ name }) => name !== 'pull-09-engine.csv'))));
  const report = answerOf(await desk.report(id));
  expect(report.findings).toMatchObject([{ kind: 'log-not-there', place: { file: 'pull-09-engine.csv' } }]);
  const pull = report.entries.find(({ facts }) => facts.id === '9');
  expect(pull?.unread).toMatchObject([{ file: 'pull-09-engine.csv', why: expect.stringContaining('missing file') }]);
  expect(pull?.sentence).toMatch(/ Made .* pull-09-engine\.csv could not be read: missing file/);
});

it('reads a gauge pressure without a barometer of its own by the barometer of the other log of its entry', async () => {
  const desk = await deskInFolder();
  const engine = new TextDecoder().decode(fileNamed('pull-09-engine.csv').bytes);
  const { id } = answerOf(await desk.openFolder(folderWith(files)));
  const facts = answerOf(desk.facts(id));
  const { pressure: _, ...ambient } = facts.ambient;
  const reading = answerOf(await desk.take('pull-09-engine.csv', new TextEncoder().encode(engine)));
  const column = reading.columns.find(({ proposal }) => proposal.meaning === 'manifold-pressure');
  const mapping = {
    column: column?.name ?? '',
    meaning: 'manifold-pressure',
    unit: column?.proposal.unit ?? 'kPa',
    zero: 'ambient',
    confirmed: true,
  } as const;
  const middle = async (): Promise<number> => {
    const { engine: log } = answerOf(await desk.logs(id, '9'));
    const channel = log?.channels.find(({ meaning }) => meaning === 'manifold-pressure');
    return channel?.samples[Math.floor(channel.samples.length / 2)] ?? Number.NaN;
  };
  const before = await middle();
  answerOf(await desk.setFacts(id, { ...facts, ambient }, 'no barometer was read'));
  answerOf(await desk.decide({ columnSet: reading.columnSet, columns: [mapping] }));
  // The generator's hall stands at about 85.3 kPa: see the barometer in the roller's log.
  expect((await middle()) - before).toBeGreaterThan(85.2e3);
  expect((await middle()) - before).toBeLessThan(85.4e3);
});

it('stops when it is told to, at the start and on the way', async () => {
  const desk = await deskInFolder();
  const { id } = answerOf(await desk.openFolder(folderWith(files)));
  expect(refusalOf(await desk.report(id, { signal: AbortSignal.abort() })).kind).toBe('cancelled');
  const cancel = new AbortController();
  const seen: string[] = [];
  const progress = ({ what }: { what: string }): void => {
    seen.push(what);
    if (what.startsWith('analysing')) cancel.abort();
  };
  expect(refusalOf(await desk.report(id, { signal: cancel.signal, progress })).kind).toBe('cancelled');
  expect(seen.at(-1)).toBe('analysing C1');
  expect(answerOf(await desk.report(id)).entries).toHaveLength(9);
});

it('refuses what it does not know by name', async () => {
  const desk = await deskInFolder();
  expect(refusalOf(await desk.report('nowhere'))).toMatchObject({ kind: 'unknown-day', numbers: { value: 'nowhere' } });
  const { id } = answerOf(await desk.openFolder(folderWith(files)));
  expect(refusalOf(await desk.entry(id, '99'))).toMatchObject({ kind: 'unknown-entry', numbers: { value: '99' } });
  expect(refusalOf(await desk.record(id, 'gap'))).toMatchObject({ kind: 'missing-log' });
  expect(refusalOf(await desk.openFolder('/nowhere/at/all')).place?.file).toBe('/nowhere/at/all');
});
