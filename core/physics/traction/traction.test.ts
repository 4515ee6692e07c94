import { describe, expect, it } from 'vitest';
import { angle, force, length, mass, measured, ratio, speed, temperature } from '../../quantities/index.ts';
import { addedLoad, ballastFor, KEPT_TRACTION } from './added-load.ts';
import { cradleForces } from './cradle.ts';
import { strapHold, strapPull, strapReserve, tensionForDownforce } from './straps.ts';
import {
  adhesionAt,
  atTheLimit,
  forceBesideLateral,
  tractionMargin,
  tyreLoad,
  USUAL_ADHESION,
} from './tractive-limit.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const degrees = (value: number) => angle((value * Math.PI) / 180);
const STRAPS = [20, -20].map((plan) => ({ tension: force(4000), down: degrees(35), plan: degrees(plan) }));

describe('straps', () => {
  it('check 9-04 (statics, computed with numpy 2.4.6): load and rearward pull', () => {
    const pull = strapPull(STRAPS);
    expect(relative(tyreLoad(mass(800), force(0)), 7845.32)).toBeLessThan(1e-6);
    expect(relative(tyreLoad(mass(800), pull.down), 12433.93)).toBeLessThan(1e-6);
    expect(relative(pull.rearward, 6158.01)).toBeLessThan(1e-6);
    expect(pull.left).toBeCloseTo(0, 9);
    expect(strapPull([])).toEqual({ down: 0, rearward: 0, left: 0 });
  });

  it('have the tension that gives a wanted down pull (identity), or cannot when flat', () => {
    const tension = tensionForDownforce(force(5000), STRAPS[0], 2);
    expect(strapPull(STRAPS.map((strap) => ({ ...strap, tension }))).down).toBeCloseTo(5000, 9);
    expect(tensionForDownforce(force(5000), { down: degrees(0), plan: degrees(0) }, 2)).toBe(Number.POSITIVE_INFINITY);
    expect(tensionForDownforce(force(-1), STRAPS[0], 2)).toBe(0);
  });

  it('share a driving force between both ends until the front is slack', () => {
    const front = [{ tension: force(3000), down: degrees(0), plan: degrees(180) }];
    const rear = [{ tension: force(3000), down: degrees(0), plan: degrees(0) }];
    expect(strapHold({ rear, front }, force(0)).loadedTension[0]).toBeCloseTo(3000, 9);
    expect(strapHold({ rear, front }, force(4000)).loadedTension[0]).toBeCloseTo(5000, 9);
    expect(strapHold({ rear, front }, force(4000)).slackAt).toBeCloseTo(6000, 9);
    // just at slack both laws agree, beyond it the rear carries the drive alone
    expect(strapHold({ rear, front }, force(6000)).loadedTension[0]).toBeCloseTo(6000, 9);
    expect(strapHold({ rear, front }, force(8000)).loadedTension[0]).toBeCloseTo(8000, 9);
    expect(strapReserve(force(20e3), force(8e3))).toBe(2.5);
  });
});

describe('tractive limit', () => {
  it('check 9-03 (friction circle, computed with numpy 2.4.6)', () => {
    expect(relative(forceBesideLateral(force(6000), force(2000)), 5656.854)).toBeLessThan(1e-6);
    expect(forceBesideLateral(force(1000), force(2000))).toBeNaN();
  });

  it('check 9-05 (µN, computed with numpy 2.4.6): limit, wheel torque, power', () => {
    const found = tractionMargin(measured(12433.93, 0), measured(1.1, 0), measured(10e3, 0));
    expect(relative(found.limit.value, 13677.32)).toBeLessThan(1e-6);
    const at = atTheLimit(force(found.limit.value), length(0.32), speed(40));
    expect(relative(at.torque, 4376.74)).toBeLessThan(1e-6);
    expect(relative(at.power, 547093)).toBeLessThan(1e-6);
  });

  it('check 9-07, 9-08, 9-09 (ranges): our values for rolls lie below those of a dry road and above ice', () => {
    expect(USUAL_ADHESION['twin smooth'].value).toBeLessThan(0.8);
    expect(USUAL_ADHESION['twin smooth'].value).toBeGreaterThan(0.15);
    // large coated or knurled rolls lie where dry roads lie (concrete 0.80 … 0.90, asphalt 0.70 … 0.80; sliding 0.65 and 0.75)
    expect(USUAL_ADHESION['large knurled'].value).toBeGreaterThanOrEqual(0.65);
    expect(USUAL_ADHESION['large knurled'].value).toBeLessThanOrEqual(0.9);
    // common practice 0.5 … 0.7 and 0.7 … 0.9 as limits of an even distribution: middle, and half width over √3 (JCGM 100:2008, 4.3.7)
    expect(USUAL_ADHESION['twin smooth'].value).toBeCloseTo((0.5 + 0.7) / 2, 12);
    expect(USUAL_ADHESION['large knurled'].value).toBeCloseTo((0.7 + 0.9) / 2, 12);
    for (const { standardUncertainty } of Object.values(USUAL_ADHESION))
      expect(standardUncertainty).toBeCloseTo(0.057735, 6);
  });

  it('carries uncertainty by relative squares', () => {
    const found = tractionMargin(measured(8000, 400), measured(0.7, 0.07), measured(5000, 100));
    expect(found.margin.value).toBeCloseTo(0.12, 12);
    expect(found.margin.standardUncertainty).toBeCloseTo(1.12 * Math.hypot(0.05, 0.1, 0.02), 6);
    expect(found.contributions[1].name).toBe('adhesion');
  });

  it.each([
    [0, 0.94],
    [3000, 0.61],
    [5000, 0.49],
  ])(
    'worked figures: 5.2 kN on an axle load of 5.5 kN with %i N of straps needs an adhesion of %f',
    (strap, wanted) => {
      expect(Math.abs(5200 / (5500 + strap) - wanted)).toBeLessThan(0.01);
      const asked = { need: measured(5200, 0), adhesion: measured(wanted, 0), load: measured(5500, 0), kept: ratio(0) };
      expect(Math.abs(addedLoad(asked).load.value - strap)).toBeLessThan(120);
    },
  );

  it('tells the load that is missing, or to spare, and its spread by relative squares', () => {
    const asked = { need: measured(8000, 160), adhesion: measured(0.8, 0.04), load: measured(7845.32, 80) };
    const { load, contributions } = addedLoad({ ...asked, kept: ratio(0.2) });
    // 8000/(0.8·0.8) = 12 500 N wanted, by hand; its parts 250, 625 and 80 N
    expect(load.value).toBeCloseTo(12500 - 7845.32, 9);
    expect(load.standardUncertainty).toBeCloseTo(Math.hypot(250, 625, 80), 4);
    expect(contributions.map(({ name }) => name)).toEqual(['driving force', 'adhesion', 'tyre load']);
    expect(addedLoad({ ...asked, need: measured(1000, 0) }).load.value).toBeCloseTo(1000 / 0.72 - 7845.32, 9);
    expect(KEPT_TRACTION).toBe(0.1);
  });

  it('with the load added carries just the wanted share of the limit (identity), as straps or as ballast', () => {
    const asked = { need: measured(8000, 0), adhesion: measured(0.7, 0), load: measured(6000, 0), kept: ratio(0.15) };
    const { value } = addedLoad(asked).load;
    const then = tractionMargin(measured(6000 + value, 0), asked.adhesion, asked.need);
    expect(8000 / then.limit.value).toBeCloseTo(0.85, 12);
    expect(tyreLoad(ballastFor(value), force(6000))).toBeCloseTo(6000 + value, 9);
  });

  it('falls with a hot tread, never below nothing', () => {
    const tyre = { cold: measured(0.62, 0.05), knee: temperature(328), perKelvin: 0.0015 };
    expect(adhesionAt(tyre, temperature(300)).value).toBe(0.62);
    expect(adhesionAt(tyre, temperature(348)).value).toBeCloseTo(0.59, 12);
    expect(adhesionAt(tyre, temperature(2000)).value).toBe(0);
  });
});

describe('a cradle of two rollers', () => {
  const cradle = { wheelRadius: length(0.32), rollerRadius: length(0.16), spacing: length(0.6) };

  it('check 9-06 (statics, computed with numpy 2.4.6): contact angle and normal force', () => {
    const found = cradleForces(cradle, force(4000), force(0));
    if (!found.ok) throw new Error(found.refusal.kind);
    expect(relative((found.value.contactAngle * 180) / Math.PI, 38.6822)).toBeLessThan(1e-6);
    expect(relative(found.value.front, 2562.05)).toBeLessThan(1e-6);
    expect(found.value.rear).toBe(found.value.front);
  });

  it('a push loads the front roller; too much of it and the wheel climbs out', () => {
    const found = cradleForces(cradle, force(4000), force(1500));
    if (!found.ok) throw new Error(found.refusal.kind);
    const { front, rear, contactAngle } = found.value;
    expect((front + rear) * Math.cos(contactAngle)).toBeCloseTo(4000, 9);
    expect((front - rear) * Math.sin(contactAngle)).toBeCloseTo(1500, 9);
    const limit = 4000 * Math.tan(contactAngle);
    expect(cradleForces(cradle, force(4000), force(limit * 0.999)).ok).toBe(true);
    expect(cradleForces(cradle, force(4000), force(limit * 1.001))).toMatchObject({
      refusal: { kind: 'wheel-climbs-out' },
    });
    // two wheel and roller radii: 2·(0.32 + 0.16) m
    expect(cradleForces({ ...cradle, spacing: length(1) }, force(4000), force(0))).toMatchObject({
      refusal: { kind: 'cradle-too-wide', numbers: { spacing: 1, limit: 0.96 } },
    });
  });
});
