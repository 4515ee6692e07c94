import { describe, expect, it } from 'vitest';
import { absolutePressure, angularSpeed, measured, ratio, temperature, volume } from '../../quantities/index.ts';
import { airMassFlow, measuredAirMassFlow } from './air-mass-flow.ts';

const STATE = {
  volumetricEfficiency: ratio(0.95),
  manifoldPressure: absolutePressure(200e3),
  chargeTemperature: temperature(318.15),
  displacement: volume(3e-3),
  engineSpeed: angularSpeed(2 * Math.PI * 100),
};

describe('air flow from speed and density', () => {
  it('is one filling per two revolutions of an ideal gas, worked by hand', () => {
    // 50 fillings per second of 3 L · 0.95 at ρ = 200e3/(287.05·318.15) = 2.18999 kg/m³
    expect(airMassFlow(STATE)).toBeCloseTo(50 * 3e-3 * 0.95 * 2.18999, 5);
  });

  it('doubles with pressure, halves with temperature', () => {
    const twice = airMassFlow({ ...STATE, manifoldPressure: absolutePressure(400e3) });
    expect(twice / airMassFlow(STATE)).toBeCloseTo(2, 12);
    const hot = airMassFlow({ ...STATE, chargeTemperature: temperature(636.3) });
    expect(hot / airMassFlow(STATE)).toBeCloseTo(0.5, 12);
  });

  it('carries the uncertainty of a product: relative parts add in squares', () => {
    const found = measuredAirMassFlow({
      volumetricEfficiency: measured(0.95, 0.019),
      manifoldPressure: measured(200e3, 1000),
      chargeTemperature: measured(318.15, 3.1815),
      displacement: measured(3e-3, 0),
      engineSpeed: measured(2 * Math.PI * 100, 0),
    });
    expect(found.flow.value).toBeCloseTo(airMassFlow(STATE), 12);
    const wanted = Math.hypot(0.02, 0.005, 0.01);
    expect(found.flow.standardUncertainty / found.flow.value / wanted).toBeCloseTo(1, 5);
    expect(found.contributions.map(({ name }) => name)).toContain('charge temperature');
    expect(found.contributions[3]?.contribution).toBe(0);
  });
});
