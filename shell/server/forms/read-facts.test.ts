import { describe, expect, it } from 'vitest';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { readFacts } from './read-facts.ts';

const FACTS: DayFacts = {
  ...{ title: 'a day', place: {}, vehicle: {}, engine: {}, roller: {}, ambient: {}, entries: [], mappings: [] },
};
const why = (path: string, text: string): string => {
  const read = readFacts(FACTS, { [path]: text });
  return read.ok ? 'read' : (read.fields[0]?.message ?? '');
};

describe('a part written with a wrong unit in the form', () => {
  it.each([
    [
      'parts.plugGap',
      '7 kPa',
      'invalid gap of the plugs: "7 kPa", expected a number with a unit such as mm; kPa is a unit of pressure',
    ],
    ['parts.reciprocatingMass', '580 mm', 'mm is a unit of length'],
    ['parts.coolerIce', '4 ± 1 °C', '°C is a unit of temperature'],
    ['parts.coolerWater', '12', 'expected a number with a unit such as kg'],
    ['parts.octane', '98 kPa', 'expected a plain number; kPa is a unit of pressure'],
    ['parts.plugGap', '0.7 m', 'at most 10.0 mm'],
    ['parts.coolerKind', 'ice', 'expected one of air-to-air, water-to-air'],
  ])('%s: %s is refused with what and where', (path, text, expected) => {
    expect(why(path, text)).toContain(expected);
  });

  it.each([
    ['parts.plugGap', '0.7 mm'],
    ['parts.coolerWater', '12 ± 0.5 kg'],
    ['parts.coolerKind', 'water-to-air'],
    ['parts.coolerPumpFlow', '25 L/min'],
    ['parts.coolerTimeConstant', '4 min'],
  ])('%s: %s is read', (path, text) => {
    expect(why(path, text)).toBe('read');
  });
});
