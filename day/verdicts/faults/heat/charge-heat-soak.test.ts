import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import { dragging, restricted, soaked } from '../../testing/faults.ts';
import { chargeHeatSoak } from './charge-heat-soak.ts';

behaves({
  detector: chargeHeatSoak,
  fault: soaked(),
  below: soaked(2),
  lookAlikes: { 'driveline drag': dragging(), 'exhaust restriction': restricted() },
  clean: { references: [{}, {}] },
});

describe('charge-heat-soak', () => {
  it('sees heat that is gathered pull after pull', () => {
    const found = detected(chargeHeatSoak, { ...soaked(3), references: [soaked(2), soaked(1), {}] });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
  });

  it('is not seen where another sensor is read in place of the charge’s', () => {
    expect(detected(chargeHeatSoak, { ...soaked(50), references: [{}, {}] }).answer).toBe('not seen');
  });

  it('allows for surrounding air that became warmer', () => {
    const change = {
      'charge-temperature': (value: number) => value + 5,
      'ambient-temperature': (value: number) => value + 5,
    };
    expect(detected(chargeHeatSoak, { change, references: [{}, {}] }).answer).toBe('not seen');
  });
});
