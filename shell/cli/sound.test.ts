import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { makePlateauDay } from '../../scenarios/index.ts';
import { soundOfLog } from '../desk/testing/sound-of-log.ts';
import { folderWith, said } from './testing/command-line.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['C1', '9'] });
const engine = files.find(({ name }) => name === 'pull-09-engine.csv');
const SIX = ['--fact', 'cylinders = 6', '--fact', 'strokes per cycle = 4'];

let wave: Uint8Array;
beforeAll(async () => {
  if (!engine) throw new Error('the made day has no engine log');
  wave = await soundOfLog(engine.bytes, { cylinders: 6, late: 13, duration: 15 });
});

/** Folder of the made day with a sound, and the paths of its pull. */
function withSound(bytes: Uint8Array) {
  const folder = folderWith(files);
  writeFileSync(join(folder, 'sound.wav'), bytes);
  const at = (name: string): string => join(folder, name);
  return { folder, sound: at('sound.wav'), logs: [at('pull-09-roller.csv'), at('pull-09-engine.csv')] };
}

describe('knurl read of a sound', () => {
  it('says how it was recorded and the engine speed in it, the same in text and in JSON', async () => {
    const { sound } = withSound(wave);
    const text = await said(['read', sound, ...SIX]);
    expect(text).toMatchObject({ code: 0, err: '' });
    expect(text.out).toContain(`${sound}: sound, 15.0 s, 1 track at 11025 Hz\n`);
    const [, low = '', high = ''] = /Engine speed in the sound: (\d+) – (\d+) rpm/.exec(text.out) ?? [];
    expect(text.out).not.toContain('column');
    for (const line of text.out.split('\n').slice(1)) expect([...line].length, line).toBeLessThanOrEqual(100);
    const [{ table, told }] = JSON.parse((await said(['read', sound, ...SIX, '--json'])).out);
    expect(table.format).toEqual({ kind: 'sound', seconds: 15, tracks: 1, recordedRate: 11025 });
    const rpm = told.speed.filter((one: number | null) => one !== null).map((one: number) => (one * 30) / Math.PI);
    expect(told.what).toBe('engine speed');
    expect([Math.min(...rpm).toFixed(0), Math.max(...rpm).toFixed(0)]).toEqual([low, high]);
    // The made engine reaches 6950 rpm; a neighbouring course would be far off.
    expect(Number(high)).toBeGreaterThan(6800);
    expect(Number(high)).toBeLessThan(7100);
  });

  it('gives a firing frequency and what it would be as a speed while the cylinders are unknown', async () => {
    const { code, out } = await said(['read', withSound(wave).sound]);
    expect(code).toBe(0);
    expect(out).toMatch(/Firing frequency in the sound: [\d.]+ – [\d.]+ Hz/);
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(/6 cylinders \d+ – \d+ rpm.*--fact "cylinders = NUMBER"/);
  });

  it('says what is wrong with a broken sound and goes on with the logs', async () => {
    const { sound, logs } = withSound(new TextEncoder().encode('no sound at all'));
    const { code, out, err } = await said(['read', sound, ...logs.slice(0, 1)]);
    expect(code).toBe(1);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toContain('sound.wav');
    expect(out).toContain('pull-09-roller.csv: ');
  });
});

describe('knurl pull with a sound', () => {
  it('lays it on the logs and answers as without it', async () => {
    const { folder, sound, logs } = withSound(wave);
    const plain = JSON.parse((await said(['pull', ...logs, '--like', folder, '--json'])).out);
    const run = await said(['pull', ...logs, sound, '--like', folder, '--json']);
    const heard = JSON.parse(run.out);
    expect(heard.sentence).toBe(plain.sentence);
    expect(heard.result.pulls[0].peaks).toEqual(plain.result.pulls[0].peaks);
    expect(heard.result.findings.map(({ kind }: { kind: string }) => kind)).toContain('sound-joined');
  });

  it('answers without a sound that cannot be read, and says so', async () => {
    const { folder, sound, logs } = withSound(wave.slice(0, 30));
    const { code, out } = await said(['pull', ...logs, sound, '--like', folder]);
    expect([0, 4]).toContain(code);
    expect(out.replaceAll(/\s+/g, ' ')).toContain('sound.wav could not be read: ');
  });

  it('asks for a log beside it, and still refuses three logs', async () => {
    const { sound, logs } = withSound(wave);
    expect(await said(['pull', sound])).toMatchObject({ code: 2, err: expect.stringContaining('missing log') });
    expect(await said(['pull', ...logs, join(logs[0] ?? '', '..', 'coast-01-roller.csv'), sound])).toMatchObject({
      code: 2,
      err: expect.stringContaining('3 files'),
    });
    expect(await said(['pull', ...logs.slice(0, 1), sound, '--nudge', '0.1 s'])).toMatchObject({
      code: 2,
      err: expect.stringContaining('two logs'),
    });
  });
});
