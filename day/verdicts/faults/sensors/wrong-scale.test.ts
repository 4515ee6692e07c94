import { expect, it } from 'vitest';
import { detected } from '../../testing/behaves.ts';
import type { Invented } from '../../testing/invented-pull.ts';
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

it('a scale is held against pulls of the same settings where there are some: another boost turns the wheel otherwise', () => {
  const at = (target: string, loaded: number, scale = 1): Invented => ({
    settings: { 'map target': target },
    change: { 'turbo-speed': (value, { full }) => value * scale * (full ? loaded : 1) },
  });
  const references = [at('200 kPa', 1), at('200 kPa', 1), at('160 kPa', 0.92), at('240 kPa', 1.06)];
  expect(detected(wrongScale, { ...at('200 kPa', 1, 1.055), references })).toMatchObject({
    answer: 'seen',
    channel: 'turbo-speed',
  });
  expect(detected(wrongScale, { ...at('200 kPa', 1), references }).answer).toBe('not seen');
});
