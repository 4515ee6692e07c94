import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeSimpleDay } from '../../scenarios/index.ts';
import { folderWith, said } from './testing/command-line.ts';

const { files, truth } = makeSimpleDay({
  seed: 11,
  roller: 'brake',
  oneFile: false,
  units: 'metric',
  dialect: 'comma',
  pulls: 1,
  rates: { roller: 50, engine: 50 },
});
const named = (start: string): string[] => files.map(({ name }) => name).filter((name) => name.startsWith(start));
const pair = named('run-1');
const coasts = named('coast-').filter((name) => !name.includes('engine'));

function peakOf(out: string, what: string): { value: number; standardUncertainty: number } | undefined {
  const { result } = JSON.parse(out);
  return result.pulls[0].peaks.find(
    (peak: { what: string; basis: string }) => peak.what === what && peak.basis === 'curve',
  );
}

describe('--coast', () => {
  const words = (at: string) => ['pull', ...pair.map((name) => join(at, name)), '--like', at];

  it('leads from wheel power to engine power, as the whole day does', async () => {
    const at = folderWith(files);
    expect(pair).toHaveLength(2);
    expect(coasts).toHaveLength(2);
    const without = await said([...words(at), '--json']);
    expect(peakOf(without.out, 'engine power')).toBeUndefined();
    expect(peakOf(without.out, 'wheel power')).toBeDefined();

    const one = await said([...words(at), '--coast', join(at, coasts[0] ?? ''), '--json']);
    expect([one.code, one.err]).toEqual([0, '']);
    const engine = peakOf(one.out, 'engine power');
    const day = JSON.parse((await said(['day', at, '--entry', '1', '--json'])).out);
    const whole = peakOf(JSON.stringify(day), 'engine power');
    expect(Math.abs(Number(engine?.value) / Number(whole?.value) - 1)).toBeLessThan(0.01);
    const made = truth.entries.find(({ id }) => id === '1');
    const most = Math.max(...(made?.curve.enginePower ?? []));
    expect(Math.abs(Number(engine?.value) - most)).toBeLessThan(4 * Number(engine?.standardUncertainty));

    const two = await said([...words(at), ...coasts.flatMap((name) => ['--coast', join(at, name)]), '--json']);
    expect(JSON.parse(two.out).coasts).toHaveLength(2);
    expect(peakOf(two.out, 'engine power')).toBeDefined();
  });

  it('says in the text what the coast-down lost', async () => {
    const at = folderWith(files);
    const { out } = await said([...words(at), '--coast', join(at, coasts[0] ?? '')]);
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(
      /coast-1\S*: Coasted down with the clutch open: [\d.]+ ± [\d.]+ N lost at/,
    );
    expect(out).toContain('= engine power');
    expect(out.trimEnd().split('\n').at(-1)).toBe('Bands are two standard uncertainties.');
  });

  it('tells logs of the same name apart by their folders', async () => {
    const at = folderWith(files);
    mkdirSync(join(at, 'coast'));
    const same = join(at, 'coast', pair[0] ?? '');
    writeFileSync(same, readFileSync(join(at, coasts[0] ?? '')));
    const { out } = await said([...words(at), '--coast', same, '--json']);
    expect(peakOf(out, 'engine power')).toBeDefined();
    expect(JSON.parse(out).coasts[0].facts.files).toEqual([same]);
  });

  it('may be a log of the run itself', async () => {
    const at = folderWith(files);
    const path = join(at, coasts[0] ?? '');
    const force = ['--column', 'force = brake force'];
    const { out } = await said(['pull', path, '--like', at, '--coast', path, '--json', ...force]);
    const { facts, coasts: made } = JSON.parse(out);
    expect([facts.id, made[0].facts.id]).toEqual([coasts[0], `in ${coasts[0]}`]);
    expect(made[0].result.losses).toHaveLength(1);
  });

  it('claims no engine power from a log in which nothing coasts, and says so', async () => {
    const at = folderWith(files);
    const engine = join(at, pair.find((name) => name.includes('engine')) ?? '');
    const { out } = await said([...words(at), '--coast', engine]);
    expect(out).not.toContain('peak engine power');
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(/engine\S*: No (answer|full-load pull and no coast-down)/);
  });
});

describe('--nudge', () => {
  const words = (at: string) => ['pull', ...pair.map((name) => join(at, name)), '--like', at, '--json'];

  it('moves the offset that was found', async () => {
    const at = folderWith(files);
    const offset = (out: string): number => JSON.parse(out).result.alignment.pieces[0].offset;
    const found = offset((await said(words(at))).out);
    for (const [text, seconds] of [
      ['0.12 s', 0.12],
      ['-50 ms', -0.05],
    ] as const) {
      const { out } = await said([...words(at), `--nudge=${text}`]);
      expect(offset(out) - found).toBeCloseTo(seconds, 6);
      expect(JSON.parse(out).result.alignment.by).toBe('hand');
    }
  });

  it('is the offset itself where none was found, and the text says how to set one', async () => {
    const flat = files.map(({ name, bytes }) => {
      if (!(pair.includes(name) && name.includes('engine'))) return { name, bytes };
      const rows = Array.from({ length: 400 }, (_, i) => `${(i / 20).toFixed(2)},${(85 + (i % 3) / 10).toFixed(1)}`);
      return { name, bytes: new TextEncoder().encode(['time [s],MAP [kPa]', ...rows].join('\n')) };
    });
    const at = folderWith(flat);
    const plain = await said(words(at).slice(0, -1));
    expect(plain.out).toContain('--nudge "0.12 s"');
    const { out } = await said([...words(at), '--nudge', '1.5 s']);
    expect(JSON.parse(out).result.alignment).toMatchObject({ by: 'hand', pieces: [{ offset: 1.5 }] });
  });

  it('needs a time with its unit and two logs, code 2', async () => {
    const at = folderWith(files);
    for (const text of ['0.12', 'soon', '3 kPa'])
      expect(await said([...words(at), '--nudge', text])).toMatchObject({
        code: 2,
        err: expect.stringContaining('expected seconds with their unit'),
      });
    const one = ['pull', join(at, pair[0] ?? ''), '--nudge', '1 s'];
    expect(await said(one)).toMatchObject({ code: 2, err: expect.stringContaining('two logs') });
  });
});
