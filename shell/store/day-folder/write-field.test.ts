import { describe, expect, it } from 'vitest';
import type { Field } from './field.ts';
import { AMBIENT, ENGINE, PLACE, ROLLER, VEHICLE } from './fields.ts';
import { readField } from './read-field.ts';
import { writeField } from './write-field.ts';

/** The text that is written for what a text says. */
function rewritten({ form }: Field, text: string): string | number {
  const read = readField(form, text);
  if (!read.ok) throw new Error(read.expected);
  return writeField(form, read.value);
}

describe('a written quantity', () => {
  it.each([
    [VEHICLE.tyreRadius, '0.330 m', '0.33 m'],
    [VEHICLE.tyreRadius, '330 mm', '0.33 m'],
    [VEHICLE.axleLoad, '5482 ± 50 N', '5482 ± 50 N'],
    [VEHICLE.axleLoad, '5.482kN', '5482 N'],
    [ROLLER.equivalentMass, '450 +/- 4.5 kg', '450 ± 4.5 kg'],
    [ROLLER.equivalentMass, '450 ± 1% kg', '450 ± 4.5 kg'],
    [ROLLER.equivalentMass, '992 lb', '992 lb'],
    [ROLLER.equivalentMass, '449.96 kg', '449.96 kg'],
    [ROLLER.forceCalibration, '0.5 %', '0.5 %'],
    [AMBIENT.pressure, '85.3 kPa', '85.3 kPa'],
    [AMBIENT.pressure, '853 hPa', '85.3 kPa'],
    [AMBIENT.pressure, '29.92 inHg', '29.92 inHg'],
    [AMBIENT.temperature, '27 °C', '27 °C'],
    [AMBIENT.temperature, '-40 C', '-40 °C'],
    [AMBIENT.temperature, '71.3 °F', '71.3 °F'],
    [AMBIENT.relativeHumidity, '38 %', '38 %'],
    [AMBIENT.relativeHumidity, '0.38', '38 %'],
    [AMBIENT.relativeHumidity, '0.38 ± 0.02', '0.38 ± 0.02'],
    [VEHICLE.overallRatio, '4.402', 4.402],
    [VEHICLE.overallRatio, '4.4 ± 0.5%', '4.4 ± 0.022000000000000002'],
    [ENGINE.redline, '7000 rpm', '7000 rpm'],
    [ENGINE.displacement, '2480 cc', '2.48 L'],
    [ENGINE.cylinders, '6', 6],
    [PLACE.altitude, '-30 m', '-30 m'],
  ])('is in a unit that people read: %#', (field, text, expected) => {
    expect(rewritten(field, text)).toBe(expected);
    expect(rewritten(field, String(expected))).toBe(expected);
  });

  it('that is not finite is a mistake of the caller', () => {
    expect(() => writeField(VEHICLE.tyreRadius.form, { value: Number.NaN, standardUncertainty: 0 })).toThrow(
      RangeError,
    );
  });
});

describe('a text that one reader takes for one value and another for a different one', () => {
  it.each([
    [VEHICLE.tyreRadius, '12,5 mm'],
    [VEHICLE.tyreRadius, '1.234,5 mm'],
    [VEHICLE.axleLoad, '5,482 N'],
    [VEHICLE.axleLoad, '5 482 N'],
    [VEHICLE.axleLoad, "5'482 N"],
    [VEHICLE.axleLoad, '5_482 N'],
    [VEHICLE.axleLoad, '0x10 N'],
    [VEHICLE.axleLoad, '٣ N'],
    [VEHICLE.axleLoad, '5482'],
    [VEHICLE.axleLoad, '560 kg'],
    [AMBIENT.relativeHumidity, '38 ± 2 %'],
    [AMBIENT.relativeHumidity, '38'],
    [AMBIENT.pressure, '12.4 psig'],
    [AMBIENT.pressure, '0.85 bar(g)'],
    [AMBIENT.temperature, '27'],
    [AMBIENT.temperature, '27 %'],
    [ENGINE.cylinders, '6,0'],
    [ENGINE.cylinders, '6.0'],
  ])('is refused: %#', (field, text) => {
    expect(readField(field.form, text)).toMatchObject({ ok: false });
  });
});
