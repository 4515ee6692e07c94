import { combinedUncertainty } from '../../../numerics/index.ts';
import {
  absolutePressure,
  answered,
  type Measured,
  measured,
  type Outcome,
  temperature,
} from '../../../quantities/index.ts';
import { din70020 } from './din-70020.ts';
import { iso1585Compression } from './iso-1585-compression.ts';
import { eu134Spark, iso1585Spark } from './iso-1585-spark.ts';
import type { AmbientRule, AmbientRuleId, AmbientState, RuleEngine, RuleFactor, RuleInput } from './rule.ts';
import { saeJ607 } from './sae-j607.ts';
import { saeJ1349, saeJ1349MeasuredFriction } from './sae-j1349.ts';
import { noCorrection, temperatureOnly } from './temperature-only.ts';

/** Every rule, in the order in which they are listed. */
export const AMBIENT_RULES: readonly AmbientRule[] = [
  noCorrection,
  temperatureOnly,
  saeJ1349,
  saeJ1349MeasuredFriction,
  iso1585Spark,
  iso1585Compression,
  eu134Spark,
  din70020,
  saeJ607,
];

/** The rule of that name. Throws on an unknown one: names in code are ours. */
export function ambientRule(id: AmbientRuleId): AmbientRule {
  const rule = AMBIENT_RULES.find((candidate) => candidate.id === id);
  if (!rule) throw new Error(`unknown ambient rule: ${id}`);
  return rule;
}

/** One rule beside the others for the same air. */
export interface RuleLine {
  readonly rule: AmbientRule;
  readonly outcome: Outcome<RuleFactor>;
}

/** Every rule's factor, or its refusal, for the same air and engine, in the order of {@link AMBIENT_RULES}. */
export function ambientFactors(input: RuleInput): readonly RuleLine[] {
  return AMBIENT_RULES.map((rule) => ({ rule, outcome: rule.factor(input) }));
}

/** ∂factor/∂pressure [1/Pa], ∂/∂temperature [1/K], ∂/∂vapour pressure [1/Pa; 0 when the rule needs none]. */
export interface FactorSensitivity {
  readonly pressure: number;
  readonly temperature: number;
  readonly vapourPressure: number;
}

/**
 * How a factor answers to the readings it rests on, by central differences of 10 Pa and 10 mK.
 *
 * @source  numeric derivative; truncation below 1e-9 of the factor
 */
export function factorSensitivity(rule: AmbientRule, input: RuleInput): Outcome<FactorSensitivity> {
  const here = rule.factor(input);
  if (!here.ok) return here;
  const factorAt = (change: Partial<AmbientState>): number => {
    const moved = rule.factor({ ...input, ambient: { ...input.ambient, ...change } });
    return moved.ok ? moved.value.factor : Number.NaN;
  };
  const { pressure: p, temperature: T, vapourPressure: pv } = input.ambient;
  const byPressure = (d: number): number => factorAt({ pressure: absolutePressure(p + d) });
  const byTemperature = (d: number): number => factorAt({ temperature: temperature(T + d) });
  const byVapour = (d: number): number =>
    pv === undefined ? 0 : factorAt({ vapourPressure: absolutePressure(pv + d) });
  // dry air has no step below zero vapour: there the step goes one way
  const below = pv !== undefined && pv >= 10 ? -10 : 0;
  return answered({
    pressure: (byPressure(10) - byPressure(-10)) / 20,
    temperature: (byTemperature(0.01) - byTemperature(-0.01)) / 0.02,
    vapourPressure: (byVapour(10) - byVapour(below)) / (10 - below),
  });
}

/** Readings of the air with their standard uncertainties [K, Pa]. */
export interface MeasuredAmbient {
  readonly temperature: Measured;
  readonly pressure: Measured;
  readonly vapourPressure?: Measured;
}

/**
 * A rule's factor with its standard uncertainty [1] from the readings, taken as independent. The form of the rule itself carries
 * none here: how well a rule fits an engine is a question of its validity.
 *
 * @source  JCGM 100:2008, equation 10
 */
export function measuredFactor(
  rule: AmbientRule,
  ambient: MeasuredAmbient,
  engine?: RuleEngine,
): Outcome<RuleFactor & { readonly measured: Measured }> {
  const input: RuleInput = {
    ambient: {
      temperature: temperature(ambient.temperature.value),
      pressure: absolutePressure(ambient.pressure.value),
      ...(ambient.vapourPressure && { vapourPressure: absolutePressure(ambient.vapourPressure.value) }),
    },
    ...(engine && { engine }),
  };
  const outcome = rule.factor(input);
  if (!outcome.ok) return outcome;
  const slopes = factorSensitivity(rule, input);
  if (!slopes.ok) return slopes;
  const vapour = ambient.vapourPressure ?? { value: 0, standardUncertainty: 0 };
  const { standardUncertainty } = combinedUncertainty({
    inputs: [
      { name: 'pressure', ...ambient.pressure },
      { name: 'temperature', ...ambient.temperature },
      { name: 'vapour pressure', ...vapour },
    ],
    model: () => outcome.value.factor,
    sensitivities: [slopes.value.pressure, slopes.value.temperature, slopes.value.vapourPressure],
  });
  return answered(
    { ...outcome.value, measured: measured(outcome.value.factor, standardUncertainty) },
    outcome.findings,
  );
}

/** Parts of a corrected power away from the crankshaft. */
export interface CorrectionParts {
  /** α1, from a rule [1]. */
  readonly atmosphere: number;
  /** α2, 1 at the crankshaft, above 1 elsewhere: 1/efficiency of the transmission [1]. */
  readonly transmission: number;
}

/**
 * Corrected power [unit of observed]: α1·α2·observed. The two never merge into one number: one is about air, one about losses.
 *
 * @source  structure of (EU) 134/2014 Annex X app. 2.2, seen; values of α2 there were not
 */
export function correctedPower(observed: number, { atmosphere, transmission }: CorrectionParts): number {
  return atmosphere * transmission * observed;
}
