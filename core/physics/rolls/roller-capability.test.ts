import { describe, expect, it } from 'vitest';
import { force, length, power, ratio, speed, toSi, unitOf } from '../../quantities/index.ts';
import { gearChoice, surfaceCurve } from './gear-choice.ts';
import { forceCapability, rollerMargin, speedOfFullForce } from './roller-capability.ts';

const LIMITS = { force: force(6000), power: power(300e3), speed: speed(60) };
const rpm = (value: number): number => toSi(value, unitOf('rpm'));

describe('what a roller can hold', () => {
  it('is force up to P/F, then power, then nothing', () => {
    expect(speedOfFullForce(LIMITS)).toBe(50);
    expect(forceCapability(LIMITS, speed(0))).toBe(6000);
    expect(forceCapability(LIMITS, speed(50))).toBe(6000);
    expect(forceCapability(LIMITS, speed(60))).toBe(5000);
    expect(forceCapability(LIMITS, speed(60.1))).toBe(0);
  });

  it('has a margin for each limit at the point that uses it most', () => {
    const found = rollerMargin(LIMITS, {
      speed: Float64Array.from([20, 40, Number.NaN, 55]),
      force: Float64Array.from([5000, 5500, 9000, 5200]),
    });
    expect(found.margins.force).toBeCloseTo(6000 / 5500 - 1, 12);
    expect(found.margins.power).toBeCloseTo(300e3 / (55 * 5200) - 1, 12);
    expect(found.margins.speed).toBeCloseTo(60 / 55 - 1, 12);
    expect(found.tightest).toBe('power');
    expect(rollerMargin(LIMITS, { speed: new Float64Array(0), force: new Float64Array(0) }).margins.force).toBeNaN();
    expect(() => rollerMargin(LIMITS, { speed: new Float64Array(1), force: new Float64Array(2) })).toThrow('unequal');
  });
});

describe('gear choice', () => {
  const curve = {
    speed: Float64Array.from([2500, 4500, 6500, 7000], rpm),
    torque: Float64Array.from([350, 430, 402, 384]),
  };
  const gear = (name: string, overall: number) => ({
    ...{ name, ratio: ratio(overall) },
    surface: surfaceCurve(curve, { ratio: ratio(overall), tyreRadius: length(0.33) }),
  });
  const question = {
    gears: [gear('3', 6.2), gear('4', 4.4), gear('5', 3.5)],
    limits: { force: force(7000), power: power(400e3), speed: speed(65) },
  };

  it('takes the lowest force that keeps every limit', () => {
    const found = gearChoice(question);
    expect(found.best?.name).toBe('4');
    const [third, fourth, fifth] = found.offers;
    // 430·6.2/0.33 = 8 079 N, 430·4.4/0.33 = 5 733 N, 7 000 rpm·0.33/3.5 = 69.1 m/s, by hand
    expect(third.force).toBeCloseTo(8078.8, 1);
    expect(third.fits).toBe(false);
    expect(third.roller.tightest).toBe('force');
    expect(fourth.force).toBeCloseTo(5733.3, 1);
    // 384·4.4/0.33 = 5 120 N at 7 000 rpm·0.33/4.4 = 54.98 m/s: 281.5 kW, that of the crank, as nothing is lost
    expect(fourth.power).toBeCloseTo(281_487, 0);
    expect(fifth.speed).toBeCloseTo(69.12, 2);
    expect(fifth.roller.tightest).toBe('speed');
  });

  it('asks the tyres too, and may find no gear at all', () => {
    const slippery = gearChoice({ ...question, traction: 5000 });
    expect(slippery.best).toBeUndefined();
    expect(slippery.offers[1].traction).toBeCloseTo(5000 / 5733.33 - 1, 5);
    expect(gearChoice({ ...question, traction: 6100 }).best?.name).toBe('4');
    expect(gearChoice({ ...question, traction: 6100, tractionMargin: ratio(0.1) }).best).toBeUndefined();
    expect(gearChoice({ ...question, gears: [] }).best).toBeUndefined();
  });

  it('worked figure: 430 N·m in a ratio of 4.40 with 0.945 of it at a tyre of 0.33 m is 5.42 kN', () => {
    const asked = { ratio: ratio(4.4), efficiency: ratio(0.945), tyreRadius: length(0.33) };
    expect(surfaceCurve(curve, asked).force[1]).toBeCloseTo(5418, 6);
  });

  it('without any stated limit takes the tallest gear', () => {
    const none = {
      force: force(Number.POSITIVE_INFINITY),
      power: power(Number.POSITIVE_INFINITY),
      speed: speed(Number.POSITIVE_INFINITY),
    };
    expect(gearChoice({ ...question, limits: none }).best?.name).toBe('5');
  });
});
