import { describe, expect, it } from 'vitest';
import { median } from '../../../core/numerics/index.ts';
import { REVOLUTION } from '../../../core/quantities/index.ts';
import { REASONS } from '../channel.ts';
import { soundRecording } from './sound-recording.ts';
import { heardSound, samplesOf, throughWave } from './testing/heard-sound.ts';
import { type InventedSound, inventedSound } from './testing/invented-sound.ts';

const sweep = (time: number): number => 2000 + 625 * time;
const SPEED = 'engine speed from sound';
const WHOLE = 'acoustic roughness';
const CYCLE = 'acoustic roughness on orders of the cycle';
const BETWEEN = 'acoustic roughness between orders';

const middle = (samples: Float64Array): number => median(samples, 'skip');

/** Relative error of the engine speed heard, where there is one. */
function errors(invented: InventedSound): Float64Array {
  const recording = heardSound(invented);
  const { times } = recording.clock;
  return samplesOf(recording, SPEED)
    .map((speed, i) => (speed * 60) / REVOLUTION / invented.rpm(times[i]) - 1)
    .filter((error) => !Number.isNaN(error));
}

const worst = (values: Float64Array): number => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const rms = (values: Float64Array): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / values.length);

describe('engine speed from sound', () => {
  it.each([
    ['a four over a sweep of 8 s', { duration: 8, rpm: sweep }, 0.001],
    ['the same at a signal-to-noise ratio of 5 dB', { duration: 8, rpm: sweep, snr: 5 }, 0.002],
    ['a V8 at 1500 rpm per second', { duration: 2.5, rpm: (t: number) => 2500 + 1500 * t, cylinders: 8 }, 0.003],
    ['a two-stroke twin', { duration: 2, rpm: () => 6000, cylinders: 2, turns: 1 as const }, 0.001],
    ['an idling four', { duration: 4, rpm: () => 850 }, 0.001],
    [
      'a four with one dead cylinder',
      { duration: 5, rpm: sweep, strength: (n: number) => (n % 4 === 2 ? 0 : 1) },
      0.001,
    ],
    [
      'a four that misses every 7th',
      { duration: 5, rpm: sweep, strength: (n: number) => (n % 7 === 0 ? 0 : 1) },
      0.001,
    ],
  ])('follows %s', (_, invented, tolerance) => {
    const found = errors(invented);
    expect(found.length).toBeGreaterThan(invented.duration * 20 * 0.8);
    expect(worst(found)).toBeLessThan(0.04);
    expect(rms(found.subarray(10, found.length - 10))).toBeLessThan(tolerance);
  });
  it('says that it followed a weak cylinder at first', () => {
    const { findings } = heardSound({ duration: 5, rpm: sweep, strength: (n) => (n % 4 === 2 ? 0 : 1) });
    expect(findings.find(({ kind }) => kind === 'weak-cylinder-course')).toMatchObject({ numbers: { multiple: 4 } });
  });
  it('is not told where there is only noise', () => {
    for (const cylinders of [4, 8]) {
      const { samples, rate } = inventedSound({ duration: 4, rpm: () => 3000, strength: () => 0, seed: 5 });
      expect(soundRecording(throughWave([samples], rate), { cylinders })).toMatchObject({
        ok: false,
        refusal: { kind: 'no-firing-heard' },
      });
    }
  });
  it('is followed from a low idle on', () => {
    const invented = { duration: 5, rpm: (t: number) => 520 + 150 * Math.max(0, t - 2) };
    expect(worst(errors(invented).subarray(8))).toBeLessThan(0.04);
  });
  it('stops where the engine is silent and goes on after it', () => {
    const { samples, rate } = inventedSound({ duration: 6, rpm: () => 3000, snr: 25 });
    samples.fill(0, 2 * rate, 4 * rate);
    const found = soundRecording(throughWave([samples], rate), { cylinders: 4 });
    if (!found.ok) throw new Error(found.refusal.message);
    const speed = samplesOf(found.value, SPEED);
    expect(Number.isNaN(speed[60])).toBe(true);
    expect(found.value.channels[0].mask[60]).toBe(REASONS.excluded);
    for (const i of [20, 100]) expect(speed[i]).toBeCloseTo(50 * REVOLUTION, 0);
  });
  it('does not change with loudness, nor when one of two tracks is the other upside down', () => {
    const invented = { duration: 2, rpm: () => 3000 };
    const { samples, rate } = inventedSound(invented);
    const loud = heardSound(invented);
    const quiet = heardSound({ ...invented, peak: 0.05 });
    expect(middle(samplesOf(quiet, WHOLE))).toBeCloseTo(middle(samplesOf(loud, WHOLE)), 3);
    const both = soundRecording(throughWave([samples, samples.map((x) => -x)], rate), { cylinders: 4 });
    if (!both.ok) throw new Error(both.refusal.message);
    expect(middle(samplesOf(both.value, WHOLE))).toBeCloseTo(middle(samplesOf(loud, WHOLE)), 6);
  });
});

describe('acoustic roughness', () => {
  const rough = (strength: InventedSound['strength']) => {
    const recording = heardSound({ duration: 4, rpm: (t) => 3000 + 300 * t, ...(strength ? { strength } : {}) });
    return {
      whole: middle(samplesOf(recording, WHOLE)),
      cycle: middle(samplesOf(recording, CYCLE)),
      between: middle(samplesOf(recording, BETWEEN)),
    };
  };
  const even = rough(undefined);
  it('is small where all firings are alike', () => {
    expect(even.whole).toBeLessThan(0.1);
  });
  it('of one weak cylinder stands on orders of the cycle', () => {
    const weak = rough((n) => (n % 4 === 1 ? 0.5 : 1));
    expect(weak.cycle).toBeGreaterThan(5 * even.cycle);
    expect(weak.between).toBeLessThan(2 * even.between);
  });
  it('of every 7th firing missed stands between orders too', () => {
    const missed = rough((n) => (n % 7 === 0 ? 0 : 1));
    expect(missed.between).toBeGreaterThan(4 * even.between);
    expect(missed.whole).toBeGreaterThan(4 * even.whole);
  });
  it('shows when in the pull it began', () => {
    const begins = { duration: 6, rpm: () => 3600, strength: (n: number) => (n > 360 && n % 5 === 0 ? 0.1 : 1) };
    const whole = samplesOf(heardSound(begins), WHOLE);
    expect(middle(whole.subarray(70, 110))).toBeGreaterThan(3 * middle(whole.subarray(10, 50)));
  });
  it('is left out, with the reason, where the window is clipped', () => {
    const { samples, rate } = inventedSound({ duration: 3, rpm: () => 3000 });
    const hard = samples.map((value, i) => (i > 1.5 * rate ? Math.max(-1, Math.min(1, 20 * value)) : value));
    const found = soundRecording(throughWave([hard], rate), { cylinders: 4 });
    if (!found.ok) throw new Error(found.refusal.message);
    const channel = found.value.channels.find(({ name }) => name === WHOLE);
    expect([channel?.mask[20], channel?.mask[45]]).toEqual([REASONS.measured, REASONS.saturated]);
    expect(found.findings.map(({ kind }) => kind)).toContain('clipped-sound');
  });
});

describe('a speed that is given', () => {
  it('within 1 % is made exact, and no second engine speed comes out', () => {
    const invented = { duration: 4, rpm: sweep };
    const { samples, rate } = inventedSound(invented);
    const times = Float64Array.from({ length: 41 }, (_, i) => i / 10);
    const values = times.map((time) => (1.01 * sweep(time) * REVOLUTION) / 60);
    const found = soundRecording(throughWave([samples], rate), { cylinders: 4 }, { speed: { times, values } });
    if (!found.ok) throw new Error(found.refusal.message);
    expect(found.value.channels.map(({ meaning }) => meaning)).toEqual(Array(3).fill('acoustic-roughness'));
    expect(middle(samplesOf(found.value, WHOLE))).toBeCloseTo(middle(samplesOf(heardSound(invented), WHOLE)), 2);
  });
  it('that lies nowhere beside the sound is refused', () => {
    const { samples, rate } = inventedSound({ duration: 1, rpm: sweep });
    const speed = { times: Float64Array.of(50, 60), values: Float64Array.of(300, 300) };
    const found = soundRecording(throughWave([samples], rate), { cylinders: 4 }, { speed });
    expect(found).toMatchObject({ ok: false, refusal: { kind: 'no-speed-beside-sound' } });
  });
});

describe('what must be known', () => {
  const { samples, rate } = inventedSound({ duration: 2, rpm: () => 3000 });
  const sound = throughWave([samples], rate);
  it('of the engine is asked for, assumed aloud, or left out', () => {
    const unknown = soundRecording(sound, {});
    if (!unknown.ok) throw new Error(unknown.refusal.message);
    expect(unknown.findings.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['cylinders-unknown', 'level-not-calibrated', 'roughness-compares']),
    );
    expect(unknown.value.channels.some(({ meaning }) => meaning === 'engine-speed')).toBe(false);
    expect(middle(samplesOf(unknown.value, 'firing frequency from sound'))).toBeCloseTo(100, 0);
    const four = soundRecording(sound, { cylinders: 4 });
    expect(four.ok && four.findings.map(({ kind }) => kind)).toContain('strokes-assumed');
  });
  it.each([
    [{ cylinders: 0 }, {}, 'invalid-cylinders'],
    [{ cylinders: 2.5 }, {}, 'invalid-cylinders'],
    [{ cylinders: 4 }, { range: { from: 0, to: 5 } }, 'invalid-range'],
  ])('is refused when it makes no sense: %o %o', (facts, options, kind) => {
    expect(soundRecording(sound, facts, options)).toMatchObject({ ok: false, refusal: { kind } });
  });
  it('of the sound is refused when it is silent or too short', () => {
    expect(soundRecording(throughWave([new Float64Array(8000)], 8000), { cylinders: 4 })).toMatchObject({
      ok: false,
      refusal: { kind: 'silent-sound', numbers: { seconds: 1 } },
    });
    expect(soundRecording(throughWave([samples.slice(0, 300)], rate), { cylinders: 4 })).toMatchObject({
      ok: false,
      refusal: { kind: 'no-firing-heard' },
    });
  });
});
