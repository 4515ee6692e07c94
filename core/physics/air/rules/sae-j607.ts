import { absolutePressure, fromSi, temperature, toSi, unitOf } from '../../../quantities/index.ts';
import { countingPressure, judged, type RuleFacts } from './judgement.ts';
import type { AmbientRule } from './rule.ts';

const INCH_OF_MERCURY = unitOf('inHg');
const FAHRENHEIT = unitOf('°F');
const REFERENCE_PRESSURE = toSi(29.92, INCH_OF_MERCURY);

const FACTS: RuleFacts = {
  id: 'SAE J607',
  edition: 'superseded',
  formula: '(29.92 inHg/pd)·√((tF + 460)/520)',
  source: 'SAE J607 (from memory)',
  status: 'from memory',
  ignition: 'spark',
  pressureBasis: 'dry',
  reference: { pressure: absolutePressure(REFERENCE_PRESSURE), temperature: temperature(toSi(60, FAHRENHEIT)) },
  windows: {
    factor: {
      low: 0.93,
      high: 1.07,
      ends: 'closed',
      source: 'our default: the band of ISO 1585, used here for lack of its own',
    },
  },
  boost: {
    boostedSpark: 'excluded',
    source:
      'SAE J245 (1971), of the same family: all spark-ignition engines except turbocharged ones; carried over to J607 by us',
  },
};

/**
 * Ambient factor of SAE J607 [1]: (29.92 inHg/pd)·√((tF + 460)/520), pd dry-air pressure, tF in °F.
 *
 * About 4 % above SAE J1349 for the same air: two numbers under different rules are never comparable.
 *
 * @source  SAE J607, from memory
 */
export const saeJ607: AmbientRule = {
  ...FACTS,
  factor: (input) => {
    const counted = countingPressure(FACTS, input.ambient);
    if (!counted.ok) return counted;
    const fahrenheit = fromSi(input.ambient.temperature, FAHRENHEIT);
    const factor = (REFERENCE_PRESSURE / counted.value) * Math.sqrt((fahrenheit + 460) / 520);
    return judged(FACTS, input, { factor, used: { pressure: counted.value, temperature: input.ambient.temperature } });
  },
};
