import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { waveBytes } from '../../day/channels/sound/testing/wave-bytes.ts';
import { isSoundFile, openSound } from './open-sound.ts';
import { openTable } from './open-table.ts';
import { sha256Hex } from './sha256.ts';

const folder = mkdtempSync(join(tmpdir(), 'knurl-sound-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function written(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

const track = Float64Array.from({ length: 1_100_000 }, (_, i) => 0.5 * Math.sin(i / 20));
const long = waveBytes({ tracks: [track, track], rate: 48_000, bits: 24, remark: 5001 });

describe('a recording of sound', () => {
  it('is read in pieces to the same values as at once, with the hash of its bytes', async () => {
    const path = written('long.csv', long);
    const seen: number[] = [];
    const opened = await openSound(path, { progress: (share) => seen.push(share) });
    const atOnce = await openSound(long, { file: 'long.csv' });
    if (!opened.ok || !atOnce.ok) throw new Error('refused');
    expect(opened.value.source).toBe(sha256Hex(long));
    expect(opened.value.duration).toBeCloseTo(1_100_000 / 48_000, 9);
    expect(opened.value).toEqual(atOnce.value);
    expect(seen.length).toBeGreaterThan(3);
  });
  it('is told from a table by its content, and a table reader refuses it by name of its kind', async () => {
    const sound = written('a.txt', waveBytes({ tracks: [track.subarray(0, 100)] }));
    const table = written('b.wav', 'time,rpm\n0,900\n');
    expect([await isSoundFile(sound), await isSoundFile(table)]).toMatchObject([{ value: true }, { value: false }]);
    for (const from of [sound, waveBytes({ tracks: [[0.5]] })]) {
      expect(await openTable(from)).toMatchObject({ ok: false, refusal: { kind: 'sound-file' } });
    }
    expect(await openSound(table)).toMatchObject({
      ok: false,
      refusal: { kind: 'not-a-wave', place: { file: 'b.wav' } },
    });
  });
  it('is refused when it is missing, empty, or the reading was cancelled', async () => {
    expect(await openSound(join(folder, 'none.wav'))).toMatchObject({ ok: false, refusal: { kind: 'missing-file' } });
    expect(await openSound(written('empty.wav', ''))).toMatchObject({
      ok: false,
      refusal: { kind: 'truncated-header' },
    });
    const signal = AbortSignal.abort();
    expect(await openSound(written('c.wav', long), { signal })).toMatchObject({
      ok: false,
      refusal: { kind: 'cancelled' },
    });
  });
});
