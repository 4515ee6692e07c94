import {
  type AbsolutePressure,
  absolutePressure,
  type Ratio,
  ratio,
  refused,
  type Temperature,
  temperature,
} from '../../../quantities/index.ts';
import { countingPressure, judged, type RuleFacts } from './judgement.ts';
import type { AmbientRule, EngineFactorBand } from './rule.ts';

const FACTS: RuleFacts = {
  id: 'ISO 1585 compression',
  edition: 'ISO 1585:1992, same form in UN R85',
  formula: 'fa^fm; fa = (99/ps)·(T/298)^0.7 or, turbocharged, (99/ps)^0.7·(T/298)^1.5; fm = 0.036·qc − 1.14',
  source: 'ISO 1585 / UN R85: fm seen in an engine service manual reproducing it; exponents of fa from memory',
  status: 'seen in a secondary source',
  ignition: 'compression',
  pressureBasis: 'dry',
  reference: { pressure: absolutePressure(99000), temperature: temperature(298) },
  windows: {
    temperature: { low: 288, high: 308, ends: 'closed', source: 'UN R85 Annex 5 (from memory)' },
    pressure: { low: 80000, high: 110000, ends: 'closed', source: 'UN R85 Annex 5 (from memory)' },
    factor: { low: 0.9, high: 1.1, ends: 'closed', source: 'engine service manual reproducing the standard, seen' },
  },
  boost: { boostedSpark: 'not stated', source: 'the compression-ignition part says nothing of spark ignition' },
};

/**
 * Ambient factor for compression ignition [1]: αd = fa^fm.
 *
 * Asks for charging and corrected fuel per cycle; refused without them.
 *
 * @source  ISO 1585 / UN R85
 */
export const iso1585Compression: AmbientRule = {
  ...FACTS,
  factor: (input) => {
    const counted = countingPressure(FACTS, input.ambient);
    if (!counted.ok) return counted;
    const { charging, correctedFuel, engineFactorBand } = input.engine ?? {};
    if (charging === undefined || correctedFuel === undefined) {
      return refused({
        kind: 'missing-engine-fact',
        message: `missing ${charging === undefined ? 'charging' : 'corrected fuel per cycle'}: ${FACTS.id} needs it`,
        rule: FACTS.source,
      });
    }
    const { temperature: T } = input.ambient;
    const fa = atmosphericFactor({ dryPressure: counted.value, temperature: T, turbocharged: charging === 'turbo' });
    const fm = engineFactor(correctedFuel, engineFactorBand);
    const used = { pressure: counted.value, temperature: T, correctedFuel, atmosphericFactor: fa, engineFactor: fm };
    return judged(FACTS, input, { factor: fa ** fm, used });
  },
};

export interface AtmosphericInput {
  readonly dryPressure: AbsolutePressure;
  readonly temperature: Temperature;
  /** False: naturally aspirated or mechanically charged. */
  readonly turbocharged: boolean;
}

/**
 * Atmospheric factor fa [1]: (99/ps)·(T/298)^0.7, or (99/ps)^0.7·(T/298)^1.5 with a turbocharger.
 *
 * @source  ISO 1585 / UN R85, exponents from memory; the same as the test-validity parameter of 40 CFR 89.331
 */
export function atmosphericFactor({ dryPressure, temperature: T, turbocharged }: AtmosphericInput): Ratio {
  const pressure = 99000 / dryPressure;
  return ratio(turbocharged ? pressure ** 0.7 * (T / 298) ** 1.5 : pressure * (T / 298) ** 0.7);
}

/**
 * Engine factor fm [1]: 0.036·qc − 1.14 between its limits, qc in mg/(L·cycle); constant outside.
 *
 * Two lower limits are in print: 0.3 below 40 (`regulation`) and 0.2 below 37.2 (`service manual`); above 65 both hold 1.2. All
 * of them lie on the same line.
 *
 * @param correctedFuel qc = q/r [kg/m³], 0.050 is 50 mg/(L·cycle); r is compressor outlet over inlet pressure
 * @param band          which of the two; default `regulation`
 * @source  line: engine service manual (seen); band 40–65: UN R85 (from memory); band 37.2–65: the manual (seen)
 */
export function engineFactor(correctedFuel: number, band: EngineFactorBand = 'regulation'): Ratio {
  const low = band === 'regulation' ? { until: 0.04, value: 0.3 } : { until: 0.0372, value: 0.2 };
  if (correctedFuel < low.until) return ratio(low.value);
  return ratio(correctedFuel > 0.065 ? 1.2 : 36 * correctedFuel - 1.14);
}

export interface FuelPerCycle {
  /** [kg/s] */
  readonly fuelFlow: number;
  /** [m³] */
  readonly displacement: number;
  /** [rad/s] */
  readonly engineSpeed: number;
  /** Compressor outlet over inlet pressure, 1 for natural aspiration. */
  readonly pressureRatio: number;
}

/**
 * Corrected fuel per cycle and displaced volume of a four-stroke engine [kg/m³]: qc = ṁ·4π/(Vd·ω)/r.
 *
 * The same as 120 000·(g/s)/(L·rpm)/r in mg/(L·cycle).
 *
 * @source  ISO 1585 / UN R85 definition of q (120 000 for a four-stroke)
 */
export function correctedFuelPerCycle({ fuelFlow, displacement, engineSpeed, pressureRatio }: FuelPerCycle): number {
  return (fuelFlow * 4 * Math.PI) / (displacement * engineSpeed) / pressureRatio;
}

/** Verdict on a test by the validity parameter. */
export interface TestValidity {
  readonly parameter: number;
  readonly valid: boolean;
  readonly low: number;
  readonly high: number;
}

/**
 * Test-validity parameter f of 40 CFR 89.331 [1], valid from 0.98 to 1.02.
 *
 * It says whether the air was close enough to the reference for the test to count; it does not correct anything.
 *
 * @source  40 CFR 89.331: rule that f must be within limits seen; formulas and limits from memory
 */
export function testValidity(input: AtmosphericInput): TestValidity {
  const parameter = atmosphericFactor(input);
  return { parameter, valid: parameter >= 0.98 && parameter <= 1.02, low: 0.98, high: 1.02 };
}
