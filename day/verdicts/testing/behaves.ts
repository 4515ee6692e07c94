import { describe, expect, it } from 'vitest';
import { type Detection, type Detector, detect } from '../detector.ts';
import { limitsWith, type ThresholdName } from '../thresholds.ts';
import { type Invented, inventedPull } from './invented-pull.ts';

/** What every detector owes: it fires on its fault at every rate, is silent on a clean pull, below its threshold, and on look-alikes. */
export interface Owed {
  readonly detector: Detector;
  readonly fault: Invented;
  readonly below: Invented;
  readonly lookAlikes: Readonly<Record<string, Invented>>;
  /** Hz of the fast channels; default 50, 100, 1000; 20 and 100 in company. */
  readonly rates?: readonly number[];
  readonly set?: Partial<Record<ThresholdName, number>>;
  /** What a clean pull is, when the detector needs company. */
  readonly clean?: Invented;
  /** Stretch [s since tip-in] that the windows must overlap and not leave by more than 1 s. */
  readonly span?: readonly [number, number];
}

/** One detector on one invented pull. */
export function detected(detector: Detector, invented: Invented, set: Owed['set'] = {}): Detection {
  return detect(detector, inventedPull(invented), limitsWith(set));
}

const TIP_IN = 3;

/** The common duties of a detector as tests. */
export function behaves({
  detector,
  fault,
  below,
  lookAlikes,
  rates = [50, 100, 1000],
  set,
  clean = {},
  span,
}: Owed): void {
  describe(detector.fault, () => {
    it.each(rates)('is seen at %d Hz', (rate) => {
      const found = detected(detector, { ...fault, rate }, set);
      expect(found.answer, found.why).toBe('seen');
      expect(found.windows.length).toBeGreaterThan(0);
      if (span) {
        expect(found.windows[0].from - TIP_IN).toBeGreaterThan(span[0] - 1);
        expect(found.windows[0].from - TIP_IN).toBeLessThan(span[1]);
        expect((found.windows.at(-1)?.to ?? 0) - TIP_IN).toBeLessThan(span[1] + 1);
      }
    });

    it.each([1, 2])('is silent on a clean pull (seed %d)', (seed) => {
      const found = detected(detector, { ...clean, seed: 10 * seed }, set);
      expect(found.answer, JSON.stringify(found.features)).not.toBe('seen');
    });

    it('is silent just below its threshold', () => {
      const found = detected(detector, below, set);
      expect(found.answer, JSON.stringify(found.features)).not.toBe('seen');
    });

    it.each(Object.entries(lookAlikes))('is silent on %s', (_, other) => {
      const found = detected(detector, other, set);
      expect(found.answer, JSON.stringify(found.features)).not.toBe('seen');
    });

    if (detector.needs.length > 0) {
      it('says what is missing instead of guessing', () => {
        const found = detected(detector, { ...fault, without: detector.needs }, set);
        expect(found.answer).toBe('cannot tell');
        expect(found.missing).toEqual(detector.needs);
      });
    }
  });
}
