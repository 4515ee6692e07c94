import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { answerOf, refusalOf } from '../testing/outcomes.ts';
import { columnSetOf } from './column-set.ts';
import { parseDayText } from './parse.ts';
import { writeDayText } from './write.ts';

const HEAD = 'knurl: 1\ntitle: a day\n';

describe('a written day', () => {
  it('gives facts in SI: the example of the format page', () => {
    const page = readFileSync(`${import.meta.dirname}/../../../docs/formats/day-folder.md`, 'utf8');
    const facts = answerOf(parseDayText(/```yaml\n([\s\S]*?)```/.exec(page)?.[1] ?? ''));
    expect(facts.vehicle.tyreRadius).toEqual({ value: 0.33, standardUncertainty: 0 });
    expect(facts.roller.equivalentMass).toEqual({ value: 450, standardUncertainty: 4.5 });
    expect(facts.roller.forceCalibration).toBe(0.005);
    expect(facts.engine.displacement?.value).toBeCloseTo(0.00248, 12);
    expect(facts.ambient).toEqual({
      rule: 'none',
      temperature: { value: 300.15, standardUncertainty: 0 },
      pressure: { value: 85300, standardUncertainty: 0 },
      relativeHumidity: { value: 0.38, standardUncertainty: 0 },
    });
    expect(facts.entries[0]?.settings).toEqual({ 'map target': '170 kPa', 'plug gap': '0.70 mm' });
    expect(facts.mappings[0]?.columnSet).toBe(
      columnSetOf([
        { name: 'time', unit: '' },
        { name: 'speed', unit: 'km/h' },
        { name: 'force', unit: 'N' },
      ]),
    );
    expect(facts.mappings[0]?.columns[1]).toEqual({
      column: 'speed',
      meaning: 'roll-speed',
      unit: 'km/h',
      confirmed: true,
    });
    expect(parseDayText(writeDayText(facts))).toEqual({ ok: true, value: facts, findings: [] });
  });

  it('takes every value as a text as it was written', () => {
    const { settings, notes, title } = {
      ...answerOf(
        parseDayText(
          'knurl: 1\ntitle: no\nentries:\n  - {id: 007, kind: note, settings: {a: yes, b: 1e3, c: 0x10, d: 10:35}}\n',
        ),
      ).entries[0],
      notes: answerOf(parseDayText(`${HEAD}notes: ""\n`)).notes,
      title: answerOf(parseDayText(`${HEAD}`)).title,
    };
    expect(settings).toEqual({ a: 'yes', b: '1e3', c: '0x10', d: '10:35' });
    expect(notes).toBe('');
    expect(title).toBe('a day');
  });

  it('takes a plain number as unit of any column, and settles the spelling of a unit', () => {
    const columns =
      '[{column: d, meaning: dwell, unit: 1, divisor: 84}, {column: x, meaning: unknown, unit: kph, zero: ambient}]';
    const facts = answerOf(parseDayText(`${HEAD}mappings: [{column set: [d, x], columns: ${columns}}]\n`));
    expect(facts.mappings[0]?.columns).toEqual([
      { column: 'd', meaning: 'dwell', unit: '1', divisor: 84, confirmed: true },
      { column: 'x', meaning: 'unknown', unit: 'km/h', zero: 'ambient', confirmed: true },
    ]);
  });

  it('takes a key with nothing behind it for an unknown fact', () => {
    const facts = answerOf(parseDayText(`${HEAD}notes:\nvehicle:\nentries:\nroller:\n  name:\n`));
    expect(facts).toEqual({
      title: 'a day',
      place: {},
      vehicle: {},
      engine: {},
      roller: {},
      ambient: {},
      entries: [],
      mappings: [],
    });
  });
});

describe('a written day is refused', () => {
  it.each([
    [
      'an unknown key',
      `${HEAD}vehicle:\n  tire radius: 0.33 m\n`,
      'unknown-key',
      4,
      3,
      /"tire radius", did you mean "tyre radius"/,
    ],
    ['an unknown section', `${HEAD}engin:\n  cylinders: 6\n`, 'unknown-key', 3, 1, /did you mean "engine"/],
    ['an unknown key far from all', `${HEAD}colour: red\n`, 'unknown-key', 3, 1, /expected one of: knurl · title/],
    [
      'an unknown key of an entry',
      `${HEAD}entries:\n  - id: 1\n    kind: pull\n    clok: 10:00\n`,
      'unknown-key',
      6,
      5,
      /"clock"/,
    ],
    ['a decimal comma', `${HEAD}vehicle:\n  tyre radius: 330,5 mm\n`, 'invalid-value', 4, 16, /"330,5 mm".*comma/],
    ['a thousands comma', `${HEAD}vehicle:\n  axle load: 5,482 N\n`, 'invalid-value', 4, 14, /comma/],
    [
      'a wrong unit',
      `${HEAD}vehicle:\n  tyre radius: 0.33 kg\n`,
      'invalid-value',
      4,
      16,
      /expected a number with a unit: m, mm.*kg is a unit of mass/,
    ],
    ['no unit', `${HEAD}vehicle:\n  tyre radius: 330\n`, 'invalid-value', 4, 16, /the unit is missing/],
    [
      'an unknown unit',
      `${HEAD}vehicle:\n  tyre radius: 3 furlong\n`,
      'invalid-value',
      4,
      16,
      /"furlong" is not a unit/,
    ],
    [
      'a gauge pressure for the air',
      `${HEAD}ambient:\n  pressure: 0.85 bar(g)\n`,
      'invalid-value',
      4,
      13,
      /absolute pressure/,
    ],
    ['humidity above 100 %', `${HEAD}ambient:\n  relative humidity: 38\n`, 'invalid-value', 4, 22, /from 0 to 1/],
    [
      'a doubtful percentage',
      `${HEAD}ambient:\n  relative humidity: 38 ± 2 %\n`,
      'invalid-value',
      4,
      22,
      /cannot be told/,
    ],
    [
      'a doubtful percentage without a space',
      `${HEAD}vehicle:\n  torque loss: 5.5±0.5%\n`,
      'invalid-value',
      4,
      16,
      /cannot be told/,
    ],
    [
      'an uncertainty of an uncertainty',
      `${HEAD}roller:\n  force zero: 15 ± 1 N\n`,
      'invalid-value',
      4,
      15,
      /without ±/,
    ],
    ['a radius of nothing', `${HEAD}vehicle:\n  tyre radius: 0 m\n`, 'invalid-value', 4, 16, /above 0 m/],
    ['a wrong word', `${HEAD}roller:\n  kind: brakes\n`, 'invalid-value', 4, 9, /did you mean "brake"/],
    [
      'seven and a half cylinders',
      `${HEAD}engine:\n  cylinders: 7.5\n`,
      'invalid-value',
      4,
      14,
      /whole number from 1 to 64/,
    ],
    ['three strokes', `${HEAD}engine:\n  strokes per cycle: 3\n`, 'invalid-value', 4, 22, /2 or 4/],
    ['a day that does not exist', `${HEAD}date: 2031-02-29\n`, 'invalid-value', 3, 7, /a date/],
    [
      'an hour that does not exist',
      `${HEAD}entries:\n  - {id: a, kind: pull, clock: 24:00}\n`,
      'invalid-value',
      4,
      32,
      /clock time/,
    ],
    ['a list instead of keys', `${HEAD}vehicle: [a]\n`, 'invalid-value', 3, 10, /keys with values/],
    ['keys instead of a text', `knurl: 1\ntitle: {a: b}\n`, 'invalid-value', 2, 8, /one text/],
    [
      'a file instead of files',
      `${HEAD}entries:\n  - {id: a, kind: pull, files: a.csv}\n`,
      'invalid-value',
      4,
      32,
      /a list/,
    ],
    [
      'an absolute path',
      `${HEAD}entries:\n  - {id: a, kind: pull, files: [/etc/passwd]}\n`,
      'invalid-value',
      4,
      33,
      /absolute/,
    ],
    [
      'a drive letter',
      `${HEAD}entries:\n  - {id: a, kind: pull, files: ['C:\\x.csv']}\n`,
      'invalid-value',
      4,
      33,
      /absolute/,
    ],
    [
      'a way out of the folder',
      `${HEAD}entries:\n  - {id: a, kind: pull, files: [a/../../b.csv]}\n`,
      'invalid-value',
      4,
      33,
      /\.\./,
    ],
    ['a missing kind', `${HEAD}entries:\n  - id: a\n`, 'missing-key', 4, 5, /missing kind/],
    ['a missing title', 'knurl: 1\n', 'missing-key', 1, 1, /missing title/],
    [
      'a repeated id',
      `${HEAD}entries:\n  - {id: a, kind: pull}\n  - {id: a, kind: note}\n`,
      'repeated-id',
      5,
      10,
      /"a" stands twice/,
    ],
    [
      'a unit that does not fit',
      `${HEAD}mappings:\n  - column set: [v]\n    columns:\n      - {column: v, meaning: roll-speed, unit: kPa}\n`,
      'invalid-value',
      6,
      48,
      /kPa is a unit of pressure/,
    ],
    [
      'a meaning nobody knows',
      `${HEAD}mappings:\n  - column set: [v]\n    columns:\n      - {column: v, meaning: rollspeed, unit: km/h}\n`,
      'invalid-value',
      6,
      30,
      /did you mean "roll-speed"/,
    ],
    ['a duplicate key', `${HEAD}title: another\n`, 'yaml-duplicate-key', 3, 1, /"title" stands twice/],
    ['an alias', `knurl: 1\ntitle: *a\n`, 'yaml-alias', 2, 8, /alias/],
    ['an anchor', `knurl: 1\ntitle: &a x\nnotes: *a\n`, 'yaml-alias', 2, 11, /anchor/],
    ['a tag', `knurl: 1\ntitle: !run x\n`, 'invalid-yaml', 2, 8, /tag/i],
    ['a broken line', `knurl: 1\ntitle: [a\nnotes: b\n`, 'invalid-yaml', 3, 1, /./],
    ['a tab', `knurl: 1\nvehicle:\n\ttyre radius: 1 m\n`, 'invalid-yaml', 3, 1, /tab/i],
    ['two documents', `${HEAD}---\nknurl: 1\n`, 'invalid-yaml', 3, 1, /document/],
    ['an empty file', '', 'missing-key', 1, 1, /./],
    ['a text', 'hello', 'invalid-value', 1, 1, /./],
    ['no version', 'title: a\n', 'missing-key', 1, 1, /"knurl: 1"/],
    ['a later version', 'knurl: 2\nwarp: 9\n', 'later-version', 1, 8, /knurl out of validity: 2, valid 1–1/],
    ['no version at all', 'knurl: one\ntitle: x\n', 'invalid-value', 1, 8, /version/],
  ])('for %s', (...[, text, kind, line, column, message]) => {
    const refusal = refusalOf(parseDayText(text));
    expect(refusal).toMatchObject({ kind, place: { file: 'day.yaml', line, column } });
    expect(refusal.message).toMatch(message);
  });

  it('with all its problems at once, the first one first', () => {
    const { message, place } = refusalOf(
      parseDayText(`${HEAD}vehicle:\n  tire radius: 1 m\n  overall ratio: 4,402\nroller:\n  kind: big\n`),
    );
    expect(place?.line).toBe(4);
    expect(message).toMatch(
      /^unknown key "tire radius".*\(also line 5: invalid overall ratio: "4,402".*; line 7: invalid kind/,
    );
  });

  it('when it is hostile: huge, deep, a bomb of aliases, thousands of keys, within a second', () => {
    const started = performance.now();
    const bomb = `knurl: 1\na: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b]\nd: [*c,*c,*c]\n`;
    expect(refusalOf(parseDayText(bomb)).kind).toBe('yaml-alias');
    expect(refusalOf(parseDayText('x'.repeat(1_000_001))).kind).toBe('yaml-too-large');
    expect(refusalOf(parseDayText(`knurl: 1\ntitle: ${'['.repeat(100_000)}`)).kind).toBe('invalid-yaml');
    expect(refusalOf(parseDayText(`knurl: 1\ntitle: ${'['.repeat(50)}${']'.repeat(50)}`)).kind).toBe('invalid-yaml');
    const many = Array.from({ length: 20_000 }, (_, index) => `k${index}: 1\n`).join('');
    expect(refusalOf(parseDayText(HEAD + many)).kind).toBe('unknown-key');
    expect(performance.now() - started).toBeLessThan(5000);
  });
});
