import { expect, test } from 'vitest';
import type { Channel } from '../../channels/index.ts';
import { believedSpeed } from './believed-speed.ts';

const RATE = 100;
const COUNT = 1000;
const times = Float64Array.from({ length: COUNT }, (_, i) => i / RATE);
const speed = times.map((t) => 20 + 3 * t);
const pieces = [{ from: 0, to: COUNT }];

function believed(change: (omega: number, t: number) => number): ReturnType<typeof believedSpeed> {
  const samples = speed.map((v, i) => change(13.3 * v, times[i]));
  const channel: Channel = {
    name: 'rpm',
    meaning: 'engine-speed',
    kind: 'engine-speed',
    samples,
    mask: new Uint8Array(COUNT),
    refreshRate: RATE,
    origin: 'measured',
  };
  return believedSpeed({ channel, times, pieces, file: 'test' }, { times, pieces, speed });
}

test('a quiet engine speed stays as it is', () => {
  const { samples, leaps } = believed((omega) => omega);
  expect(leaps).toBe(0);
  expect(samples.every(Number.isFinite)).toBe(true);
});

test.each([
  ['zero', () => 0],
  ['doubled', (omega: number) => 2 * omega],
  ['held', (_: number, t: number) => 13.3 * (20 + 3 * 4) * (t > 0 ? 0.9 : 1)],
])('a trigger lost for 120 ms and written as %s is left out, and nothing else', (_what, lost) => {
  const { samples, leaps } = believed((omega, t) => (t >= 5 && t < 5.12 ? lost(omega, t) : omega));
  expect(leaps).toBe(1);
  expect(samples.filter((value) => !Number.isFinite(value)).length).toBe(12);
});

test('gross slip of 8 % for a second and a half is no leap', () => {
  const { leaps } = believed((omega, t) => omega * (1 + 0.08 * Math.exp(-(((t - 5) / 0.6) ** 2))));
  expect(leaps).toBe(0);
});
