import { describe, expect, it } from 'vitest';
import { type Measured, measured } from '../../../core/quantities/index.ts';
import type { Foresight } from '../limits/foresight.ts';
import { DEGREE } from '../limits/testing/build-sheet.ts';
import { inventedForesight, withoutValues, withValues } from '../limits/testing/invented-engine.ts';
import type { Prediction } from '../model/engine-model.ts';
import { type TractionAdvice, tractionAdvice } from './traction.ts';

const AT = { manifoldPressure: 200e3 };
const exact = (value: number): Measured => measured(value, 0);

/** Check 9-04: 800 kg on the driven axle, two straps of 4 000 N, 35° below the horizontal, 20° off the axis in plan; grip 1.1 of check 9-05. */
const STRAPPED = {
  ...{ axleLoad: exact(7845.32), grip: exact(1.1), strapForce: exact(4588.61) },
  ...{ strapCount: exact(2), strapAngle: exact(35 * DEGREE), strapPlanAngle: exact(20 * DEGREE) },
};

/** The invented engine with a driving force that is the same at every speed. */
function pulling(
  force: number,
  values: Readonly<Record<string, Measured>>,
  without: readonly string[] = [],
): Foresight {
  const { model, predict } = inventedForesight();
  return {
    model: withoutValues(withValues(model, values), without),
    predict: (step, speeds): Prediction => {
      const found = predict(step, speeds);
      const wheel = {
        kind: 'force' as const,
        value: new Float64Array(speeds.length).fill(force),
        standardUncertainty: new Float64Array(speeds.length).fill(0.02 * Math.abs(force)),
      };
      return { ...found, lines: { ...found.lines, 'wheel force': wheel } };
    },
  };
}

type Told = Exclude<TractionAdvice, { kind: 'unknown' }>;
function told(foresight: Foresight, kept?: number, step: object = {}): Told {
  const found = tractionAdvice(foresight, { ...AT, ...step }, kept);
  if (found.kind === 'unknown') throw new Error(found.why);
  return found;
}

describe('what would make the tyres hold', () => {
  it('checks 9-04, 9-05 (statics, µN; numpy 2.4.6): limit, and load, tension and ballast that a larger force asks, by hand', () => {
    const found = told(pulling(15_000, STRAPPED), 0);
    expect(found.kind).toBe('load');
    expect(found.limit.value).toBeCloseTo(13677.32, 1);
    // 15 000/1.1 − 12 433.93 = 1 202.43 N; /(2·sin 35°) = 1 048.18 N more in each; /9.80665 = 122.61 kg
    expect(found.missing.value).toBeCloseTo(1202.43, 1);
    expect(found.straps?.now.value).toBeCloseTo(4000, 1);
    expect(found.straps?.wanted.value).toBeCloseTo(5048.18, 1);
    expect(found.ballast.value).toBeCloseTo(122.61, 2);
    // check 9-04: 6 158.01 N rearward at 4 000 N each, so 7 771.7 N now
    expect(found.straps?.rearward).toBeCloseTo((6158.01 * 5048.18) / 4000, 0);
  });

  it('its spread is that of force, grip and weight; what holds nineteen times of twenty is 1.645 of it above', () => {
    const grip = measured(1.1, 0.055);
    const found = told(pulling(15_000, { ...STRAPPED, grip }), 0);
    // 13 636.4·√(0.02² + 0.05²) = 734.3 N
    expect(found.missing.standardUncertainty).toBeCloseTo(734.34, 1);
    expect(found.safe).toBeCloseTo(1202.43 + 1.645 * 734.34, 0);
    expect(found.safeBallast).toBeCloseTo(found.safe / 9.80665, 9);
    expect(found.straps?.safe).toBeCloseTo((4588.61 + found.safe) / (2 * Math.sin(35 * DEGREE)), 3);
  });

  it('a share kept in hand asks for more, and after it was added just that share is left (identity)', () => {
    const few = told(pulling(15_000, STRAPPED), 0.1);
    expect(few.missing.value).toBeCloseTo(15_000 / 0.99 - 12433.93, 1);
    const after = told(pulling(15_000, { ...STRAPPED, strapForce: exact(4588.61 + few.missing.value) }), 0.1);
    expect(after.missing.value).toBeCloseTo(0, 6);
    expect(15_000 / after.limit.value).toBeCloseTo(0.9, 9);
    const ballast = told(pulling(15_000, STRAPPED), 0.1, { ballast: few.ballast.value });
    expect(ballast.missing.value).toBeCloseTo(0, 6);
  });

  it('holds where there is enough, and says how much is to spare', () => {
    const found = told(pulling(9000, STRAPPED), 0.1);
    expect(found.kind).toBe('holds');
    expect(found.missing.value).toBeCloseTo(9000 / 0.99 - 12433.93, 1);
    expect(found.ballast.value).toBe(0);
    expect(found.straps?.wanted).toEqual(found.straps?.now);
  });

  it('no sensible load: more than is allowed on the axle, else more than the axle’s own load again', () => {
    // 2·7 845.32 N is the most; 17 259.7 N/1.1 presses with just that
    expect(told(pulling(17_250, STRAPPED), 0).kind).toBe('load');
    expect(told(pulling(17_270, STRAPPED), 0).kind).toBe('too much');
    const allowed = { ...STRAPPED, axleLoadLimit: exact(13_000) };
    expect(told(pulling(14_290, allowed), 0)).toMatchObject({ kind: 'load', most: { stated: true } });
    expect(told(pulling(14_310, allowed), 0)).toMatchObject({ kind: 'too much' });
  });

  it('then a ratio that holds by itself: force falls with the ratio', () => {
    const found = told(pulling(17_270, { ...STRAPPED, overallRatio: exact(5) }), 0.1);
    expect(found.largestRatio).toBeCloseTo((5 * 0.9 * 13677.32) / 17_270, 4);
    expect(told(pulling(9000, STRAPPED), 0, { overallRatio: 3 }).largestRatio).toBeCloseTo((3 * 13677.32) / 9000, 4);
  });

  it('holds the tension under drive against the rating: the rear straps gain half of the drive while the front is tight', () => {
    const found = told(pulling(9000, { ...STRAPPED, strapRating: exact(12_000) }), 0);
    // rearward 6 158.01 N; + 9 000/2: each has 4 000·(1 + 4 500/6 158.01) = 6 923.0 N
    expect(found.straps?.underDrive).toBeCloseTo(6923, 0);
    expect(found.straps?.reserve).toBeCloseTo(12_000 / 6923, 3);
    const flat = told(pulling(15_000, { ...STRAPPED, strapAngle: exact(0) }), 0);
    expect(flat.straps?.wanted.value).toBe(Number.POSITIVE_INFINITY);
    expect(flat.straps?.underDrive).toBeUndefined();
  });

  it('without the geometry tells all straps together and names what is missing', () => {
    const found = told(pulling(15_000, STRAPPED, ['strapAngle', 'strapPlanAngle']), 0);
    expect(found.straps).toBeUndefined();
    expect(found.missing.value).toBeCloseTo(1202.43, 1);
    expect(found.unknown).toEqual(
      expect.arrayContaining(['strapAngle', 'strapPlanAngle', 'strapRating', 'axleLoadLimit']),
    );
  });

  it('cannot say without the axle load, or without a driving force, and names the fact', () => {
    expect(tractionAdvice(pulling(9000, STRAPPED, ['axleLoad']), AT)).toMatchObject({
      kind: 'unknown',
      unknown: ['axleLoad'],
    });
    const dark = tractionAdvice(pulling(Number.NaN, STRAPPED, ['overallRatio']), AT);
    expect(dark).toMatchObject({ kind: 'unknown', unknown: ['overallRatio'] });
  });

  it('what a step says goes before the facts: straps, ballast, and a hot tread', () => {
    const foresight = pulling(15_000, STRAPPED);
    expect(told(foresight, 0, { strapForce: 0 }).missing.value).toBeCloseTo(1202.43 + 4588.61, 1);
    const hot = pulling(15_000, { ...STRAPPED, gripKnee: exact(330), gripPerKelvin: exact(0.01) });
    expect(told(hot, 0, { treadTemperature: 340 }).missing.value).toBeCloseTo(15_000 - 12433.93, 1);
  });
});
