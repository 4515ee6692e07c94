import {
  type AbsolutePressure,
  answered,
  CELSIUS_ZERO,
  type Finding,
  type Outcome,
  ratio,
  refused,
} from '../../../quantities/index.ts';
import { dryAirPressure } from '../humidity.ts';
import type { AmbientRule, AmbientState, RuleEngine, RuleFactor, RuleInput, RuleWindow } from './rule.ts';

/** A rule without its factor: everything that is said about it in words and numbers. */
export type RuleFacts = Omit<AmbientRule, 'factor'>;

/** What a rule computes from its inputs: the factor and the numbers that entered. */
export interface RawFactor {
  readonly factor: number;
  readonly used: Readonly<Record<string, number>>;
}

/**
 * The pressure that counts for a rule [Pa]: dry or total; a refusal when the air is impossible or its water vapour is unknown.
 * Water vapour is never assumed: dry 99 kPa against total 100 kPa is one percent of power.
 */
export function countingPressure(facts: RuleFacts, ambient: AmbientState): Outcome<AbsolutePressure> {
  const { pressure, temperature, vapourPressure } = ambient;
  if (!(pressure > 0) || !(temperature > 0)) {
    return refused({
      kind: 'invalid-ambient',
      message: `invalid ambient state: ${pressure} Pa, ${temperature} K, expected both above 0`,
      numbers: { pressure, temperature },
    });
  }
  if (facts.pressureBasis !== 'dry') return answered(pressure);
  if (vapourPressure === undefined || Number.isNaN(vapourPressure)) {
    return refused({
      kind: 'missing-humidity',
      message: `missing humidity: ${facts.id} counts the pressure of dry air`,
      rule: facts.source,
    });
  }
  if (!(vapourPressure >= 0 && vapourPressure < pressure)) {
    return refused({
      kind: 'invalid-ambient',
      message: `invalid vapour pressure: ${vapourPressure} Pa, expected 0–${pressure} Pa`,
      numbers: { vapourPressure, pressure },
    });
  }
  return answered(dryAirPressure(pressure, vapourPressure));
}

/** Puts a computed factor beside the rule's limits and the engine it is meant for. Out of limits is declared, not forbidden. */
export function judged(facts: RuleFacts, input: RuleInput, raw: RawFactor): Outcome<RuleFactor> {
  const findings = [...outsideWindows(facts, input, raw), ...unsuitedEngine(facts, input.engine ?? {})];
  const withinLimits = !findings.some(({ kind }) => kind === 'ambient-out-of-limits');
  const suitsEngine = !findings.some(({ kind }) => kind === 'rule-not-for-engine');
  const value: RuleFactor = {
    rule: facts.id,
    factor: ratio(raw.factor),
    valid: withinLimits && suitsEngine,
    withinLimits,
    suitsEngine,
    why: findings.map(({ message }) => message),
    used: raw.used,
  };
  return answered(value, findings);
}

function outsideWindows(facts: RuleFacts, input: RuleInput, raw: RawFactor): readonly Finding[] {
  const { temperature, pressure, factor } = facts.windows;
  const counted = raw.used['pressure'] ?? input.ambient.pressure;
  return [
    windowFinding(facts, temperature, { name: 'temperature', value: input.ambient.temperature }),
    windowFinding(facts, pressure, { name: `${facts.pressureBasis} pressure`, value: counted }),
    windowFinding(facts, factor, { name: 'factor', value: raw.factor }),
  ].filter((finding) => finding !== undefined);
}

function windowFinding(
  facts: RuleFacts,
  window: RuleWindow | undefined,
  { name, value }: { readonly name: string; readonly value: number },
): Finding | undefined {
  if (!window) return undefined;
  const { low, high, ends } = window;
  const inside = ends === 'closed' ? value >= low && value <= high : value > low && value < high;
  if (inside) return undefined;
  return {
    kind: 'ambient-out-of-limits',
    weight: 'doubt',
    message: `${facts.id}: ${name} out of validity: ${shown(name, value)}, valid ${shown(name, low)}–${shown(name, high)}`,
    numbers: { value, low, high, ends, of: name },
    rule: window.source,
  };
}

/** Short text for a reason; full precision stands in the numbers. */
function shown(name: string, value: number): string {
  if (name === 'temperature') return `${(value - CELSIUS_ZERO).toFixed(1)} °C`;
  return name === 'factor' ? value.toFixed(4) : `${(value / 1000).toFixed(2)} kPa`;
}

function unsuitedEngine(facts: RuleFacts, engine: RuleEngine): readonly Finding[] {
  const found: Finding[] = [];
  const unsuited = (message: string, rule: string): void => {
    found.push({ kind: 'rule-not-for-engine', weight: 'doubt', message: `${facts.id}: ${message}`, rule });
  };
  if (engine.ignition !== undefined && facts.ignition !== 'both' && facts.ignition !== engine.ignition) {
    unsuited(`meant for ${facts.ignition} ignition, engine has ${engine.ignition} ignition`, facts.source);
  }
  if (facts.pressureBasis === 'none') return found;
  if (engine.boostControl === 'absolute') {
    unsuited('control holds absolute manifold pressure, so the pressure term corrects too much', ABSOLUTE_CONTROL);
  }
  const boosted = engine.charging === 'turbo' || engine.charging === 'mechanical';
  if (boosted && (engine.boostControl ?? 'unknown') === 'unknown') {
    const message = `${facts.id}: unknown boost control: if it holds absolute manifold pressure, the pressure term corrects too much`;
    found.push({ kind: 'boost-control-unknown', weight: 'note', message, rule: ABSOLUTE_CONTROL });
  }
  if (boosted && engine.ignition === 'spark' && facts.boost.boostedSpark === 'excluded') {
    unsuited('does not cover boosted spark-ignition engines', facts.boost.source);
  }
  return found;
}

/** @source common practice, no source; UN R85 sets the temperature exponent to zero where the intake air is heated automatically (from memory) */
const ABSOLUTE_CONTROL = 'reasoning on absolute-pressure control; common practice, no source';
