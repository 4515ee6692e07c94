import { describe, expect, it } from 'vitest';
import { carried, coolantRise, isWaterCooled, startTank } from './coolant.ts';
import type { Numbers, Query } from './operating-point.ts';

const REDLINE = 733;
const QUERY: Query = {
  ...{ speed: REDLINE, manifoldPressure: 200e3, timing: 0.3, timingShift: 0, lambda: 0.8, camPhase: 0 },
  ...{ ambientTemperature: 300, ambientPressure: 100e3, humidityRatio: 0.01, inletLoss: 0 },
  ...{ soak: undefined, loadTime: 10 },
};
/** T2 = 400 K, 0.25 kg/s of air near 1000 J/(kg·K). */
const CHARGE = { temperature: 400, effectiveness: 0.75, heatFlow: 250 };
const AIR: Numbers = { redline: REDLINE, soakStart: 3, soakRate: 0.3 };
/** 10 kg that lose nothing to the outside. */
const WATER: Numbers = { ...AIR, soakStart: 0, soakRate: 0, coolerWater: 10, coolerTimeConstant: 1e12 };

describe('what cools the charge, above the air outside', () => {
  it('an air-to-air cooler begins where the pulls of the day began and warms with time under load', () => {
    expect(coolantRise(AIR, { ...QUERY, loadTime: 0 }, CHARGE)).toBe(3);
    expect(coolantRise(AIR, QUERY, CHARGE)).toBeCloseTo(6, 12);
  });

  it('a stated warming holds over the whole pull, whatever the cooler', () => {
    expect(coolantRise(AIR, { ...QUERY, soak: 0 }, CHARGE)).toBe(0);
    expect(coolantRise(WATER, { ...QUERY, soak: -12 }, CHARGE)).toBe(-12);
  });

  it('a tank warms by the heat of the charge over its water (worked by hand)', () => {
    // mean flow 0.665 of the last: 0.75·250·100·0.665 = 12.47 kW, 2.98 K in 10 s; with the water 1.49 K warmer 12.28 kW
    expect(isWaterCooled(WATER)).toBe(true);
    expect(coolantRise(WATER, QUERY, CHARGE)).toBeCloseTo((0.75 * 250 * (100 - 1.489) * 0.665 * 10) / 41860, 3);
  });

  it('ice holds the tank at the melting point as long as it lasts: 5 kg in 10 kg at 26.85 °C leave 1.63 kg', () => {
    const tank = startTank({ ...WATER, coolerIce: 5 }, QUERY);
    // 10·4186·26.85/333 600 = 3.369 kg melt before the pull
    expect(tank.ice).toBeCloseTo(5 - 3.369, 3);
    expect(coolantRise({ ...WATER, coolerIce: 5 }, QUERY, CHARGE)).toBeCloseTo(-26.85, 9);
    expect(coolantRise(WATER, { ...QUERY, ice: 5 }, CHARGE)).toBeCloseTo(-26.85, 9);
    expect(coolantRise({ ...WATER, coolerIce: 5 }, { ...QUERY, ice: 0 }, CHARGE)).toBeGreaterThan(0);
  });

  it('the water is as warm as stated, else as the step says, else as the air', () => {
    expect(startTank(WATER, QUERY).temperature).toBe(300);
    expect(startTank({ ...WATER, coolerWaterTemperature: 290 }, QUERY).temperature).toBe(290);
    expect(startTank({ ...WATER, coolerWaterTemperature: 290 }, { ...QUERY, water: 281 }).temperature).toBe(281);
  });

  it('a small pump carries no more than its water can: 1 L/min beside 250 W/K', () => {
    // 998·4186/60 000 = 69.6 W/K
    expect(carried(0.75, { coolerPumpFlow: 1e-3 / 60 }, 250)).toBeCloseTo(69.63 / 250, 4);
    expect(carried(0.75, { coolerPumpFlow: 25e-3 / 60 }, 250)).toBe(0.75);
    expect(carried(0.75, {}, 250)).toBe(0.75);
  });
});
