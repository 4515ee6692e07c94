import { describe, expect, it } from 'vitest';
import { detect } from '../../detector.ts';
import { emptyMemory } from '../../scene/memory.ts';
import { behaves, detected } from '../../testing/behaves.ts';
import { dragging, restricted, soaked } from '../../testing/faults.ts';
import { type Invented, inventedPull } from '../../testing/invented-pull.ts';
import { limitsWith } from '../../thresholds.ts';
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

  it('takes the air of the room from pulls whose probe read it', () => {
    const warmer = (charge: number, probe: number): Invented => ({
      change: {
        'charge-temperature': (value) => value + charge,
        'ambient-temperature': (value) => value + probe,
      },
    });
    // The air of the room rose by 3 K; the probe of the nearest pull read 5 K more than it.
    const polluted: Invented = { ...warmer(0, 5), spoiled: ['ambient-probe'] };
    expect(detected(chargeHeatSoak, { ...warmer(3, 3), references: [polluted, {}] }).answer).toBe('not seen');
    expect(detected(chargeHeatSoak, { ...warmer(3, 3), references: [polluted] }).answer).toBe('seen');
  });

  it('cannot be told of a pull that is known from its middle on only', () => {
    const scene = inventedPull({ ...soaked(), references: [{}, {}] });
    expect(detect(chargeHeatSoak, scene, limitsWith()).answer).toBe('seen');
    const underWay = { ...scene, from: scene.from + 4, memory: emptyMemory() };
    expect(detect(chargeHeatSoak, underWay, limitsWith()).answer).toBe('cannot tell');
  });
});
