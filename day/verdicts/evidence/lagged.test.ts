import { describe, expect, it } from 'vitest';
import type { Meaning } from '../../channels/index.ts';
import { type PullScene, sceneTrack } from '../scene/scene.ts';
import { type Invented, inventedPull, type Moment } from '../testing/invented-pull.ts';
import { laggedBehind } from './lagged.ts';

/** A channel through a first-order lag [s]. */
function slow(seconds: number, channel: Meaning = 'manifold-pressure'): Invented {
  let [state, last] = [Number.NaN, Number.POSITIVE_INFINITY];
  return {
    change: {
      [channel]: (value: number, { t }: Moment) => {
        state = t < last ? value : state + (value - state) * (1 - Math.exp(-(t - last) / seconds));
        last = t;
        return state;
      },
    },
  };
}

/** A pull whose driver lifted so much earlier [s]: pressure is gone then, speed falls. */
function lifted(early: number, seed: number): PullScene {
  const end = 10 - early;
  const whole = inventedPull({
    seed,
    change: {
      'manifold-pressure': (value, { t }) => (t > end ? 90e3 + (value - 90e3) * Math.exp(-(t - end) / 0.1) : value),
      'engine-speed': (value, { t }) => (t > end ? value - 110 * (t - end) : value),
    },
  });
  return { ...whole, to: whole.to - early };
}

function lagOf(scene: PullScene, others: readonly PullScene[], channel: Meaning = 'manifold-pressure') {
  const of = (one: PullScene) => {
    const track = sceneTrack(one, channel);
    if (!track) throw new Error(`no ${channel}`);
    return track;
  };
  return laggedBehind(
    scene,
    of(scene),
    others.map((other) => ({ scene: other, track: of(other) })),
  );
}

describe('a lag against pulls that ended at a lower speed', () => {
  it.each([0, 1, 2.5])('is found as it is, with the others lifted %d s earlier', (early) => {
    const others = [lifted(early, 2), lifted(early, 3)];
    const late = lagOf(inventedPull(slow(0.5)), others);
    expect(late?.lag).toBeGreaterThan(0.4);
    expect(late?.lag).toBeLessThan(0.62);
    expect(late?.explained).toBeGreaterThan(0.95);
    const prompt = lagOf(inventedPull(), others);
    expect(prompt?.lag).toBeLessThan(0.1);
    expect(prompt?.unlagged).toBeGreaterThan(0.95);
  });
});

describe('a throttle that lags by seconds', () => {
  it('is found, though it has full load begin late and end early', () => {
    const whole = inventedPull(slow(2.5, 'throttle'));
    const late = lagOf(
      { ...whole, from: whole.from + 1.2, to: whole.to - 0.2 },
      [2, 3].map((seed) => inventedPull({ seed })),
      'throttle',
    );
    expect(late?.lag).toBeGreaterThan(2);
    expect(late?.lag).toBeLessThan(3);
    expect(late?.explained).toBeGreaterThan(0.98);
  });
});

describe('a lag over the stretch that only one of two pulls ran through', () => {
  it('goes on from what was there before it', () => {
    // At lift-off the quick channel jumps at once, and is found there behind the gap.
    const quick = (value: number, t: number, end: number): number => (t > end ? 60e3 : Math.max(value, 100e3));
    const early = (seed: number): PullScene => {
      const whole = inventedPull({
        seed,
        change: {
          'manifold-pressure': (value, { t }) => quick(value, t, 8.5),
          'engine-speed': (value, { t }) => (t > 8.5 ? value - 110 * (t - 8.5) : value),
        },
      });
      return { ...whole, to: whole.to - 1.5 };
    };
    let [state, last] = [Number.NaN, Number.POSITIVE_INFINITY];
    const late = inventedPull({
      change: {
        'manifold-pressure': (value, { t }) => {
          const now = quick(value, t, 10);
          state = t < last ? now : state + (now - state) * (1 - Math.exp(-(t - last) / 1.8));
          last = t;
          return state;
        },
      },
    });
    const found = lagOf(late, [early(2), early(3)]);
    expect(found?.explained).toBeGreaterThan(0.94);
    expect(found?.lag).toBeGreaterThan(1.5);
  });
});
