import { temperature } from '../../../quantities/index.ts';
import { countingPressure, judged, type RuleFacts } from './judgement.ts';
import type { AmbientRule } from './rule.ts';

const TEMPERATURE_ONLY: RuleFacts = {
  id: 'temperature only',
  edition: 'ours',
  formula: '√(T/298 K)',
  source:
    'our default: the temperature term of SAE J1349 without its pressure term; for control of absolute manifold pressure',
  status: 'our default',
  ignition: 'both',
  pressureBasis: 'none',
  reference: { temperature: temperature(298) },
  windows: {
    temperature: { low: 288, high: 308, ends: 'closed', source: 'our default: the window of UN R85' },
  },
  boost: { boostedSpark: 'claimed', source: 'our default; no pressure term to correct twice' },
};

/**
 * Ambient factor by inlet temperature alone [1]: √(T/298 K).
 *
 * Meant where the control holds absolute manifold pressure, so ambient pressure hardly reaches the filling. With an effective
 * charge cooler fed by the same air it is an upper bound for the effect.
 *
 * @source  our default
 */
export const temperatureOnly: AmbientRule = {
  ...TEMPERATURE_ONLY,
  factor: (input) => {
    const counted = countingPressure(TEMPERATURE_ONLY, input.ambient);
    if (!counted.ok) return counted;
    const factor = Math.sqrt(input.ambient.temperature / 298);
    return judged(TEMPERATURE_ONLY, input, { factor, used: { temperature: input.ambient.temperature } });
  },
};

const NONE: RuleFacts = {
  id: 'none',
  edition: 'ours',
  formula: '1',
  source: 'power as observed, shown with its conditions',
  status: 'our default',
  ignition: 'both',
  pressureBasis: 'none',
  reference: {},
  windows: {},
  boost: { boostedSpark: 'claimed', source: 'nothing is corrected' },
};

/** No correction: the factor is 1 and always valid [1]. Compare results only between like conditions. @source our default */
export const noCorrection: AmbientRule = { ...NONE, factor: (input) => judged(NONE, input, { factor: 1, used: {} }) };
