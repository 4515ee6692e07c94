import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import { missedGear, syncLoss } from '../../testing/faults.ts';
import { overRev } from './over-rev.ts';

const { engine } = missedGear();

behaves({
  detector: overRev,
  fault: missedGear(),
  below: missedGear(1.02),
  lookAlikes: { 'speed that leaps by lost sync': { ...syncLoss(), ...(engine ? { engine } : {}) } },
  rates: [10, 50, 100, 1000],
  clean: engine ? { engine } : {},
  span: [10, 11.5],
});

describe('over-rev', () => {
  it('cannot tell without a stated limit', () => {
    expect(detected(overRev, { engine: {} })).toMatchObject({
      answer: 'cannot tell',
      why: 'the highest allowed engine speed is not stated',
    });
  });
});
