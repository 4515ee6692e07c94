import { describe, expect, it } from 'vitest';
import {
  absolutePressure,
  angularSpeed,
  current,
  duration,
  energy,
  fromSi,
  length,
  measured,
  power,
  ratio,
  temperature,
  toSi,
  unitOf,
  voltage,
} from '../../quantities/index.ts';
import { availableVoltage } from './available-voltage.ts';
import {
  coilEnergy,
  coilHeat,
  dwellForCurrent,
  highestSpeedOfDwell,
  longestDwell,
  primaryCurrent,
  primaryHeat,
  secondaryVoltage,
  timeBetweenSparks,
  wastedSparkVoltage,
} from './coil.ts';
import { sparkDemand } from './demand.ts';
import { dwellLimit } from './dwell-limit.ts';
import { measuredSparkDemand } from './measured-demand.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const gas = (kPa: number, T: number, mm: number) => ({
  pressure: absolutePressure(kPa * 1e3),
  temperature: temperature(T),
  gap: length(mm * 1e-3),
});
const rpm = (value: number) => angularSpeed(toSi(value, unitOf('rpm')));

describe('coil', () => {
  const coil = { resistance: 0.6, inductance: 4.5e-3 };

  it('checks 6-20, 6-21 (RL circuit, computed with numpy 2.4.6): current and energy', () => {
    const full = primaryCurrent(coil, voltage(13.8), duration(2.5e-3));
    expect(relative(full, 6.51978)).toBeLessThan(1e-5);
    expect(relative(coilEnergy(coil, full), 95.6419e-3)).toBeLessThan(1e-5);
    const low = primaryCurrent(coil, voltage(11), duration(2.5e-3));
    expect(relative(low, 5.19693)).toBeLessThan(1e-5);
    expect(relative(coilEnergy(coil, low), 60.7681e-3)).toBeLessThan(1e-5);
  });

  it('check 6-22 (RL circuit, computed with numpy 2.4.6): dwell for 7 A, never for more than the circuit carries', () => {
    expect(relative(dwellForCurrent(coil, voltage(13.8), current(7)), 2.72179e-3)).toBeLessThan(1e-5);
    expect(dwellForCurrent(coil, voltage(13.8), current(23.1))).toBe(Number.POSITIVE_INFINITY);
  });

  it.each([
    [14.2, 13.2, 217],
    [13.2, 12.2, 187],
    [12, 11.1, 155],
    [10.5, 9.7, 118],
  ])('worked figures of a coil of 0.45 Ω and 2.5 mH, 3 ms: %f V give %f A, %f mJ', (volts, amperes, millijoules) => {
    const fast = { resistance: 0.45, inductance: 2.5e-3 };
    const i = primaryCurrent(fast, voltage(volts), duration(3e-3));
    expect(Math.abs(i - amperes)).toBeLessThan(0.06);
    expect(Math.abs(coilEnergy(fast, i) * 1e3 - millijoules)).toBeLessThan(1.5);
  });

  it('check 6-23 (exact): 3 ms dwell and 1.5 ms spark fit up to 26 667 rpm; half with a wasted spark', () => {
    const speed = highestSpeedOfDwell({ sparksPerCycle: 1, sparkDuration: duration(1.5e-3) }, duration(3e-3));
    expect(Math.round(fromSi(speed, unitOf('rpm')))).toBe(26667);
    const wasted = highestSpeedOfDwell({ sparksPerCycle: 2, sparkDuration: duration(1.5e-3) }, duration(3e-3));
    expect(wasted).toBeCloseTo(speed / 2, 9);
  });

  it('check 6-24 (½·C·V², exact): 60 mJ into 40 pF, and the clamp below it', () => {
    const secondary = { capacitance: 40e-12, transfer: ratio(1) };
    expect(Math.abs(secondaryVoltage(secondary, energy(60e-3)) - 54772)).toBeLessThan(1);
    expect(secondaryVoltage({ ...secondary, turns: 80, clamp: voltage(400) }, energy(60e-3))).toBe(32e3);
    expect(wastedSparkVoltage(voltage(30e3), voltage(2e3))).toBe(28e3);
    expect(wastedSparkVoltage(voltage(1e3), voltage(2e3))).toBe(0);
  });

  it('beyond saturation gains current fast and energy slowly, with no jump at the knee', () => {
    const iron = { ...coil, saturationCurrent: current(6), saturatedInductance: 1e-3 };
    const knee = dwellForCurrent(coil, voltage(13.8), current(6));
    expect(primaryCurrent(iron, voltage(13.8), knee)).toBeCloseTo(6, 9);
    const beyond = duration(knee + 0.3e-3);
    expect(primaryCurrent(iron, voltage(13.8), beyond)).toBeGreaterThan(
      primaryCurrent(coil, voltage(13.8), beyond) + 1,
    );
    const i = primaryCurrent(iron, voltage(13.8), beyond);
    expect(dwellForCurrent(iron, voltage(13.8), i)).toBeCloseTo(beyond, 12);
    expect(coilEnergy(iron, i)).toBeLessThan(coilEnergy(coil, i));
  });

  it('puts in what it stores and heats (energy balance, with and without saturation)', () => {
    for (const one of [coil, { ...coil, saturationCurrent: current(5), saturatedInductance: 1.2e-3 }]) {
      const n = 20000;
      let drawn = 0;
      for (let k = 0; k < n; k++) {
        drawn += (13.8 * primaryCurrent(one, voltage(13.8), duration(((k + 0.5) / n) * 3e-3)) * 3e-3) / n;
      }
      const stored = coilEnergy(one, primaryCurrent(one, voltage(13.8), duration(3e-3)));
      expect(relative(stored + primaryHeat(one, voltage(13.8), duration(3e-3)), drawn)).toBeLessThan(1e-6);
    }
  });

  it('has less time at speed, and warms with it', () => {
    const pattern = { engineSpeed: rpm(8000), sparksPerCycle: 1, sparkDuration: duration(1.5e-3) };
    expect(timeBetweenSparks(pattern)).toBeCloseTo(15e-3, 12);
    expect(longestDwell(pattern, ratio(0.6))).toBeCloseTo(9e-3, 12);
    expect(longestDwell({ ...pattern, engineSpeed: rpm(60000) }, ratio(0.9))).toBeCloseTo(0.5e-3, 12);
    expect(longestDwell({ ...pattern, engineSpeed: rpm(120000) }, ratio(0.9))).toBe(0);
    const dwell = { volts: voltage(13.8), time: duration(2.5e-3) };
    const slow = coilHeat(coil, dwell, { ...pattern, engineSpeed: rpm(4000) });
    expect(coilHeat(coil, dwell, pattern) / slow).toBeCloseTo(2, 9);
  });
});

describe('measured supply and demand', () => {
  const coil = {
    volts: measured(13.5, 0.135),
    dwell: measured(3e-3, 0),
    resistance: measured(0.45, 0),
    inductance: measured(2.5e-3, 0),
    capacitance: measured(60e-12, 6e-12),
    transfer: measured(0.6, 0.06),
  };

  it('available voltage goes with supply voltage, and with roots of capacitance and transfer', () => {
    const found = availableVoltage(coil);
    expect(found.voltage.standardUncertainty / found.voltage.value).toBeCloseTo(Math.hypot(0.01, 0.05, 0.05), 5);
    expect(found.voltage.value).toBeCloseTo(Math.sqrt((2 * 0.6 * found.energy) / 60e-12), 6);
    const sagged = availableVoltage({ ...coil, volts: measured(12.7, 0.1) });
    expect(sagged.voltage.value / found.voltage.value).toBeCloseTo(12.7 / 13.5, 9);
  });

  it('a clamp hides what the supply does', () => {
    const clamped = availableVoltage({ ...coil, limits: { turns: 70, clamp: voltage(400) } });
    expect(clamped.voltage).toEqual({ value: 28e3, standardUncertainty: 0 });
  });

  it('demand carries gap, gas, electrodes and the doubt of its equation', () => {
    const gap = {
      gap: measured(0.7e-3, 0),
      pressure: measured(20e5, 0),
      temperature: measured(650, 0),
      electrodes: 'worn',
    } as const;
    const plain = measuredSparkDemand(gap).demand;
    const direct = sparkDemand({ ...gas(2000, 650, 0.7), electrodes: 'worn' }).demand;
    expect(plain.value).toBeCloseTo(direct.value, 6);
    expect(plain.standardUncertainty).toBeCloseTo(direct.standardUncertainty, 3);
    const wide = measuredSparkDemand({ ...gap, gap: measured(0.7e-3, 0.05e-3) });
    // 1.3 · 324 · p/T kV per mm of gap
    const part = 1.3 * 324e3 * (20 / 650) * 0.05;
    expect(wide.contributions.find(({ name }) => name === 'gap')?.contribution).toBeCloseTo(part, 3);
    expect(wide.demand.standardUncertainty).toBeCloseTo(Math.hypot(plain.standardUncertainty, part), 3);
  });
});

describe('longest dwell', () => {
  const question = {
    coil: { resistance: 0.6, inductance: 4.5e-3 },
    volts: voltage(13.8),
    pattern: { engineSpeed: rpm(8000), sparksPerCycle: 1, sparkDuration: duration(1.5e-3) },
    dutyLimit: ratio(0.6),
  };

  it('is ended by duty, by the spark itself, or by heat', () => {
    expect(dwellLimit(question)).toEqual({ dwell: 0.6 * timeBetweenSparks(question.pattern), by: 'duty' });
    const fast = { ...question, pattern: { ...question.pattern, engineSpeed: rpm(60000) } };
    expect(dwellLimit(fast).by).toBe('time');
    expect(dwellLimit(fast).dwell).toBeCloseTo(0.5e-3, 12);
    const warm = dwellLimit({ ...question, heatLimit: power(5) });
    expect(warm.by).toBe('heat');
    expect(coilHeat(question.coil, { volts: question.volts, time: warm.dwell }, question.pattern)).toBeCloseTo(5, 6);
    expect(dwellLimit({ ...question, heatLimit: power(1e4) }).by).toBe('duty');
  });
});
