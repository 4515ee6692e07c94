import { describe, expect, it } from 'vitest';
import { surfaceCurve } from '../../../core/physics/index.ts';
import { length, measured, ratio } from '../../../core/quantities/index.ts';
import { RPM } from '../limits/testing/build-sheet.ts';
import { inventedForesight, withoutValues } from '../limits/testing/invented-engine.ts';
import type { Prediction, Step } from '../model/engine-model.ts';
import { gearAdvice } from './rolls.ts';

const AT = { manifoldPressure: 200e3 };
const exact = (value: number) => measured(value, 0);
/** 11.005, 7.2775, 5.5025, 4.402 and 3.479 with the final drive of 3.55. */
const GEARS = [3.1, 2.05, 1.55, 1.24, 0.98];
const FACTS = { finalDrive: exact(3.55), maxForce: exact(9000), maxSpeed: exact(220 / 3.6), maxPower: exact(400e3) };

describe('which gear to pull in', () => {
  const found = gearAdvice(inventedForesight(FACTS), AT, { gearRatios: GEARS });

  it('the lowest force that keeps the speed of the roller: fourth, by hand', () => {
    expect(found.best).toBe(4);
    expect(found.why).toBeUndefined();
    const [, , third, fourth, fifth] = found.gears;
    // 7 000 rpm·0.33/4.402 = 54.95 m/s, /3.479 = 69.53 m/s; 432 N·m·0.945·4.402/0.33 − 180 − 3.2·35.33 = 5 152.7 N
    expect(fourth.speed.value).toBeCloseTo(54.95, 2);
    expect(fifth.speed.value).toBeCloseTo(69.53, 2);
    expect(fourth.force.value).toBeCloseTo(5152.7, 0);
    expect(fourth.margins['roller speed']?.margin.value).toBeCloseTo(220 / 3.6 / 54.953 - 1, 3);
    expect([third.fits, fourth.fits, fifth.fits]).toEqual([false, true, false]);
    // 0.58·(5 482 + 5 000) N hold 6 079.6 N; third asks 6 528 N
    expect(third.margins.traction?.over).toBeGreaterThan(0.8);
    expect(third.margins.traction?.margin.value).toBeCloseTo(6079.6 / third.force.value - 1, 4);
  });

  it('marks the gear of the step and the one nearest 1:1', () => {
    expect(found.gears.map(({ now }) => now)).toEqual([false, false, false, true, false]);
    expect(found.gears.map(({ direct }) => direct)).toEqual([false, false, false, false, true]);
    const turned = gearAdvice(inventedForesight(FACTS), { ...AT, overallRatio: 5.5 }, { gearRatios: GEARS });
    expect(turned.gears.map(({ now }) => now)).toEqual([false, false, true, false, false]);
  });

  it('force is that of F = T·i·η/r less the losses of the coast-downs (identity)', () => {
    const { model, predict } = inventedForesight(FACTS);
    const speeds = Float64Array.of(4500 * RPM);
    const torque = predict(AT, speeds).lines['engine torque'].value;
    const asked = { ratio: ratio(4.402), efficiency: ratio(0.945), tyreRadius: length(0.33) };
    const surface = surfaceCurve({ speed: speeds, torque }, asked);
    expect(surface.force[0] - 180 - 3.2 * surface.speed[0]).toBeCloseTo(found.gears[3].force.value, 0);
    expect(model.values.get('tyreRadius')?.value).toBe(0.33);
  });

  it('ratios that fit lie between the speed of the roller and the tyres', () => {
    // 733.04·0.33/61.11·1.05 = 4.156; (4.402·0.9·6 079.6/5 152.7) = 4.674
    expect(found.from).toBeCloseTo(4.156, 3);
    expect(found.to).toBeCloseTo(4.674, 2);
    const none = gearAdvice(inventedForesight({ maxSpeed: exact(55) }), AT, {});
    expect(none).toMatchObject({ gears: [], best: undefined, why: expect.stringContaining('state gearRatios') });
    expect(none.from).toBeCloseTo((733.038 * 0.33 * 1.05) / 55, 3);
    expect(none.unknown).toEqual(expect.arrayContaining(['gearRatios', 'maxForce', 'maxPower']));
  });

  it('counts from the gear of the pulls and its ratio where the final drive is unknown', () => {
    const { finalDrive: _, ...facts } = FACTS;
    const counted = gearAdvice(inventedForesight({ ...facts, pullGear: exact(4) }), AT, { gearRatios: GEARS });
    // 4.402/1.24 = 3.55
    for (const [k, { overallRatio }] of counted.gears.entries()) expect(overallRatio).toBeCloseTo(3.55 * GEARS[k], 9);
    const neither = gearAdvice(inventedForesight(facts), AT, { gearRatios: GEARS });
    expect(neither).toMatchObject({ gears: [], why: expect.stringContaining('finalDrive') });
    const seventh = gearAdvice(inventedForesight({ ...facts, pullGear: exact(7) }), AT, { gearRatios: GEARS });
    expect(seventh.why).toContain('only 5 gears');
  });

  it('says where the stated overall ratio is none of the gears’', () => {
    expect(found.differs).toBeUndefined();
    const other = gearAdvice(inventedForesight({ ...FACTS, finalDrive: exact(3.9) }), AT, { gearRatios: GEARS });
    expect(other.differs).toBeCloseTo(4.402 / (1.24 * 3.9), 6);
    const both = { ...FACTS, finalDrive: exact(3.9), pullGear: exact(4) };
    expect(gearAdvice(inventedForesight(both), AT, { gearRatios: GEARS }).differs).toBeCloseTo(3.55 / 3.9, 6);
  });

  it('names none without the highest speed of the roller, or where none keeps every limit', () => {
    const { maxSpeed: _, ...facts } = FACTS;
    const blind = gearAdvice(inventedForesight(facts), AT, { gearRatios: GEARS });
    expect(blind).toMatchObject({ best: undefined, why: expect.stringContaining('state maxSpeed') });
    expect(blind.gears[4].margins['roller speed']).toBeUndefined();
    const slow = gearAdvice(inventedForesight({ ...FACTS, maxSpeed: exact(40) }), AT, { gearRatios: GEARS });
    expect(slow).toMatchObject({ best: undefined, why: 'no gear keeps every limit' });
  });

  it('without an axle load chooses by the roller alone, and names it', () => {
    const { model, predict } = inventedForesight(FACTS);
    const bare = { model: withoutValues(model, ['axleLoad']), predict };
    const chosen = gearAdvice(bare, AT, { gearRatios: GEARS });
    expect(chosen.best).toBe(4);
    expect(chosen.gears[3].margins.traction).toBeUndefined();
    expect(chosen.unknown).toContain('axleLoad');
  });

  it('without coast-downs by F = T·i·η/r alone, and says so: rather too large', () => {
    const { model, predict } = inventedForesight(FACTS);
    const dark = (step: Step, speeds: Float64Array): Prediction => {
      const told = predict(step, speeds);
      const none = new Float64Array(speeds.length).fill(Number.NaN);
      const blank = { kind: 'force' as const, value: none, standardUncertainty: none };
      return { ...told, lines: { ...told.lines, 'wheel force': blank, 'wheel power': blank } };
    };
    const before = gearAdvice({ model, predict: dark }, AT, { gearRatios: GEARS });
    expect([before.lossless, found.lossless]).toEqual([true, false]);
    // 432 N·m·4.402·0.945/0.33 = 5 445.6 N
    expect(before.gears[3].force.value).toBeCloseTo(5445.6, 0);
    expect(before.gears[3].force.standardUncertainty / 5445.6).toBeCloseTo(Math.hypot(0.01, 0.005, 0.0055 / 0.945), 4);
    expect(before.gears[3].margins.traction?.margin.value).toBeCloseTo(6079.56 / 5445.6 - 1, 3);
    expect(before.best).toBe(4);
  });

  it('a larger share in hand asks a taller gear of the tyres', () => {
    const greedy = gearAdvice(inventedForesight(FACTS), AT, { gearRatios: GEARS, kept: 0.3 });
    expect(greedy.gears[3].fits).toBe(false);
    expect(greedy.best).toBeUndefined();
  });
});
