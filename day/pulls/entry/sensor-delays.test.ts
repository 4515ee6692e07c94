import { expect, test } from 'vitest';
import type { Alignment, Channel, Meaning } from '../../channels/index.ts';
import type { JoinedRecord, Track } from '../record.ts';
import { withSensorDelays } from './sensor-delays.ts';

const RATE = 50;
const times = Float64Array.from({ length: 20 * RATE }, (_, i) => i / RATE);

function track(meaning: Meaning, value: (t: number) => number): Track {
  const channel: Channel = {
    name: meaning,
    meaning,
    kind: 'ratio',
    samples: times.map(value),
    mask: new Uint8Array(times.length),
    refreshRate: RATE,
    origin: 'measured',
  };
  return { channel, times, pieces: [{ from: 0, to: times.length }], file: 'test' };
}

const alignment: Alignment = {
  clock: 'a',
  other: 'a',
  pieces: [],
  correlation: 1,
  second: undefined,
  by: 'same clock',
};
const record = (...tracks: Track[]): JoinedRecord => ({ tracks, alignment, findings: [] });

test('lambda is moved earlier by practice where nothing measures it, and its values stay', () => {
  const lambda = track('lambda', () => 0.8);
  const moved = withSensorDelays(
    record(
      lambda,
      track('engine-speed', () => 314.16),
    ),
  );
  const [first] = moved.tracks;
  expect(times[500] - first.times[500]).toBeCloseTo(0.03 + 45 / 314.16 + 0.05, 6);
  expect(first.channel.samples).toEqual(lambda.channel.samples);
  expect(moved.findings.map(({ kind }) => kind)).toEqual(['sensor-delay']);
});

test('a fuel cut measures the delay: lambda answers 0.30 s after it', () => {
  const late = 0.3;
  const lambda = track('lambda', (t) => (t < 10 + late ? 0.8 : Math.min(1.6, 0.8 + 8 * (t - 10 - late))));
  const command = track('injector-pulse', (t) => (t < 10 ? 0.008 : 0));
  const moved = withSensorDelays(
    record(
      lambda,
      track('engine-speed', () => 314.16),
      command,
    ),
  );
  const shift = times[500] - moved.tracks[0].times[500];
  expect(Math.abs(shift - late)).toBeLessThan(0.06);
  expect(moved.findings[0].rule).toContain('measured at 1 fuel cut');
});

test('a slow temperature stays where it is and is said to be late', () => {
  const charge = track('charge-temperature', () => 320);
  const moved = withSensorDelays(record(charge));
  expect(moved.tracks[0].times).toBe(times);
  expect(moved.findings.map(({ kind }) => kind)).toEqual(['sensor-lag']);
});
