import { describe, expect, it } from 'vitest';
import {
  absolutePressure,
  angularSpeed,
  duration,
  gaugePressure,
  mass,
  massFlow,
  power,
  pressureDifference,
  ratio,
  specificEnergy,
  toSi,
  unitOf,
} from '../../quantities/index.ts';
import {
  injectedMass,
  injectorDuty,
  injectorFlow,
  injectorFlowNeeded,
  injectorPressureDifference,
  pulseWidth,
} from './injector.ts';
import {
  brakeEfficiency,
  equivalenceRatio,
  evaporationCooling,
  fuelFlowFor,
  fuelFlowOfAir,
  gaugeCorrected,
  lambdaOf,
} from './mixture.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const gramsPerMinute = (value: number) => massFlow(toSi(value, unitOf('g/min')));
const gramsPerKilowattHour = (value: number): number => (value * 1e-3) / toSi(1, unitOf('kWh'));

describe('injectors', () => {
  it('check 10-01 (Bernoulli, computed with numpy 2.4.6): square root of pressure', () => {
    const rating = { flow: gramsPerMinute(1000), at: pressureDifference(300e3) };
    expect(relative(injectorFlow(rating, pressureDifference(430e3)), gramsPerMinute(1197.219))).toBeLessThan(1e-6);
  });

  it('check 10-02 (Bernoulli, computed with numpy 2.4.6): no manifold reference', () => {
    const difference = injectorPressureDifference(gaugePressure(400e3), gaugePressure(180e3));
    expect(difference).toBe(220e3);
    const rating = { flow: gramsPerMinute(800), at: pressureDifference(300e3) };
    expect(relative(injectorFlow(rating, difference), gramsPerMinute(685.0791))).toBeLessThan(1e-6);
  });

  it('gauge and absolute pressure are not taken together', () => {
    // @ts-expect-error one gauge, one absolute
    expect(injectorPressureDifference(gaugePressure(400e3), absolutePressure(180e3))).toBe(220e3);
  });

  it('no flow is known when the manifold is above the rail', () => {
    expect(injectorFlow({ flow: massFlow(0.01), at: pressureDifference(3e5) }, pressureDifference(-1))).toBeNaN();
  });

  // check 10-03 names the terms of SAE J1832 (scope seen in source): slope and offset are used as there
  const line = { slope: massFlow(16e-3), offset: duration(0.85e-3) };

  it('checks 10-03, 10-04 (SAE J1832 terms, scope seen; computed with numpy 2.4.6): linear model and duty', () => {
    expect(relative(injectedMass(line, duration(6.5e-3)), 90.4e-6)).toBeLessThan(1e-6);
    const speed = angularSpeed(toSi(6500, unitOf('rpm')));
    expect(relative(injectorDuty(duration(6.5e-3), speed), 0.352083)).toBeLessThan(1e-6);
    expect(pulseWidth(line, mass(90.4e-6))).toBeCloseTo(6.5e-3, 12);
  });

  it('inject nothing below the offset, never less than nothing', () => {
    expect(injectedMass(line, duration(0.85e-3))).toBe(0);
    expect(injectedMass(line, duration(0.1e-3))).toBe(0);
  });
});

describe('fuel need', () => {
  it('check 10-05 (definition, computed with numpy 2.4.6): 450 kW at 330 g/kWh, six injectors at 85 %', () => {
    const total = fuelFlowFor(power(450e3), gramsPerKilowattHour(330));
    expect(relative(total, gramsPerMinute(2475))).toBeLessThan(1e-6);
    const each = injectorFlowNeeded({ fuelFlow: total, injectors: 6, duty: ratio(0.85) });
    expect(relative(each, gramsPerMinute(485.2941))).toBeLessThan(1e-6);
  });

  it.each([
    [250, 0.33149],
    [330, 0.25113],
  ])('check 10-06 (definition, computed with numpy 2.4.6): %i g/kWh', (consumption, wanted) => {
    const found = brakeEfficiency(gramsPerKilowattHour(consumption), specificEnergy(43.44e6));
    expect(Math.abs(found - wanted)).toBeLessThan(1e-5);
  });

  it('check 10-10 (definition, computed with numpy 2.4.6): fuel to an air flow', () => {
    const found = fuelFlowOfAir(massFlow(0.5), { lambda: ratio(0.8), stoichiometric: ratio(14.6) });
    expect(relative(found, gramsPerMinute(2568.493))).toBeLessThan(1e-6);
  });
});

describe('mixture', () => {
  it('check 10-08 (definition, computed with numpy 2.4.6): λ and φ', () => {
    const lambda = lambdaOf(ratio(11.6), ratio(14.6));
    expect(Math.abs(lambda - 0.79452)).toBeLessThan(1e-5);
    expect(Math.abs(equivalenceRatio(lambda) - 1.25862)).toBeLessThan(1e-5);
  });

  it('check 10-09 (the sensor measures λ, computed with numpy 2.4.6): gauge scaled for another fuel', () => {
    const found = gaugeCorrected({ shown: ratio(11.8), gaugeScale: ratio(14.7), fuel: ratio(9.8) });
    expect(Math.abs(found.lambda - 0.80272)).toBeLessThan(1e-5);
    expect(Math.abs(found.airFuelRatio - 7.8667)).toBeLessThan(5e-5);
  });

  it.each([
    ['gasoline', 349e3, 11.7, 29.681],
    ['ethanol', 921e3, 7.2, 127.28],
    ['methanol', 1177e3, 5.2, 225.22],
  ])('check 10-11 (energy balance, latent heats seen in the AFDC table): %s', (...[, latent, afr, wanted]) => {
    expect(Math.abs(evaporationCooling(specificEnergy(latent), ratio(afr)) / wanted - 1)).toBeLessThan(1e-4);
  });
});
