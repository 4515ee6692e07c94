import { describe, expect, it } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import type { Foresight } from './foresight.ts';
import { goalOf } from './goal.ts';
import { headLiftPressureOf } from './head-lift-evidence.ts';
import { knockIntegralLimitOf } from './knock-evidence.ts';
import { limitOf } from './limits-of.ts';
import { compressorPictureOf } from './pictures/compressor-picture.ts';
import { crankPictureOf } from './pictures/crank-picture.ts';
import { soakRecoveryOf } from './pictures/soak-recovery.ts';
import { sparkMarginMapOf } from './pictures/spark-margin-map.ts';
import { pressureRoomOf } from './pressure-room.ts';
import { scaled } from './scaled.ts';
import { sparkDemandFactorOf } from './spark-evidence.ts';
import { DEGREE, RPM } from './testing/build-sheet.ts';
import { inventedForesight, withoutValues } from './testing/invented-engine.ts';

const foresight = inventedForesight();
const STEP = { manifoldPressure: 200e3 };

describe('whether a goal can be reached', () => {
  it('finds the pressure of the table: 428 N·m at 5 500 rpm takes 200 kPa', () => {
    const { rows } = goalOf(foresight, { torque: 428, at: 5500 * RPM }, STEP);
    expect(rows[0].manifoldPressure.value / 1e3).toBeCloseTo(200, 0);
    expect(rows[0].limits[0].over).toBeGreaterThanOrEqual(rows[0].limits[1].over);
  });

  it('power is torque times speed', () => {
    const { rows } = goalOf(foresight, { power: 428 * 5500 * RPM, at: 5500 * RPM }, STEP);
    expect(rows[0].manifoldPressure.value / 1e3).toBeCloseTo(200, 0);
  });

  it('900 N·m with these parts: out of reach, and no chance is claimed', () => {
    const { best, rows } = goalOf(foresight, { torque: 900 }, STEP);
    expect(best).toBeUndefined();
    expect(rows.every(({ chance }) => Number.isNaN(chance))).toBe(true);
  });

  it('the chance falls as more is asked, and never exceeds that of the worst limit', () => {
    const chances = [400, 440, 470].map((torque) => goalOf(foresight, { torque, at: 4500 * RPM }, STEP).rows[0]);
    expect(chances[0].chance).toBeGreaterThan(chances[1].chance);
    expect(chances[1].chance).toBeGreaterThan(chances[2].chance);
    for (const { chance, limits, unknown } of chances) {
      expect(chance).toBeLessThanOrEqual(1 - limits[0].over + 1e-12);
      expect(unknown).toContain('rod compression');
    }
  });
});

describe('knock border from the day', () => {
  // the invented engine stands at 1° before its border; each degree is worth 0.08 of the integral
  const habit = foresight.model.habits.timing(4500 * RPM, 200e3).value;
  const place = (past: number, knocked: boolean) => ({
    speed: 4500 * RPM,
    manifoldPressure: 200e3,
    timing: habit + (past + 1) * DEGREE,
    knocked,
  });

  it('nothing seen: nothing said', () => {
    expect(knockIntegralLimitOf(foresight, [])).toBeUndefined();
  });

  it('places with and without knock bracket the border', () => {
    const limit = knockIntegralLimitOf(foresight, [place(-2, false), place(0, false), place(3, true), place(4, true)]);
    expect(limit?.value).toBeGreaterThan(1);
    expect(limit?.value).toBeLessThan(1.25);
    expect(limit?.standardUncertainty).toBeLessThan(0.12);
    expect(limit?.origin).toBe('measured today');
  });

  it('quiet places alone only push the border up, and leave it uncertain', () => {
    const quiet = knockIntegralLimitOf(foresight, [place(0, false), place(1, false)]);
    expect(quiet?.value).toBeGreaterThan(1.05);
    expect(quiet?.standardUncertainty).toBeGreaterThan(0.15);
  });
});

describe('head lift seen on the day', () => {
  const place = (kPa: number, lifted: boolean) => ({
    speed: 4000 * RPM,
    step: { manifoldPressure: kPa * 1e3 },
    lifted,
  });
  const peak = (kPa: number) =>
    foresight.predict({ manifoldPressure: kPa * 1e3 }, Float64Array.of(4000 * RPM)).lines['peak pressure'].value[0];
  // a sheet that promises far more than the engine holds
  const wrong = inventedForesight({ headLiftPressure: measured(140e5, 12e5) });
  const found = headLiftPressureOf(wrong, [place(185, false), place(200, false), place(208, false), place(215, true)]);

  it('moves the border between the pressures that held and the one that lifted, whatever the sheet promised', () => {
    expect(found?.value).toBeGreaterThan(peak(204));
    expect(found?.value).toBeLessThan(peak(219));
    expect(found?.origin).toBe('measured today');
  });

  it('then the same pressure again is known to be over: the error of the model stands on both sides', () => {
    if (!found) throw new Error('nothing found');
    const values = new Map(wrong.model.values).set('headLiftPressure', found);
    const taught = { ...wrong, model: { ...wrong.model, values } };
    const clamp = (from: typeof wrong, manifoldPressure: number) =>
      limitOf(from, 'head clamp', { step: { manifoldPressure }, speeds: Float64Array.of(4000 * RPM) });
    expect(clamp(taught, 222e3).over[0]).toBeGreaterThan(0.8);
    expect(clamp(taught, 190e3).over[0]).toBeLessThan(0.05);
    expect(clamp(wrong, 215e3).over[0]).toBeLessThan(0.3);
  });

  it('nothing seen: nothing said', () => {
    expect(headLiftPressureOf(foresight, [])).toBeUndefined();
  });
});

describe('ignition breakup seen on the day', () => {
  const speed = 6200 * RPM;
  const place = (plugGap: number, coilVoltage: number, brokeUp: boolean) => ({
    speed,
    step: { manifoldPressure: 208e3, plugGap, coilVoltage },
    brokeUp,
  });
  const spark = (from: typeof foresight, step: object) =>
    limitOf(from, 'spark voltage', { step: { manifoldPressure: 208e3, ...step }, speeds: Float64Array.of(speed) });

  it('teaches the demand: wide gap and sagging supply broke up, the narrow gap did not', () => {
    const factor = sparkDemandFactorOf(foresight, [place(0.7e-3, 13.1, true), place(0.55e-3, 13.1, false)]);
    if (!factor) throw new Error('nothing found');
    const values = new Map(foresight.model.values).set('sparkDemandFactor', factor);
    const after = { ...foresight, model: { ...foresight.model, values } };
    expect(spark(after, { plugGap: 0.7e-3, coilVoltage: 13.1 }).over[0]).toBeGreaterThan(0.5);
    expect(spark(after, { plugGap: 0.55e-3, coilVoltage: 13.1 }).over[0]).toBeLessThan(0.5);
    expect(factor.standardUncertainty).toBeLessThan(0.12);
    // taught again, it does not feed on itself
    const again = sparkDemandFactorOf(after, [place(0.7e-3, 13.1, true), place(0.55e-3, 13.1, false)]);
    expect(again?.value).toBeCloseTo(factor.value, 12);
  });

  it('nothing seen, or a coil of which nothing is known: nothing said', () => {
    expect(sparkDemandFactorOf(foresight, [])).toBeUndefined();
    const blind = { ...foresight, model: withoutValues(foresight.model, ['sparkVoltage', 'coilResistance']) };
    expect(sparkDemandFactorOf(blind, [place(0.7e-3, 13.1, true)])).toBeUndefined();
  });
});

/** The invented engine with a peak pressure of just 60 times manifold pressure, known for certain. */
function certainPeak(limit: number): Foresight {
  const { model, predict } = inventedForesight({ peakPressureLimit: measured(limit, 0) });
  return {
    model,
    predict: (step, speeds) => {
      const found = predict(step, speeds);
      const peak = {
        kind: 'cylinder-pressure' as const,
        value: new Float64Array(speeds.length).fill(60 * step.manifoldPressure),
        standardUncertainty: new Float64Array(speeds.length),
      };
      return { ...found, lines: { ...found.lines, 'peak pressure': peak } };
    },
  };
}

describe('chances over the uncertainty of the pressure', () => {
  const asked = { torque: 428, at: 5500 * RPM };
  const { value, standardUncertainty } = goalOf(foresight, asked, STEP).rows[0].manifoldPressure;
  const over = (deviations: number): number => {
    const limit = 60 * (value + deviations * standardUncertainty);
    const { limits } = goalOf(certainPeak(limit), asked, STEP).rows[0];
    return limits.find(({ name }) => name === 'peak pressure')?.over ?? Number.NaN;
  };

  // nodes 0 and ± √3 standard deviations, weights 2/3 and 1/6: Abramowitz & Stegun 25.4.46, for a normal distribution
  it.each([
    [-1.74, 1],
    [-1.7, 5 / 6],
    [-0.05, 5 / 6],
    [0.05, 1 / 6],
    [1.7, 1 / 6],
    [1.74, 0],
  ])('a border %f standard deviations above what is needed is passed with %f', (deviations, chance) => {
    expect(over(deviations)).toBeCloseTo(chance, 9);
  });

  it('nineteen times of twenty is 1.645 standard uncertainties below even odds (standard normal table)', () => {
    const question = { name: 'peak pressure', speeds: Float64Array.of(5500 * RPM) } as const;
    const [row] = pressureRoomOf(inventedForesight({ peakPressureLimit: measured(125e5, 2e5) }), STEP, question).rows;
    const { even, safe } = row;
    if (!even || !safe) throw new Error('no room found');
    expect((even.manifoldPressure - safe.manifoldPressure) / even.standardUncertainty).toBeCloseTo(1.645, 9);
  });
});

describe('carried to another engine or other air', () => {
  const result = {
    torque: 402,
    speed: 6500 * RPM,
    displacement: 2.48e-3,
    cylinders: 6,
    ambientPressure: 85.3e3,
    ambientTemperature: 300,
    pressureHeld: true,
  };
  const carried = (to: object, from = result) => {
    const found = scaled(from, to);
    if (!found.ok) throw new Error(found.refusal.message);
    return found.value;
  };

  it('to itself: nothing changes and nothing is uncertain', () => {
    const same = carried({});
    expect(same).toMatchObject({ torque: 402, share: 0, factors: [], doesNotScale: [] });
  });

  it('two thirds of the cylinders at the same bore: two thirds of the torque at the same speed, and back again', () => {
    const four = carried({ displacement: (2.48e-3 * 4) / 6, cylinders: 4 });
    expect(four.torque).toBeCloseTo(268, 9);
    expect(four.speed).toBeCloseTo(6500 * RPM, 9);
    expect(four.doesNotScale.join(' ')).toContain('turbocharger');
    const back = carried(
      { displacement: 2.48e-3, cylinders: 6 },
      { ...result, torque: four.torque, displacement: (2.48e-3 * 4) / 6, cylinders: 4 },
    );
    expect(back.torque).toBeCloseTo(402, 9);
  });

  it('held pressure: height changes no torque but names what it does change; unheld air goes with density', () => {
    const high = carried({ ambientPressure: 68.5e3 });
    expect(high.torque).toBe(402);
    expect(high.doesNotScale.join(' ')).toContain('turbocharger speed');
    expect(carried({ ambientPressure: 68.5e3 }, { ...result, pressureHeld: false }).torque).toBeCloseTo(
      (402 * 68.5) / 85.3,
      9,
    );
  });

  it.each([
    ['twice the displacement: 0.08·ln 2', { displacement: 4.96e-3 }, 0.0554518],
    ['half the cylinders: 0.03·ln 2', { cylinders: 3 }, 0.0207944],
    ['10 K warmer: 0.0006·10', { ambientTemperature: 310 }, 0.006],
    ['a tenth thinner air at held pressure: 0.1·ln 0.9', { ambientPressure: 0.9 * 85.3e3 }, 0.0105361],
  ])('is uncertain by %s', (_, to, share) => {
    expect(carried(to).share).toBeCloseTo(share, 7);
  });

  it('10 K warmer at held pressure: 3.3 % less torque; without, the ratio of the temperatures', () => {
    expect(carried({ ambientTemperature: 310 }).torque).toBeCloseTo(402 * 0.967, 9);
    expect(carried({ ambientTemperature: 310 }, { ...result, pressureHeld: false }).torque).toBeCloseTo(
      (402 * 300) / 310,
      9,
    );
    // the air decides then: 0.02·ln 0.9 beside nothing else
    const thin = carried({ ambientPressure: 0.9 * 85.3e3 }, { ...result, pressureHeld: false });
    expect(thin.share).toBeCloseTo(0.0021072, 7);
  });

  it('refuses a displacement of nothing', () => {
    expect(scaled(result, { displacement: 0 }).ok).toBe(false);
  });
});

describe('pictures', () => {
  it('spark margin falls towards higher pressure everywhere on its map', () => {
    const axes = {
      speeds: Float64Array.from([3500, 5500, 7000], (rpm) => rpm * RPM),
      pressures: Float64Array.of(150e3, 190e3, 230e3),
    };
    const { margin } = sparkMarginMapOf(foresight, STEP, axes);
    for (let i = 0; i < 3; i++) {
      expect(margin[3 + i]).toBeLessThan(margin[i]);
      expect(margin[6 + i]).toBeLessThan(margin[3 + i]);
    }
  });

  it('the operating line meets the shaft speeds of the invented engine within 3 %', () => {
    const speeds = Float64Array.from([3500, 4500, 5500, 6500, 7000], (rpm) => rpm * RPM);
    const picture = compressorPictureOf(foresight, STEP, speeds);
    if (!picture.ok) throw new Error(picture.refusal.message);
    const told = foresight.predict(STEP, speeds).lines['turbocharger speed'].value;
    for (const [i, shaft] of picture.value.operating.shaftSpeed.entries()) {
      expect(Math.abs(shaft / told[i] - 1)).toBeLessThan(0.03);
    }
    expect(picture.value.lines).toHaveLength(6);
  });

  it('forces over the cycle: mean torque of all cylinders is the indicated one, extremes bracket the worked tension', () => {
    const picture = crankPictureOf(foresight, STEP, 6500 * RPM);
    if (!picture.ok) throw new Error(picture.refusal.message);
    const { torque, tension, compression, angle, missing } = picture.value;
    const mean = (6 * torque.reduce((sum, value) => sum + value, 0)) / torque.length;
    expect(mean).toBeGreaterThan(402);
    expect(mean).toBeLessThan(650);
    expect(Math.abs(Math.abs(tension.angle) - 2 * Math.PI)).toBeLessThan(0.05);
    expect(compression.angle).toBeGreaterThan(0);
    expect(compression.angle).toBeLessThan(0.7);
    expect(angle[1] - angle[0]).toBeCloseTo((4 * Math.PI) / 1440, 12);
    expect(missing).toContain('bigEndDiameter');
  });

  it('with the bearing known the thinnest film is told, thinner at more pressure', () => {
    const bearing = {
      bigEndDiameter: measured(0.05, 0),
      bigEndWidth: measured(0.022, 0),
      bigEndClearance: measured(25e-6, 0),
      oilViscosity: measured(0.008, 0),
    };
    const known = inventedForesight(bearing);
    const film = (manifoldPressure: number) => {
      const picture = crankPictureOf(known, { manifoldPressure }, 3500 * RPM);
      return picture.ok ? (picture.value.thinnestFilm ?? Number.NaN) : Number.NaN;
    };
    expect(film(150e3)).toBeGreaterThan(0);
    expect(film(150e3)).toBeLessThan(25e-6);
    expect(film(215e3)).toBeLessThan(film(150e3));
  });

  it('a soaked cooler keeps 1/e of its rise after one time constant; the day’s own constant goes first', () => {
    const day = soakRecoveryOf(inventedForesight({ coolerTimeConstant: measured(240, 10) }).model, {
      rise: 12,
      span: 480,
    });
    expect(day.rise[30]).toBeCloseTo(12 / Math.E, 6);
    expect(day.assumed).toEqual([]);
    const usual = soakRecoveryOf(foresight.model, { rise: 12 });
    expect(usual.assumed).toContain('coolerTimeConstant');
    expect(usual.low[20]).toBeLessThan(usual.high[20]);
  });
});
