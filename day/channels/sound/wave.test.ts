import { describe, expect, it } from 'vitest';
import { readSound } from './sound.ts';
import { type WaveWriting, waveBytes } from './testing/wave-bytes.ts';
import { waveLayout } from './wave-layout.ts';
import { waveSamples } from './wave-samples.ts';

const STEPS = [0, 0.5, -0.5, 0.25, -1, 0.125];

function layout(bytes: Uint8Array) {
  const found = waveLayout({ head: bytes, size: bytes.length, file: 'a.wav' });
  if (!found.ok) throw new Error(found.refusal.message);
  return found.value;
}

function refusal(bytes: Uint8Array) {
  const found = readSound({ bytes, file: 'a.wav', source: 'x' });
  if (found.ok) throw new Error('not refused');
  return found.refusal;
}

function patched(bytes: Uint8Array, at: number, values: readonly number[]): Uint8Array {
  const copy = bytes.slice();
  copy.set(values, at);
  return copy;
}

describe('the samples of a WAV file', () => {
  it.each<Pick<WaveWriting, 'bits' | 'encoding' | 'extensible'>>([
    { bits: 8 },
    { bits: 16 },
    { bits: 24 },
    { bits: 32 },
    { bits: 32, encoding: 'float' },
    { bits: 64, encoding: 'float' },
    { bits: 24, extensible: true },
    { bits: 32, encoding: 'float', extensible: true },
  ])('come out as written: %o', (how) => {
    const bytes = waveBytes({ tracks: [STEPS, STEPS.toReversed()], ...how });
    const found = layout(bytes);
    expect(found).toMatchObject({ frames: 6, tracks: 2, rate: 8000, findings: [] });
    const data = bytes.subarray(found.dataFrom);
    expect([...waveSamples(data, found, 0)]).toEqual(STEPS);
    expect([...waveSamples(data, found, 1)]).toEqual(STEPS.toReversed());
  });
  it('are found behind other chunks, also of odd length', () => {
    expect(layout(waveBytes({ tracks: [STEPS], remark: 31 })).dataFrom).toBe(44 + 8 + 32);
  });
  it('that are no number become 0 and are counted', () => {
    const value = Float64Array.from({ length: 800 }, (_, i) => (i === 700 ? Number.NaN : 0.1));
    const sound = readSound({
      bytes: waveBytes({ tracks: [value], encoding: 'float', bits: 32 }),
      file: 'a',
      source: '',
    });
    if (!sound.ok) throw new Error(sound.refusal.message);
    expect([...sound.value.missing]).toEqual([0, 1 / 400]);
    expect(sound.findings.map(({ kind }) => kind)).toContain('missing-samples');
  });
});

describe('a WAV file that is not whole', () => {
  const whole = waveBytes({ tracks: [STEPS] });
  it.each([
    ['nothing', new Uint8Array(0), 'truncated-header', 'ends after 0 bytes'],
    ['another file', Uint8Array.from(new TextEncoder().encode('time,rpm\n0,900\n')), 'not-a-wave', 'at byte 0'],
    ['big-endian', patched(whole, 3, [88]), 'unsupported-encoding', 'RIFX'],
    ['cut in the format', whole.subarray(0, 30), 'truncated-header', 'at byte 12'],
    ['cut before the samples', whole.subarray(0, 36), 'missing-chunk', '"data" chunk'],
    ['cut in a chunk head', whole.subarray(0, 40), 'truncated-header', 'at byte 36'],
    ['without samples', whole.subarray(0, 44), 'empty-sound', '0 bytes of sound'],
    ['samples before the format', patched(whole, 12, [100, 97, 116, 97]), 'missing-chunk', '"fmt "'],
    ['compressed', patched(whole, 20, [2]), 'unsupported-encoding', 'code 2'],
    ['no tracks', patched(whole, 22, [0]), 'invalid-header', 'tracks: 0'],
    ['rate 0', patched(whole, 24, [0, 0]), 'invalid-header', 'sample rate: 0 Hz'],
    ['rate beyond reason', patched(whole, 27, [255]), 'invalid-header', 'expected 1–10000000'],
    ['frame size', patched(whole, 32, [3]), 'invalid-header', 'frame size: 3'],
    ['37 bits', patched(patched(whole, 34, [37]), 32, [5]), 'unsupported-encoding', '37 bits'],
    ['a chunk longer than the file', patched(whole, 16, [0, 0, 1]), 'truncated-header', '65536 bytes'],
  ])('is refused with where and what: %s', (...[, bytes, kind, message]) => {
    const found = refusal(bytes);
    expect([found.kind, found.message]).toEqual([kind, expect.stringContaining(message)]);
  });
  it('but has samples is read as far as it goes, and says so', () => {
    const bytes = waveBytes({ tracks: [new Float64Array(8000)] });
    const cut = layout(bytes.subarray(0, 44 + 8001));
    expect(cut).toMatchObject({
      frames: 4000,
      findings: [{ kind: 'truncated-sound', numbers: { seconds: 0.5, wanted: 1 } }],
    });
    const open = layout(waveBytes({ tracks: [new Float64Array(80)], said: 0 }));
    expect(open).toMatchObject({ frames: 80, findings: [{ kind: 'unfinished-header' }] });
  });
  it('never throws, whatever byte is broken', () => {
    for (let at = 0; at < 44; at++) {
      for (const value of [0, 1, 127, 255]) readSound({ bytes: patched(whole, at, [value]), file: 'a', source: '' });
    }
  });
});

describe('what is kept of a sound', () => {
  it('is a tone of the same strength at the same time, thinned from any rate', () => {
    for (const rate of [8000, 11025, 44100, 96000]) {
      const tone = Float64Array.from({ length: rate / 5 }, (_, i) => 0.5 * Math.sin((2 * Math.PI * 400 * i) / rate));
      const sound = readSound({ bytes: waveBytes({ tracks: [tone], rate, bits: 24 }), file: 'a', source: '' });
      if (!sound.ok) throw new Error(sound.refusal.message);
      const { tracks, rate: kept } = sound.value;
      for (let k = 100; k < 600; k++)
        expect(tracks[0][k]).toBeCloseTo(0.5 * Math.sin((2 * Math.PI * 400 * k) / kept), 3);
    }
  });
  it('tells clipping from a loud sound just below it', () => {
    const wave = (peak: number) =>
      Float64Array.from({ length: 8000 }, (_, i) => Math.max(-1, Math.min(1, peak * Math.sin(i / 7))));
    const kinds = (peak: number) => {
      const sound = readSound({ bytes: waveBytes({ tracks: [wave(peak)] }), file: 'a', source: '' });
      return sound.ok ? sound.findings.map(({ kind }) => kind) : [];
    };
    expect(kinds(1.4)).toContain('clipped-sound');
    expect(kinds(0.99)).not.toContain('clipped-sound');
  });
});
