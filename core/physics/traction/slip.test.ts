import { describe, expect, it } from 'vitest';
import { angularSpeed, length, speed, toSi, unitOf } from '../../quantities/index.ts';
import { longitudinalSlip, slipFromRatio } from './slip.ts';

const rpm = (n: number) => angularSpeed(toSi(n, unitOf('rpm')));
const kmh = (v: number) => speed(toSi(v, unitOf('km/h')));

describe('slip', () => {
  it('check 9-01 (SAE J670 / ISO 8855 definition, from memory; computed with numpy 2.4.6)', () => {
    const found = longitudinalSlip({
      wheelSpeed: angularSpeed(120),
      effectiveRadius: length(0.32),
      surfaceSpeed: speed(36.5),
    });
    expect(Math.abs(found - 0.052055)).toBeLessThan(1e-6);
  });

  it('check 9-02 (definition; computed with numpy 2.4.6): from engine speed over roll speed', () => {
    const freeRatio = rpm(37.5) / kmh(1);
    const found = slipFromRatio({ engineSpeed: rpm(6105), surfaceSpeed: kmh(158), freeRatio });
    expect(Math.abs(found - 0.03038)).toBeLessThan(1e-6);
  });

  it('is zero in free rolling, −1 for a locked wheel, and unknown at standstill', () => {
    const at = (omega: number, v: number) =>
      longitudinalSlip({ wheelSpeed: angularSpeed(omega), effectiveRadius: length(0.5), surfaceSpeed: speed(v) });
    expect(at(60, 30)).toBe(0);
    expect(at(0, 30)).toBe(-1);
    expect(at(60, 0)).toBeNaN();
    expect(slipFromRatio({ engineSpeed: rpm(3000), surfaceSpeed: speed(0), freeRatio: 10 })).toBeNaN();
    expect(slipFromRatio({ engineSpeed: rpm(3000), surfaceSpeed: speed(10), freeRatio: 0 })).toBeNaN();
  });

  it('is the same through a rigid driveline either way (identity)', () => {
    const wheel = 120;
    const fromWheel = longitudinalSlip({
      wheelSpeed: angularSpeed(wheel),
      effectiveRadius: length(0.32),
      surfaceSpeed: speed(36.5),
    });
    const freeRatio = 4.1 / 0.32;
    const fromEngine = slipFromRatio({ engineSpeed: angularSpeed(wheel * 4.1), surfaceSpeed: speed(36.5), freeRatio });
    expect(fromEngine).toBeCloseTo(fromWheel, 12);
  });
});
