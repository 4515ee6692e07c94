import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { EXAMPLE_DAY } from '../testing/example-day.ts';
import { daySchema } from './json-schema.ts';
import { writeDayText } from './write.ts';

const isDay = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(daySchema());

/** As an editor reads it: numbers and booleans by the core schema of YAML 1.2. */
function accepted(text: string): boolean {
  return isDay(parse(text)) === true;
}

describe('the published schema', () => {
  it('accepts what is written', () => {
    expect(accepted(writeDayText(EXAMPLE_DAY))).toBe(true);
    expect(accepted('knurl: 1\ntitle: 2031\nengine: {cylinders: 6, redline: 7000 rpm}\n')).toBe(true);
  });

  it.each([
    ['an unknown key', 'knurl: 1\ntitle: a\ntitel: b\n'],
    ['a quantity without its unit', 'knurl: 1\ntitle: a\nvehicle: {tyre radius: 0.33}\n'],
    ['a wrong word', 'knurl: 1\ntitle: a\nroller: {kind: big}\n'],
    ['no version', 'title: a\n'],
    ['a later version', 'knurl: 2\ntitle: a\n'],
    ['an entry without a kind', 'knurl: 1\ntitle: a\nentries: [{id: 1}]\n'],
  ])('marks %s', (_, text) => {
    expect(accepted(text)).toBe(false);
  });
});
