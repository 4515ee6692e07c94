import { expect, it } from 'vitest';
import { detected } from '../../testing/behaves.ts';
import { limitsWith } from '../../thresholds.ts';
import { SURE } from '../../weighing/model.ts';
import { wrongScale } from './wrong-scale.ts';

it('a scale off in both states is the surer the further it is off: at five times its limit nothing else is left', () => {
  const limit = limitsWith()['wrong-scale.apart'].value;
  const off = (times: number) =>
    detected(wrongScale, {
      change: { 'exhaust-pressure': (value) => value * (1 + times * limit) },
      references: [{}, {}, {}],
    });
  expect(off(5)).toMatchObject({ answer: 'seen', channel: 'exhaust-pressure' });
  expect(off(5).strength).toBeCloseTo(0.95, 9);
  expect(off(1.3).strength).toBeLessThan(SURE);
  expect(off(0.8).answer).toBe('not seen');
});
