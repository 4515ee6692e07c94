import fc from 'fast-check';
import { KINDS, type Measured, UNITS } from '../../../core/quantities/index.ts';
import { MEANINGS } from '../../../day/channels/meanings.ts';
import type { DayFacts } from '../../../day/pulls/facts.ts';
import type { Field } from '../day-folder/field.ts';
import { DAY, ENTRY, SECTIONS } from '../day-folder/fields.ts';
import { FACTS } from '../facts-schema.ts';

/** Any facts that a day can hold: every bit of every double, any text. */
export function anyFacts(): fc.Arbitrary<DayFacts> {
  const sections = Object.fromEntries(Object.entries(SECTIONS).map(([name, fields]) => [name, anySection(fields)]));
  return fc
    .record({
      ...fieldArbitraries(DAY),
      title: anyText(),
      ...sections,
      entries: fc.uniqueArray(anyEntry(), { selector: ({ id }) => id, maxLength: 5 }),
      mappings: fc.uniqueArray(anyMapping(), { selector: ({ columnSet }) => columnSet, maxLength: 2 }),
      thresholds: anyTexts(),
      engineThresholds: anyTexts(),
    })
    .map((facts) => FACTS.parse(withoutAbsent(facts)));
}

function anySection(fields: object): fc.Arbitrary<unknown> {
  return fc.record(fieldArbitraries(fields)).map(withoutAbsent);
}

function fieldArbitraries(fields: object): Record<string, fc.Arbitrary<unknown>> {
  return Object.fromEntries(
    Object.entries(fields).map(([name, field]) => [name, fc.option(anyValue(field), { nil: undefined })]),
  );
}

function anyValue({ form }: Field): fc.Arbitrary<unknown> {
  switch (form.form) {
    case 'text':
      return anyText();
    case 'date':
      return fc.constantFrom('2031-05-14', '2032-02-29', '1999-12-31');
    case 'clock':
      return fc.constantFrom('00:00', '23:59:59', '10:35');
    case 'choice':
      return fc.constantFrom(...form.options);
    case 'whole':
      return form.options
        ? fc.constantFrom(...form.options)
        : fc.integer({ min: form.limits.from ?? 1, max: form.limits.to ?? 64 });
    case 'falling':
      return fc
        .uniqueArray(fc.integer({ min: 1, max: 90_000 }), { minLength: 1, maxLength: 8 })
        .map((numbers) => numbers.toSorted((a, b) => b - a).map((n) => n / 1e4));
    case 'plain':
      return anyNumber(form.limits);
    case 'measured':
      return fc
        .tuple(anyNumber(form.limits), fc.oneof(fc.constant(0), anyNumber({ from: 0 })))
        .map(([value, standardUncertainty]): Measured => ({ value, standardUncertainty }));
  }
}

function anyNumber({ above, from, to }: { above?: number; from?: number; to?: number }): fc.Arbitrary<number> {
  const whole = fc.double({
    min: above ?? from ?? -1e300,
    max: to ?? 1e300,
    noNaN: true,
    minExcluded: above !== undefined,
  });
  const usual = fc
    .integer({ min: 1, max: 9000 })
    .map((n) => n / 1e4)
    .filter((n) => n > (above ?? -1) && n >= (from ?? 0) && n <= (to ?? 1));
  return fc.oneof(whole, usual).filter((n) => n < 1e300 && !Object.is(n, -0));
}

export function anyText(): fc.Arbitrary<string> {
  return fc.oneof(
    fc.string({ unit: 'binary', maxLength: 12 }),
    fc.string({ unit: 'grapheme', maxLength: 12 }),
    fc.constantFrom(
      '',
      ' ',
      '1',
      '~',
      'null',
      'no',
      '12,5 mm',
      '# x',
      '- a',
      'a: b',
      'a\nb\n',
      'x\r\ny ',
      '&a',
      '*a',
      '!t',
      "'",
      '"',
      '%',
      '__proto__',
      '10:35',
      '\u0085',
      '\u2028',
    ),
  );
}

function anyEntry() {
  return fc
    .record({
      ...fieldArbitraries(ENTRY),
      id: anyText().filter((id) => id !== ''),
      kind: fc.constantFrom('pull', 'coast-down', 'change', 'note'),
      files: fc.array(fc.constantFrom('pull-03-roller.csv', 'logs/a b.csv', 'ü.csv', '7.csv', 'run: b, [c].csv'), {
        maxLength: 3,
      }),
      settings: fc.dictionary(anyText(), anyText(), { maxKeys: 4 }),
      overruled: anyTexts(),
    })
    .map(withoutAbsent);
}

function anyTexts() {
  return fc.option(fc.dictionary(anyText(), anyText(), { minKeys: 1, maxKeys: 3 }), { nil: undefined });
}

function anyMapping() {
  return fc.record({
    columnSet: fc.string({ unit: fc.constantFrom(...'0123456789abcdef'), minLength: 64, maxLength: 64 }),
    columns: fc.array(anyColumn(), { maxLength: 3 }),
  });
}

function anyColumn() {
  return fc
    .constantFrom(...Object.entries(MEANINGS))
    .chain(([meaning, { kind }]) =>
      fc.record({
        column: anyText(),
        meaning: fc.constant(meaning),
        position: fc.option(anyText(), { nil: undefined }),
        unit: fc.constantFrom(
          ...UNITS.filter((unit) => unit.dimension === KINDS[kind].dimension).map((unit) => unit.symbol),
        ),
        origin: fc.option(fc.constantFrom('measured', 'smoothed', 'corrected', 'derived', 'commanded'), {
          nil: undefined,
        }),
        divisor: fc.option(fc.double({ min: 1e-9, max: 1e9, noNaN: true }), { nil: undefined }),
        zero: fc.option(fc.constantFrom('vacuum', 'ambient'), { nil: undefined }),
        confirmed: fc.boolean(),
      }),
    )
    .map(withoutAbsent);
}

function withoutAbsent<Shape extends object>(shape: Shape): Shape {
  for (const [key, value] of Object.entries(shape)) if (value === undefined) Reflect.deleteProperty(shape, key);
  return shape;
}
