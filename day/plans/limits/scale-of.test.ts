import { describe, expect, it } from 'vitest';
import { scaleOf } from './scale-of.ts';

describe('to what a result is carried, as written', () => {
  it.each([
    ['displacement 2.0 L', { displacement: 2e-3 }],
    ['4 cylinders', { cylinders: 4 }],
    ['cylinders 4; displacement: 122 in³', { cylinders: 4, displacement: 122 * 1.6387064e-5 }],
    ['ambient 35 °C', { ambientTemperature: 308.15 }],
    ['ambient pressure 95 kPa, outside 300 K', { ambientPressure: 95e3, ambientTemperature: 300 }],
  ])('%s', (text, to) => {
    const read = scaleOf(text);
    if (!read.ok) throw new Error(read.refusal.message);
    expect(Object.keys(read.value.to).sort()).toEqual(Object.keys(to).sort());
    for (const [name, value] of Object.entries(to)) {
      expect(new Map<string, number>(Object.entries(read.value.to)).get(name)).toBeCloseTo(value, 9);
    }
  });

  it('an altitude stands for the air of the standard atmosphere there (US Standard Atmosphere 1976: 79 495 Pa, 275.15 K at 2 000 m)', () => {
    const read = scaleOf('altitude 2000 m');
    expect(read.ok && read.value.to.ambientPressure).toBeCloseTo(79_495, -1);
    expect(read.ok && read.value.to.ambientTemperature).toBeCloseTo(275.15, 1);
    const warm = scaleOf('altitude 2000 m, ambient 30 °C');
    expect(warm.ok && warm.value.to.ambientTemperature).toBeCloseTo(303.15, 9);
  });

  it('names the pull whose result it is', () => {
    expect(scaleOf('4 cylinders, pull 22')).toMatchObject({ value: { from: '22', to: { cylinders: 4 } } });
    expect(scaleOf('of pull-03, 4 cylinders')).toMatchObject({ value: { from: 'pull-03' } });
  });

  it.each([
    ['', 'nothing-to-scale', ''],
    ['pull 22', 'nothing-to-scale', 'pull 22'],
    ['displacement 2,0 L', 'ambiguous-number', '2,0'],
    ['displacement', 'missing-number', 'displacement'],
    ['displacement 2.0', 'missing-unit', 'displacement 2.0'],
    ['stroke 80 mm', 'unknown-word', 'stroke 80 mm'],
    ['MAP 200 kPa', 'unknown-word', 'MAP 200 kPa'],
    ['4.5 cylinders', 'invalid-number', '4.5 cylinders'],
    ['0 cylinders', 'out of validity', '0 cylinders'],
    ['displacement 200 L', 'out of validity', 'displacement 200 L'],
    ['ambient 400 °C', 'out of validity', 'ambient 400 °C'],
    ['4 cylinders, cylinders 6', 'written-twice', 'cylinders 6'],
  ])('refuses "%s" and names the part', (...row) => {
    const [text, kind, part] = row;
    const read = scaleOf(text);
    expect(read).toMatchObject({ ok: false, refusal: { numbers: { part } } });
    if (kind !== 'missing-unit') expect(read).toMatchObject({ refusal: { kind } });
  });

  it('says where a setting belongs', () => {
    const read = scaleOf('gap 0.5 mm');
    expect(read.ok ? '' : read.refusal.message).toContain('belongs into the step');
  });
});
