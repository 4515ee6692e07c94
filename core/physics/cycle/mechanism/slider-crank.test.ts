import { describe, expect, it } from 'vitest';
import { angle, angularSpeed, length, ratio, toSi, unitOf } from '../../../quantities/index.ts';
import { cylinderVolume } from './cylinder.ts';
import { meanPistonSpeed, pistonAcceleration, pistonSpeed, pistonTravel } from './slider-crank.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const rpm = (value: number) => angularSpeed(toSi(value, unitOf('rpm')));
const degrees = (value: number) => angle((value * Math.PI) / 180);
const CRANK = { bore: length(0.086), stroke: length(0.09), rodLength: length(0.15) };

describe('slider-crank', () => {
  it.each([
    ['5-13', 0, 0, 0, 31434.69],
    ['5-14', 30, 7.72596e-3, 20.8275, 24736.205],
    ['5-15', 90, 51.90912e-3, 32.98672, -7604.425],
    ['5-16', 180, 90e-3, 0, -16926.372],
  ])(
    'check %s (exact kinematics, computed with numpy 2.4.6): %i° at 7000 rpm',
    (...[_, at, travel, velocity, acceleration]) => {
      expect(Math.abs(pistonTravel(CRANK, degrees(at)) - travel)).toBeLessThan(6e-9);
      expect(Math.abs(pistonSpeed(CRANK, degrees(at), rpm(7000)) - velocity)).toBeLessThan(1e-5);
      expect(relative(pistonAcceleration(CRANK, degrees(at), rpm(7000)), acceleration)).toBeLessThan(1e-6);
    },
  );

  it('check 5-17 (computed with scipy 1.17.1): fastest at 74.5289°, where it does not accelerate', () => {
    const peak = pistonSpeed(CRANK, degrees(74.5289), rpm(7000));
    expect(Math.abs(peak - 34.4491)).toBeLessThan(1e-4);
    expect(Math.abs(pistonAcceleration(CRANK, degrees(74.5289), rpm(7000)))).toBeLessThan(0.1);
  });

  it('check 5-18 (exact): mean piston speed', () => {
    expect(meanPistonSpeed(length(0.09), rpm(7000))).toBeCloseTo(21, 12);
  });

  it('speed and acceleration are derivatives of travel (identity, over a turn)', () => {
    const omega = rpm(6000);
    for (let at = 1; at < 360; at += 7) {
      const h = 1e-4;
      const travel = (shift: number) => pistonTravel(CRANK, angle(degrees(at) + shift));
      const velocity = (omega * (travel(h) - travel(-h))) / (2 * h);
      const curvature = (omega * omega * (travel(h) - 2 * travel(0) + travel(-h))) / (h * h);
      expect(pistonSpeed(CRANK, degrees(at), omega)).toBeCloseTo(velocity, 4);
      expect(Math.abs(pistonAcceleration(CRANK, degrees(at), omega) - curvature)).toBeLessThan(1);
    }
  });

  it('sweeps its displacement and leaves the clearance', () => {
    const swept = (Math.PI / 4) * 0.086 ** 2 * 0.09;
    const top = cylinderVolume({ ...CRANK, compressionRatio: ratio(10) }, degrees(0));
    expect(top).toBeCloseTo(swept / 9, 12);
    expect(cylinderVolume({ ...CRANK, compressionRatio: ratio(10) }, degrees(180)) / top).toBeCloseTo(10, 12);
  });
});
