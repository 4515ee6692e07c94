import {
  type AbsolutePressure,
  absolutePressure,
  answered,
  CELSIUS_ZERO,
  type Outcome,
  type Ratio,
  ratio,
  refused,
  type Temperature,
  temperature,
} from '../../../quantities/index.ts';
import { countingPressure, judged, type RuleFacts } from './judgement.ts';
import type { AmbientRule } from './rule.ts';

const FACTS: RuleFacts = {
  id: 'SAE J1349',
  edition: '1990 form (JUN1990), mechanical efficiency of 85 % built in',
  formula: '1.180·(99 kPa/pd)·√((t + 273)/298) − 0.18',
  source: 'SAE J1349 JUN1990, formula as quoted on a public page; the standard itself was not seen',
  status: 'seen in a secondary source',
  ignition: 'both',
  pressureBasis: 'dry',
  reference: { pressure: absolutePressure(99000), temperature: temperature(CELSIUS_ZERO + 25) },
  windows: {
    temperature: {
      low: CELSIUS_ZERO + 15,
      high: CELSIUS_ZERO + 35,
      ends: 'closed',
      source: 'SAE J1349 test conditions (from memory, DOUBTFUL)',
    },
    pressure: { low: 90000, high: 105000, ends: 'closed', source: 'SAE J1349 test conditions (from memory, DOUBTFUL)' },
    factor: {
      low: 0.93,
      high: 1.07,
      ends: 'closed',
      source: 'our default: the band of ISO 1585, used here for lack of its own',
    },
  },
  boost: {
    boostedSpark: 'claimed',
    source: 'SAE J1349 (2011), abstract: naturally aspirated and pressure-charged, with and without charge-air cooling',
  },
};

/**
 * Ambient factor of SAE J1349 [1].
 *
 *     CF = 1.180·(99 kPa/pd)·√((t + 273)/298) − 0.18        t in °C, pd dry-air pressure
 *
 * Written for engines whose filling follows the ambient pressure.
 *
 * @source  SAE J1349 JUN1990 (secondary)
 */
export const saeJ1349: AmbientRule = {
  ...FACTS,
  factor: (input) => {
    const counted = countingPressure(FACTS, input.ambient);
    if (!counted.ok) return counted;
    const factor = 1.18 * j1349IndicatedFactor(counted.value, input.ambient.temperature) - 0.18;
    return judged(FACTS, input, { factor, used: { pressure: counted.value, temperature: input.ambient.temperature } });
  },
};

/** Part of the rule that scales indicated power [1]: (99 kPa/pd)·√((t + 273)/298). @source as the rule */
export function j1349IndicatedFactor(dryPressure: AbsolutePressure, air: Temperature): Ratio {
  return ratio((99000 / dryPressure) * Math.sqrt((air - CELSIUS_ZERO + 273) / 298));
}

/**
 * Ambient factor with the mechanical efficiency written out [1]: x/η − (1/η − 1), x the factor of indicated power.
 *
 * With η = 0.85 it differs from the rounded 1990 form by up to about 2e-4.
 *
 * @param indicatedFactor      x [1] @param mechanicalEfficiency η, 0 … 1
 * @source  structure of SAE J1349 from 2004 on, from memory, DOUBTFUL
 */
export function j1349EfficiencyFactor(indicatedFactor: Ratio, mechanicalEfficiency: Ratio): Ratio {
  return ratio(indicatedFactor / mechanicalEfficiency - (1 / mechanicalEfficiency - 1));
}

const FRICTION_FACTS: RuleFacts = {
  ...FACTS,
  id: 'SAE J1349 measured friction',
  edition: 'indicated-power method',
  formula: '((P + Pf)·(99 kPa/pd)·√((t + 273)/298) − Pf)/P',
  source: 'SAE J1349, indicated-power method (from memory)',
  status: 'from memory',
};

/**
 * Factor of the same standard where the friction power was measured [1].
 *
 *     (P + Pf)·x − Pf, divided by P        indicated power is corrected, friction is not
 *
 * Needs observed brake power and friction power, both above zero; refused without them.
 *
 * @source  SAE J1349, from memory
 */
export const saeJ1349MeasuredFriction: AmbientRule = {
  ...FRICTION_FACTS,
  factor: (input) => {
    const counted = countingPressure(FRICTION_FACTS, input.ambient);
    if (!counted.ok) return counted;
    const powers = frictionPowers(input.engine?.observedPower, input.engine?.frictionPower);
    if (!powers.ok) return powers;
    const { observed, friction } = powers.value;
    const x = j1349IndicatedFactor(counted.value, input.ambient.temperature);
    const factor = ((observed + friction) * x - friction) / observed;
    const used = { pressure: counted.value, temperature: input.ambient.temperature, observed, friction };
    return judged(FRICTION_FACTS, input, { factor, used });
  },
};

function frictionPowers(
  observed: number | undefined,
  friction: number | undefined,
): Outcome<{ readonly observed: number; readonly friction: number }> {
  if (observed === undefined || friction === undefined) {
    return refused({
      kind: 'missing-friction-power',
      message: 'missing friction power: this rule needs observed power and measured friction power',
      rule: FRICTION_FACTS.source,
    });
  }
  if (!(observed > 0) || !(friction >= 0)) {
    return refused({
      kind: 'invalid-friction-power',
      message: `invalid power: observed ${observed} W, friction ${friction} W, expected above 0 and not below 0`,
      numbers: { observed, friction },
    });
  }
  return answered({ observed, friction });
}
