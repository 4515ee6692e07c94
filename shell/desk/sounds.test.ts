import { beforeAll, describe, expect, it } from 'vitest';
import { makePlateauDay } from '../../scenarios/index.ts';
import { encodeReading } from '../server/encode/reading.ts';
import { encodeTraces } from '../server/encode/traces.ts';
import { answerOf, refusalOf } from '../store/testing/outcomes.ts';
import { deskInFolder, folderWith } from './testing/desk-in-folder.ts';
import { soundOfLog } from './testing/sound-of-log.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['C1', '9'] });
const bytesOf = (name: string): Uint8Array => {
  const file = files.find((one) => one.name === name);
  if (!file) throw new Error(`no ${name} in the made day`);
  return file.bytes;
};
const text = new TextDecoder().decode(bytesOf('day.yaml'));

/** The made day with a file more in pull 9. */
function withFile(name: string, bytes: Uint8Array) {
  const yaml = new TextEncoder().encode(
    text.replace('- "pull-09-engine.csv"', `- "pull-09-engine.csv"\n      - "${name}"`),
  );
  return folderWith([
    ...files.map((file) => (file.name === 'day.yaml' ? { ...file, bytes: yaml } : file)),
    { name, bytes },
  ]);
}

let wave: Uint8Array;
beforeAll(async () => {
  const cylinders = Number(/cylinders: (\d+)/.exec(text)?.[1]);
  wave = await soundOfLog(bytesOf('pull-09-engine.csv'), { cylinders, late: 1, duration: 18 });
});

describe('a sound in the files of an entry', () => {
  it('stands in the record and in the traces, and changes nothing of the answer', async () => {
    const desk = await deskInFolder();
    const plain = answerOf(await desk.openFolder(folderWith(files)));
    const day = answerOf(await desk.openFolder(withFile('sound.wav', wave)));
    const [before, after] = [answerOf(await desk.entry(plain.id, '9')), answerOf(await desk.entry(day.id, '9'))];
    expect(after.facts.files).toContain('sound.wav');
    expect(after.result?.findings.map(({ kind }) => kind)).toContain('sound-joined');
    expect(after.sentence).toBe(before.sentence);
    expect(after.verdicts.map(({ validity, stopClass }) => [validity, stopClass])).toEqual(
      before.verdicts.map(({ validity, stopClass }) => [validity, stopClass]),
    );
    const record = answerOf(await desk.record(day.id, '9'));
    const traces = encodeTraces(record, { meanings: 'acoustic-roughness', points: 200 });
    expect(traces.traces.map(({ file, origin }) => [file, origin])).toEqual([
      ['sound.wav', 'derived'],
      ['sound.wav', 'derived'],
      ['sound.wav', 'derived'],
    ]);
    expect(
      traces.channels.filter(({ meaning }) => meaning === 'engine-speed').some(({ file }) => file === 'sound.wav'),
    ).toBe(false);
    expect(answerOf(await desk.logs(day.id, '9')).engine?.file).toBe('pull-09-engine.csv');
  });

  it.each([
    ['cut off in its header', () => wave.slice(0, 30), /could not be read: /],
    ['without a sound in it', () => new TextEncoder().encode('no sound at all'), /could not be read: .*WAV|RIFF/],
  ])('is an unread file of its entry when it is %s, and the rest answers', async (_, bytes, message) => {
    const desk = await deskInFolder();
    const day = answerOf(await desk.openFolder(withFile('sound.wav', bytes())));
    const report = answerOf(await desk.report(day.id));
    expect(report.findings).toMatchObject([{ kind: 'log-not-read', weight: 'fault', place: { file: 'sound.wav' } }]);
    expect(report.findings[0]?.message).toMatch(message);
    const entry = report.entries.find(({ facts }) => facts.id === '9');
    expect(entry?.unread).toMatchObject([{ file: 'sound.wav' }]);
    expect(entry?.result?.pulls).toHaveLength(1);
    expect(entry?.sentence).toMatch(/ Made \d.* sound\.wav could not be read: /);
  });

  it('is shown without columns when it is brought in, and stays what it is under its hash', async () => {
    const desk = await deskInFolder();
    const reading = answerOf(await desk.take('sound.wav', wave));
    expect(encodeReading(reading)).toMatchObject({
      format: 'sound, 18.0 s, 1 track at 11025 Hz',
      columns: [],
      rows: 198450,
    });
    expect(answerOf(await desk.reading(reading.source))).toEqual(reading);
    expect(refusalOf(await desk.take('broken.wav', wave.slice(0, 30))).kind).toBe('truncated-header');
  });
});
