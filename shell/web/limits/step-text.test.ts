import { describe, expect, test } from 'vitest';
import type { StepControl } from '../../contract/index.ts';
import { chanceText, heatOf, marginText, signOf } from './heat.ts';
import { stepText } from './step-text.ts';

const DEGREE = Math.PI / 180;
const control = (more: Partial<StepControl>): StepControl => ({
  ...{ name: 'manifoldPressure', title: 'Manifold pressure', word: 'MAP', kind: 'absolute-pressure' },
  ...{ value: 200e3, named: false, low: 80e3, high: 350e3, increment: 1e3, ...more },
});
const CONTROLS: readonly StepControl[] = [
  control({}),
  control({ name: 'camPhase', word: 'phase', kind: 'angle', value: 3 * DEGREE, named: true }),
  control({ name: 'soak', word: 'soak', kind: 'temperature-difference', value: 0 }),
  control({ name: 'plugGap', word: 'gap', kind: 'length', value: null }),
];

describe('the step in the address', () => {
  test.each([
    [{ name: 'none', value: 1 }, 'phase 3 °'],
    [{ name: 'manifoldPressure', value: 215e3 }, 'MAP 215 kPa, phase 3 °'],
    [{ name: 'camPhase', value: undefined }, ''],
    [{ name: 'soak', value: 9 }, 'phase 3 °, soak 9 Δ°C'],
    [{ name: 'plugGap', value: 0.55e-3 }, 'phase 3 °, gap 0.55 mm'],
  ])('%o → %s', (turned, text) => {
    expect(stepText(CONTROLS, turned)).toBe(text);
  });
});

describe('a cell of a strip', () => {
  test.each([
    [null, 'unknown', '?'],
    [undefined, 'unknown', '?'],
    [0, 'free', ''],
    [0.0249, 'free', ''],
    [0.025, 'near', '·'],
    [0.16, 'doubt', '!'],
    [0.4999, 'doubt', '!'],
    [0.5, 'passed', '✕'],
    [1, 'passed', '✕'],
  ] as const)('chance %s is %s with the sign "%s"', (over, heat, sign) => {
    expect([heatOf(over), signOf(heatOf(over))]).toEqual([heat, sign]);
  });

  test('margins and chances are never more certain than they can be', () => {
    expect([-0.034, 0, 0.12, 2.71, null].map(marginText)).toEqual(['−3', '+0', '+12', '>99', '–']);
    expect([0, 0.004, 0.37, 0.999, 1].map(chanceText)).toEqual(['<1 %', '<1 %', '37 %', '>99 %', '>99 %']);
  });
});
