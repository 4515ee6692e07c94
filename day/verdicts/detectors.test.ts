import { describe, expect, it } from 'vitest';
import { DETECTORS, detections } from './detectors.ts';
import { wheelSlip } from './faults/traction/wheel-slip.ts';
import { sceneTrack } from './scene/scene.ts';
import { detected } from './testing/behaves.ts';
import { tyreSlip } from './testing/faults.ts';
import { inventedPull } from './testing/invented-pull.ts';
import { limitsWith, THRESHOLDS, thresholdNames } from './thresholds.ts';

describe('all detectors together', () => {
  it.each([20, 100, 1000])('see nothing in a clean pull among clean pulls at %d Hz', (rate) => {
    const seen = detections(inventedPull({ rate, seed: 77, references: [{}, {}, {}] })).filter(
      ({ answer }) => answer === 'seen',
    );
    expect(seen.map(({ fault, features }) => ({ fault, features }))).toEqual([]);
  });

  it('each have a fault of their own', () => {
    expect(new Set(DETECTORS.map(({ fault }) => fault)).size).toBe(DETECTORS.length);
  });

  it('say why where a pull has hardly a channel', () => {
    const fewest = ['roll-speed', 'engine-speed', 'brake-force'] as const;
    const all = inventedPull().tracks.map(({ meaning }) => meaning);
    const without = all.filter((meaning) => !fewest.some((kept) => kept === meaning));
    for (const found of detections(inventedPull({ without }))) {
      if (found.answer === 'cannot tell') expect(found.why).toMatch(/\w+ \w+/);
      expect(found.answer).not.toBe('seen');
    }
  });

  it('do not change what they are given', () => {
    const scene = inventedPull({ ...tyreSlip(), seed: 5 });
    const before = sceneTrack(scene, 'engine-speed')?.values.slice();
    detections(scene);
    expect(sceneTrack(scene, 'engine-speed')?.values).toEqual(before);
  });
});

describe('thresholds', () => {
  it('all name a source', () => {
    for (const name of thresholdNames()) expect(THRESHOLDS[name].source.length).toBeGreaterThan(5);
  });

  it('can be set by a person, and the feature says so', () => {
    const found = detected(wheelSlip, tyreSlip(0.03), { 'wheel-slip.departure': 0.05 });
    expect(found.answer).toBe('not seen');
    expect(found.features[0]).toMatchObject({ threshold: 0.05, source: 'set by a person' });
    expect(limitsWith()['wheel-slip.departure'].value).toBe(0.0125);
  });
});
