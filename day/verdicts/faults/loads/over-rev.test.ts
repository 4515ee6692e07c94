import { describe, expect, it } from 'vitest';
import { detect } from '../../detector.ts';
import { behaves, detected } from '../../testing/behaves.ts';
import { missedGear, syncLoss } from '../../testing/faults.ts';
import { type Invented, inventedPull, type Moment } from '../../testing/invented-pull.ts';
import { limitsWith } from '../../thresholds.ts';
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

  it('is seen where it lasts hardly longer than two readings of the log, and one reading alone is a spike', () => {
    const slow = (change: (value: number, moment: Moment) => number, limit: number): Invented => ({
      engine: { redline: { value: limit, standardUncertainty: 0 } },
      rates: { 'engine-speed': 25 },
      change: { 'engine-speed': change },
    });
    const lookAt = (invented: Invented) => {
      const scene = inventedPull(invented);
      return detect(overRev, { ...scene, from: scene.from + 0.02 }, limitsWith()).answer;
    };
    // 690 rad/s at lift-off only, 1.025 times the limit for 0.06 s.
    expect(lookAt(slow((value, { t }) => (t > 10 ? value - 150 * (t - 10) : value), 690 / 1.0285))).toBe('seen');
    expect(lookAt(slow((value, { t }) => (Math.abs(t - 6) < 0.02 ? 4000 : value), 700))).toBe('not seen');
  });

  it('cannot tell without a stated limit', () => {
    expect(detected(overRev, { engine: {} })).toMatchObject({
      answer: 'cannot tell',
      why: 'the highest allowed engine speed is not stated',
    });
  });
});
