import { absolutePressure, temperature } from '../../../quantities/index.ts';
import { countingPressure, judged, type RuleFacts } from './judgement.ts';
import type { AmbientRule } from './rule.ts';

const FORMULA = '(99 kPa/ps)^1.2·(T/298 K)^0.6';

const ISO: RuleFacts = {
  id: 'ISO 1585 spark',
  edition: 'ISO 1585:1992, same form in UN R85 and 80/1269/EEC',
  formula: FORMULA,
  source: 'ISO 1585 / UN R85, spark ignition, form as quoted on a public page; the texts themselves were not seen',
  status: 'seen in a secondary source',
  ignition: 'spark',
  pressureBasis: 'dry',
  reference: { pressure: absolutePressure(99000), temperature: temperature(298) },
  windows: {
    temperature: { low: 288, high: 308, ends: 'closed', source: 'UN R85 Annex 5 (from memory)' },
    pressure: { low: 80000, high: 110000, ends: 'closed', source: 'UN R85 Annex 5 (from memory)' },
    factor: { low: 0.93, high: 1.07, ends: 'closed', source: 'UN R85 / ISO 1585 (from memory)' },
  },
  boost: {
    boostedSpark: 'claimed',
    source: 'ISO 1585:1992, scope: naturally aspirated and pressure-charged engines of road vehicles',
  },
};

const EU: RuleFacts = {
  ...ISO,
  id: 'EU 134/2014 spark',
  edition: '(EU) 134/2014, Annex X, appendix 2.2 (two- and three-wheelers)',
  source:
    '(EU) 134/2014 Annex X app. 2.2: reference and windows seen in the legal text; its equation images were missing, so the form is that of ISO 1585 (from memory)',
  windows: {
    temperature: { low: 283.2, high: 318.2, ends: 'open', source: '(EU) 134/2014 Annex X app. 2.2, seen' },
    factor: { low: 0.93, high: 1.07, ends: 'closed', source: 'as ISO 1585 (from memory; not seen for this text)' },
  },
  boost: { boostedSpark: 'not stated', source: '(EU) 134/2014 Annex X app. 2.2: nothing seen' },
};

/**
 * Ambient factor for spark ignition [1]: αa = (99 kPa/ps)^1.2·(T/298 K)^0.6, ps dry-air pressure.
 *
 * @source  ISO 1585 / UN R85 (secondary)
 */
export const iso1585Spark: AmbientRule = sparkRule(ISO);

/** The same form with the wider temperature window of the rule for two- and three-wheelers. @source (EU) 134/2014 */
export const eu134Spark: AmbientRule = sparkRule(EU);

function sparkRule(facts: RuleFacts): AmbientRule {
  return {
    ...facts,
    factor: (input) => {
      const counted = countingPressure(facts, input.ambient);
      if (!counted.ok) return counted;
      const factor = (99000 / counted.value) ** 1.2 * (input.ambient.temperature / 298) ** 0.6;
      return judged(facts, input, {
        factor,
        used: { pressure: counted.value, temperature: input.ambient.temperature },
      });
    },
  };
}
