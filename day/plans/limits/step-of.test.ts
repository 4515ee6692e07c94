import { describe, expect, it } from 'vitest';
import { stepOf } from './step-of.ts';

describe('a step as a person writes it', () => {
  it('reads every setting in SI', () => {
    const read = stepOf(
      'MAP 215 kPa, phase 3°, altitude 3200 m, gap 0.55 mm, timing -2°, lambda 0.82, dwell 3.2 ms, straps 5 kN, ambient 34 °C',
    );
    if (!read.ok) throw new Error(read.refusal.message);
    const { step, findings } = read.value;
    expect(step.manifoldPressure).toBeCloseTo(215e3, 6);
    expect(step.camPhase).toBeCloseTo((3 * Math.PI) / 180, 12);
    expect(step.timing).toBeCloseTo((-2 * Math.PI) / 180, 12);
    expect(step).toMatchObject({ altitude: 3200, lambda: 0.82, strapForce: 5000 });
    expect(step.plugGap).toBeCloseTo(0.55e-3, 12);
    expect(step.dwell).toBeCloseTo(3.2e-3, 12);
    expect(step.ambientTemperature).toBeCloseTo(307.15, 9);
    expect(findings).toEqual([]);
  });

  it('reads another fuel, ethanol, ballast and tread; refuses a fuel it does not know and the number of a gear', () => {
    const read = stepOf('MAP 215 kPa, fuel methanol, ballast 120 kg, tread 70 °C, ethanol 85 %');
    expect(read.ok && read.value.step).toMatchObject({ fuel: 'methanol', ballast: 120, ethanolShare: 0.85 });
    for (const [text, kind] of [
      ['MAP 215 kPa, fuel kerosene', 'unknown-word'],
      ['MAP 215 kPa, fuel LPG, fuel petrol', 'written-twice'],
      ['MAP 215 kPa, gear 3', 'not-a-setting'],
    ] as const) {
      const refused = stepOf(text);
      expect(refused.ok ? '' : refused.refusal.kind).toBe(kind);
    }
  });

  it('reads water and ice of the tank of a charge cooler; refuses a water that is ice, and ice as warm as something', () => {
    const read = stepOf('MAP 200 kPa, water 12 °C, ice 4 kg');
    expect(read.ok && read.value.step.water).toBeCloseTo(285.15, 9);
    expect(read.ok && read.value.step.ice).toBe(4);
    expect(stepOf('MAP 200 kPa, water -5 °C').ok).toBe(false);
    expect(stepOf('MAP 200 kPa, ice 0 °C').ok).toBe(false);
  });

  it('says a range in the unit of the quantity', () => {
    const refused = stepOf('MAP 2 kPa');
    expect(refused.ok ? '' : refused.refusal.message).toMatch(/2\.0 kPa, valid 30\.0 kPa – 800\.0 kPa/);
  });

  it('angles without a unit are degrees, and the answer says so', () => {
    const read = stepOf('MAP 2.15 bar; phase 3; timing −2');
    expect(read.ok && read.value.findings.map(({ kind }) => kind)).toEqual(['unit-taken', 'unit-taken']);
    expect(read.ok && read.value.step.manifoldPressure).toBeCloseTo(215e3, 6);
    expect(read.ok && (read.value.step.timing ?? 0) < 0).toBe(true);
  });

  it('a warming is a difference, not a temperature; barometer and temperature outside are told apart', () => {
    const read = stepOf('MAP 200 kPa, soak 8 °C, ambient pressure 68.5 kPa, ambient 12 °C');
    expect(read.ok && read.value.step.soak).toBeCloseTo(8, 9);
    expect(read.ok && read.value.step.ambientPressure).toBeCloseTo(68.5e3, 6);
    expect(read.ok && read.value.step.ambientTemperature).toBeCloseTo(285.15, 9);
  });

  it('a written ± is left out with a note', () => {
    const read = stepOf('MAP 200 ± 2 kPa');
    expect(read.ok && read.value.findings[0].kind).toBe('spread-left-out');
  });

  it.each([
    ['', 'missing-manifold-pressure', ''],
    ['gap 0.5 mm', 'missing-manifold-pressure', 'gap 0.5 mm'],
    ['MAP 215 kPa, gap 0,55 mm', 'ambiguous-number', '0,55'],
    ['MAP 1,215 kPa', 'ambiguous-number', '1,215'],
    ['MAP 215 kPa, colour 3', 'unknown-word', 'colour 3'],
    ['boost 1.2 bar', 'not-a-setting', 'boost 1.2 bar'],
    ['MAP 215 kPa, MAP 3 bar', 'written-twice', 'MAP 3 bar'],
    ['MAP 215', 'invalid-quantity', 'MAP 215'],
    ['MAP 215 mm', 'invalid-quantity', 'MAP 215 mm'],
    ['MAP 215 kPa, gap', 'missing-number', 'gap'],
    ['MAP 2 kPa', 'out of validity', 'MAP 2 kPa'],
    ['MAP 215 kPa, lambda 8.2', 'out of validity', 'lambda 8.2'],
    ['215 kPa', 'unknown-word', '215 kPa'],
  ])('refuses "%s": %s, naming the part', (text, kind, part) => {
    const read = stepOf(text);
    if (read.ok) throw new Error('was read');
    expect(read.refusal.kind).toBe(kind);
    expect(read.refusal.numbers?.part).toBe(part);
  });
});
