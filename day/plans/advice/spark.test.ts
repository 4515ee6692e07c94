import { describe, expect, it } from 'vitest';
import { type Measured, measured } from '../../../core/quantities/index.ts';
import { inventedForesight, withoutValues } from '../limits/testing/invented-engine.ts';
import { type PlugAdvice, plugAdvice } from './spark.ts';

const exact = (value: number): Measured => measured(value, 0);
type Told = Extract<PlugAdvice, { kind: 'plugs' }>;

/** kPa above air at sea level. */
function told(boost: number, values: Readonly<Record<string, Measured>> = {}, step: object = {}): Told {
  const asked = { manifoldPressure: 101_325 + boost * 1e3, ...step };
  const found = plugAdvice(inventedForesight(values), asked);
  if (found.kind === 'none') throw new Error(found.why);
  return found;
}

describe('what practice says of the plugs (common practice, no source)', () => {
  it.each([
    [90, 0.7, 'usual'],
    [90, 0.55, 'below'],
    [120, 0.7, 'above'],
    [120, 0.6, 'usual'],
    [180, 0.55, 'above'],
    [180, 0.5, 'usual'],
    [260, 0.35, 'below'],
  ] as const)('at %i kPa of boost a gap of %f mm is %s', (boost, gap, against) => {
    expect(told(boost, {}, { plugGap: gap * 1e-3 }).gap.against).toBe(against);
  });

  it('heat range: one step for each 60 … 80 kPa over the engine as it was made, and for each 40 … 50 % of output', () => {
    const { steps } = told(180, { nativeBoost: exact(60e3), plugStepsColder: exact(1) });
    expect(steps.byBoost?.low).toBeCloseTo(1.5, 9);
    expect(steps.byBoost?.high).toBeCloseTo(2, 9);
    expect(steps.against).toBe('usual');
    expect(told(180, { nativeBoost: exact(60e3), plugStepsColder: exact(0) }).steps.against).toBe('below');
    expect(told(180, { nativeBoost: exact(60e3), plugStepsColder: exact(3) }).steps.against).toBe('above');
    // the invented engine at 200 kPa: 384 N·m at 7 000 rpm are 281.5 kW, twice 140.7 kW
    const output = told(98.675, { nativePower: exact(140.74e3) }).steps.byOutput;
    expect(output?.low).toBeCloseTo(2, 2);
    expect(output?.high).toBeCloseTo(2.5, 2);
  });

  it('counts boost above sea level, whatever the air outside: the charge is what strains a plug', () => {
    expect(told(100, {}, { altitude: 3200 }).boost).toBeCloseTo(100e3, 6);
    expect(told(-30, { nativeBoost: exact(0) }).steps.byBoost).toEqual({ low: 0, high: 0 });
  });

  it('names what is missing and says nothing in its place', () => {
    const { steps, reach, unknown } = told(120, { plugStepsColder: exact(1) });
    expect(steps).toMatchObject({ byBoost: undefined, byOutput: undefined, against: undefined });
    expect(reach).toBeUndefined();
    expect(unknown).toEqual(['nativeBoost', 'nativePower', 'plugThread', 'headThread']);
  });

  it('reach: the thread is that of the plugs the engine was made with', () => {
    const threads = { plugThread: exact(26.5e-3), headThread: exact(19e-3) };
    expect(told(120, threads).reach?.verdict).toBe('too long');
    expect(told(120, { ...threads, plugThread: exact(19e-3) }).reach?.verdict).toBe('right');
  });

  it('holds the computed spark margin beside: a gap as usual leaves more than a wider one', () => {
    const { spark } = told(120, {}, { plugGap: 0.8e-3 });
    expect(spark?.usual.value ?? 0).toBeGreaterThan(spark?.now.value ?? 1);
    const { model, predict } = inventedForesight();
    const names = ['sparkVoltage', 'coilResistance', 'coilInductance'];
    const dark = plugAdvice({ model: withoutValues(model, names), predict }, { manifoldPressure: 200e3 });
    expect(dark.kind === 'plugs' && dark.spark).toBeUndefined();
  });

  it('none for compression ignition', () => {
    expect(() => told(120, { halfBurned: exact(0.26) })).toThrow('compression ignition');
  });
});
