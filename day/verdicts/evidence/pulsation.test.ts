import { describe, expect, it } from 'vitest';
import { sceneTrack } from '../scene/scene.ts';
import { type Invented, inventedPull, type Moment } from '../testing/invented-pull.ts';
import { withoutPulsation } from './pulsation.ts';

const CYLINDERS = 6;
const engine = (cylinders: number | undefined): NonNullable<Invented['engine']> => ({
  ignition: 'spark',
  strokesPerCycle: 4,
  ...(cylinders === undefined ? {} : { cylinders }),
});

/** Angle of the crank of the invented ramp [rad] since tip-in: 220 rad/s and 47 rad/s². */
const angle = (t: number): number => 220 * t + 23.5 * t * t;

/** Pulsation of the firings of a six with its double, growing with the pull [Pa]. */
const pulsation = ({ t, place, full }: Moment): number =>
  full ? (2e3 + 2e3 * place) * (Math.sin(3 * angle(t)) + 0.3 * Math.cos(6 * angle(t))) : 0;
const hump = (t: number): number => (t > 4 && t < 5 ? 12e3 * Math.sin(Math.PI * (t - 4)) ** 2 : 0);

const read = (rate: number, cylinders: number | undefined, add: (moment: Moment) => number) => {
  const scene = inventedPull({
    rate,
    engine: engine(cylinders),
    change: { 'manifold-pressure': (value, moment) => value + add(moment) },
  });
  const track = sceneTrack(scene, 'manifold-pressure');
  if (!track) throw new Error('no pressure');
  return { scene, track, left: withoutPulsation(scene, track) };
};

describe('pressure without the pulsation of the firings', () => {
  it.each([20, 50, 100, 500])('keeps its own noise only, read at %d Hz', (rate) => {
    const { track, left } = read(rate, CYLINDERS, pulsation);
    expect(track.noise).toBeGreaterThan(1.6e3);
    expect(left.noise).toBeLessThan(1.25e3);
  });

  it('keeps what the pressure itself does', () => {
    const plain = read(100, CYLINDERS, ({ t }) => hump(t));
    const { left } = read(100, CYLINDERS, (moment) => pulsation(moment) + hump(moment.t));
    const off = left.values.filter((_, i) => left.times[i] > 7 && left.times[i] < 8);
    const wanted = plain.track.values.filter((_, i) => plain.track.times[i] > 7 && plain.track.times[i] < 8);
    const apart = off.map((value, i) => value - wanted[i]);
    expect(Math.sqrt(apart.reduce((sum, value) => sum + value ** 2, 0) / apart.length)).toBeLessThan(600);
  });

  it('is the pressure as logged where nothing pulsates, or the cylinders are not known', () => {
    const still = read(100, CYLINDERS, () => 0);
    expect(still.left).toBe(still.track);
    const unknown = read(100, undefined, pulsation);
    expect(unknown.left).toBe(unknown.track);
  });

  it('misses no reading and leaves gaps alone', () => {
    const scene = inventedPull({
      engine: engine(CYLINDERS),
      gap: [4, 4.6],
      change: { 'manifold-pressure': (value, moment) => value + pulsation(moment) },
    });
    const track = sceneTrack(scene, 'manifold-pressure');
    const left = track && withoutPulsation(scene, track);
    expect(left?.values.length).toBe(track?.values.length);
    expect(left?.noise).toBeLessThan(1.25e3);
  });
});
