import { describe, expect, it } from 'vitest';
import { type PullScene, sceneTrack } from '../scene/scene.ts';
import { type Invented, inventedPull } from '../testing/invented-pull.ts';
import { edgeLag } from './edges.ts';

/** A throttle that takes so long up and down [s], through a first-order lag [s]. */
function throttle({
  up,
  down,
  lag = 0,
  seed = 1,
}: {
  up: number;
  down: number;
  lag?: number;
  seed?: number;
}): PullScene {
  let [state, last] = [Number.NaN, Number.POSITIVE_INFINITY];
  const invented: Invented = {
    seed,
    change: {
      throttle: (_, { t }) => {
        const now = 0.2 + 0.8 * Math.max(0, Math.min(1, t / up, (10 + down - t) / down));
        state = t < last || lag === 0 ? now : state + (now - state) * (1 - Math.exp(-(t - last) / lag));
        last = t;
        return state;
      },
    },
  };
  return inventedPull(invented);
}

function lagOf(scene: PullScene, others: readonly PullScene[]): number {
  const of = (one: PullScene) => {
    const track = sceneTrack(one, 'throttle');
    if (!track) throw new Error('no throttle');
    return track;
  };
  return edgeLag(
    scene,
    of(scene),
    others.map((other) => ({ scene: other, track: of(other) })),
  );
}

describe('the lag that both edges of a throttle show', () => {
  const usual = [2, 3].map((seed) => throttle({ up: 0.2, down: 0.1, seed }));

  it.each([0.4, 0.8])('is its time constant, %d s', (lag) => {
    // From 20 to 80 % a first-order lag takes ln 4 of its time constants.
    expect(lagOf(throttle({ up: 0.2, down: 0.1, lag }), usual) / lag).toBeCloseTo(1, 0);
    expect(Math.abs(lagOf(throttle({ up: 0.2, down: 0.1, lag }), usual) / lag - 1)).toBeLessThan(0.25);
  });

  it('is none where the foot was slow on one side alone', () => {
    expect(lagOf(throttle({ up: 1.5, down: 0.1 }), usual)).toBeNaN();
    expect(lagOf(throttle({ up: 0.2, down: 1.5 }), usual)).toBeNaN();
  });

  it('is next to none where nothing changed', () => {
    const none = lagOf(throttle({ up: 0.2, down: 0.1, seed: 4 }), usual);
    expect(Number.isNaN(none) || Math.abs(none) < 0.03).toBe(true);
  });
});
