import { absolutePressure, CELSIUS_ZERO, temperature } from '../../../quantities/index.ts';
import { countingPressure, judged, type RuleFacts } from './judgement.ts';
import type { AmbientRule } from './rule.ts';

const FACTS: RuleFacts = {
  id: 'DIN 70020',
  edition: 'withdrawn',
  formula: '(101.3 kPa/p)·√((273 + t)/293)',
  source:
    'DIN 70020 as quoted on two public pages; that p is total pressure is from memory and not settled (one page adds 0 % humidity)',
  status: 'seen in a secondary source',
  ignition: 'both',
  pressureBasis: 'total',
  reference: { pressure: absolutePressure(101300), temperature: temperature(CELSIUS_ZERO + 20) },
  windows: {
    factor: {
      low: 0.93,
      high: 1.07,
      ends: 'closed',
      source: 'our default: the band of ISO 1585, used here for lack of its own',
    },
  },
  boost: { boostedSpark: 'not stated', source: 'DIN 70020 was not seen' },
};

/**
 * Ambient factor of DIN 70020 [1]: k = (101.3 kPa/p)·√((273 + t)/293), p total barometric pressure, t in °C.
 *
 * @source  DIN 70020 (secondary)
 */
export const din70020: AmbientRule = {
  ...FACTS,
  factor: (input) => {
    const counted = countingPressure(FACTS, input.ambient);
    if (!counted.ok) return counted;
    const t = input.ambient.temperature - CELSIUS_ZERO;
    const factor = (101300 / counted.value) * Math.sqrt((273 + t) / 293);
    return judged(FACTS, input, { factor, used: { pressure: counted.value, temperature: input.ambient.temperature } });
  },
};
