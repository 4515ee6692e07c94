import { expect, test } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import type { Channel } from '../../channels/index.ts';
import type { Track } from '../record.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';
import { isEngineTied, untiedFrom } from './tied-engine.ts';

const times = Float64Array.from({ length: 500 }, (_, i) => i / 50);
const speed = times.map((t) => 50 - 3 * t);
const pieces = [{ from: 0, to: 500 }];
const side: RollSide = {
  times,
  pieces,
  speed,
  force: undefined,
  forceKind: 'none',
  setting: undefined,
  mass: measured(450, 0),
  massOrigin: 'test',
  refreshRate: 50,
  findings: [],
};

function engine(omega: (v: number) => number): Track {
  const channel: Channel = {
    name: 'rpm',
    meaning: 'engine-speed',
    kind: 'engine-speed',
    samples: speed.map(omega),
    mask: new Uint8Array(500),
    refreshRate: 50,
    origin: 'measured',
  };
  return { channel, times, pieces, file: 'test' };
}

const segment = (from: number, to: number): Segment => ({
  kind: 'coast-down',
  from,
  to,
  fromTime: times[from],
  toTime: times[to - 1],
  lowSpeed: speed[to - 1],
  highSpeed: speed[from],
  reason: 'test',
});

test('an engine that turns with the rolls is tied, one that idles is not', () => {
  expect(
    isEngineTied(
      engine((v) => 13.3 * v),
      side,
      segment(0, 500),
    ),
  ).toBe(true);
  expect(
    isEngineTied(
      engine(() => 105),
      side,
      segment(0, 500),
    ),
  ).toBe(false);
});

test('too little slowing down and a missing engine speed leave it open', () => {
  expect(
    isEngineTied(
      engine((v) => 13.3 * v),
      side,
      segment(0, 100),
    ),
  ).toBeUndefined();
  expect(isEngineTied(undefined, side, segment(0, 500))).toBeUndefined();
});

test('from where the clutch was opened the engine is tied no longer', () => {
  const whole = segment(0, 500);
  const opened = untiedFrom(
    engine((v) => (v > 35 ? 13.3 * v : 105)),
    side,
    whole,
  );
  expect(side.speed[opened ?? 0]).toBeCloseTo(35, 0);
  const noisy = (v: number) => 13.3 * v * (1 + 0.02 * Math.sin(300 * v));
  expect(untiedFrom(engine(noisy), side, whole)).toBeUndefined();
});

test('an engine that falls to idle at the start was never tied', () => {
  const falls = engine((v) => 105 + 500 * Math.exp(-(50 - v) / 1.2));
  expect(untiedFrom(falls, side, segment(0, 500))).toBeUndefined();
});

test('an engine that idles all the way, or a short leap of its speed, is no opening', () => {
  expect(
    untiedFrom(
      engine(() => 105),
      side,
      segment(0, 500),
    ),
  ).toBeUndefined();
  const leap = engine((v) => (Math.abs(v - 30) < 0.3 ? 20 * v : 13.3 * v));
  expect(untiedFrom(leap, side, segment(0, 500))).toBeUndefined();
  expect(untiedFrom(undefined, side, segment(0, 500))).toBeUndefined();
});
