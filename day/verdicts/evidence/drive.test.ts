import { describe, expect, it } from 'vitest';
import { emptyMemory } from '../scene/memory.ts';
import { inventedPull } from '../testing/invented-pull.ts';
import { driveForce } from './drive.ts';

describe('the drive of a pull', () => {
  it('is taken from the rolls where engine speed is as fast but for the last digits of its rate', () => {
    const rates = { 'roll-speed': 20, 'engine-speed': 20, 'brake-force': 20 };
    const uneven = inventedPull({ rates, change: { 'engine-speed': (value, { t }) => value + 3 * Math.sin(20 * t) } });
    const tracks = uneven.tracks.map((track) =>
      track.meaning === 'roll-speed' ? { ...track, rate: track.rate * (1 - 1e-9) } : track,
    );
    const [{ values: here }, { values: there }] = [
      { ...uneven, tracks, memory: emptyMemory() },
      inventedPull({ rates }),
    ].map((scene) => driveForce(scene) ?? { values: new Float64Array(0) });
    const apart = here.slice(0, 190).map((value, i) => Math.abs(value - there[i]));
    expect(Math.max(...apart.filter(Number.isFinite))).toBeLessThan(1e-3 * Math.max(...there.filter(Number.isFinite)));
  });
});
