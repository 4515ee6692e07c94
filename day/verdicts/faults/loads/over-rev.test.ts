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
  it('is read from the one reading that a slow log has of the peak', () => {
    const redline = { value: 690 / 1.03, standardUncertainty: 0 };
    const slow = { engine: { redline }, rates: { 'engine-speed': 10 } };
    expect(detected(overRev, slow).answer).toBe('seen');
    expect(detected(overRev, { ...slow, engine: { redline: { ...redline, value: 690 / 1.02 } } }).answer).toBe(
      'not seen',
    );
  });

  it('cannot tell without a stated limit', () => {
    expect(detected(overRev, { engine: {} })).toMatchObject({
      answer: 'cannot tell',
      why: 'the highest allowed engine speed is not stated',
    });
  });
});
