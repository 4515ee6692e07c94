import { describe, expect, it } from 'vitest';
import { absolutePressure, CELSIUS_ZERO, power, ratio, temperature, toSi, unitOf } from '../../../quantities/index.ts';
import {
  AMBIENT_RULES,
  ambientFactors,
  ambientRule,
  correctedPower,
  factorSensitivity,
  measuredFactor,
} from './ambient-rules.ts';
import { BOOST_STATEMENTS } from './boost-statements.ts';
import { atmosphericFactor, correctedFuelPerCycle, engineFactor, testValidity } from './iso-1585-compression.ts';
import type { AmbientRuleId, RuleEngine, RuleFactor } from './rule.ts';
import { j1349EfficiencyFactor, j1349IndicatedFactor } from './sae-j1349.ts';

/** Air without water vapour, so that the barometric pressure is the dry pressure. */
const dryAir = (pressure: number, T: number) => ({
  pressure: absolutePressure(pressure),
  temperature: temperature(T),
  vapourPressure: absolutePressure(0),
});

function factorOf(id: AmbientRuleId, ambient: ReturnType<typeof dryAir>, engine?: RuleEngine): RuleFactor {
  const outcome = ambientRule(id).factor(engine ? { ambient, engine } : { ambient });
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value;
}

const near = (found: number, wanted: number, tolerance: number): void => {
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(tolerance);
};

describe('SAE J1349', () => {
  it.each([
    ['1-01', 99000, 25, 1.0],
    ['1-02', 96000, 30, 1.04704],
    ['1-03', 100000, 15, 0.96843],
  ])('check %s (JUN1990, form seen in a secondary source, computed with numpy 2.4.6)', (...[, p, t, wanted]) => {
    near(factorOf('SAE J1349', dryAir(p, t + CELSIUS_ZERO)).factor, wanted, 2e-5);
  });

  it('check 1-04 (from memory, DOUBTFUL; computed with numpy 2.4.6): 85 % written out', () => {
    const x = j1349IndicatedFactor(absolutePressure(96000), temperature(30 + CELSIUS_ZERO));
    near(j1349EfficiencyFactor(x, ratio(0.85)), 1.0469, 2e-5);
    near(factorOf('SAE J1349', dryAir(96000, 303.15)).factor - j1349EfficiencyFactor(x, ratio(0.85)), 1.4e-4, 1e-5);
  });

  it('check 1-05 (from memory; computed with numpy 2.4.6): measured friction', () => {
    const engine = { observedPower: power(300e3), frictionPower: power(45e3) };
    const { factor } = factorOf('SAE J1349 measured friction', dryAir(96000, 303.15), engine);
    near(factor * 300, 313.754, 0.01);
  });

  it('with measured friction refuses when the friction power is missing or below zero', () => {
    const rule = ambientRule('SAE J1349 measured friction');
    expect(rule.factor({ ambient: dryAir(96000, 303) })).toMatchObject({ refusal: { kind: 'missing-friction-power' } });
    const engine = { observedPower: power(300e3), frictionPower: power(-1) };
    expect(rule.factor({ ambient: dryAir(96000, 303), engine })).toMatchObject({
      refusal: { kind: 'invalid-friction-power', numbers: { friction: -1 } },
    });
  });

  it('check 1-25 (secondary page, decomposition from memory): 99 kPa dry and 25 °C give 1', () => {
    const { reference } = ambientRule('SAE J1349');
    expect(reference).toEqual({ pressure: 99000, temperature: 298.15 });
    const ambient = { ...dryAir(100000, 298.15), vapourPressure: absolutePressure(1000) };
    near(factorOf('SAE J1349', ambient).factor, 1, 1e-12);
    near(toSi(29.53, unitOf('inHg')), 100000, 5);
    near(toSi(29.235, unitOf('inHg')), 99000, 5);
  });
});

describe('ISO 1585 spark ignition', () => {
  it.each([
    ['1-06', 99000, 298, 1.0],
    ['1-07', 97000, 303, 1.03508],
    ['1-08', 100000, 290, 0.97201],
  ])('check %s (form seen in a secondary source, computed with numpy 2.4.6)', (...[, p, T, wanted]) => {
    near(factorOf('ISO 1585 spark', dryAir(p, T)).factor, wanted, 2e-5);
  });

  it('check 1-09 (limits from memory): at altitude the factor is given and declared out of limits', () => {
    const found = factorOf('ISO 1585 spark', dryAir(84000, 303));
    near(found.factor, 1.23016, 2e-5);
    expect(found).toMatchObject({ valid: false, withinLimits: false, suitsEngine: true });
    expect(found.why).toEqual(['ISO 1585 spark: factor out of validity: 1.2302, valid 0.9300–1.0700']);
  });

  it('check 1-10 (UN R85, from memory): its windows, ends included', () => {
    const { windows } = ambientRule('ISO 1585 spark');
    expect(windows.temperature).toMatchObject({ low: 288, high: 308, ends: 'closed' });
    expect(windows.pressure).toMatchObject({ low: 80000, high: 110000, ends: 'closed' });
    expect(windows.factor).toMatchObject({ low: 0.93, high: 1.07 });
    expect(factorOf('ISO 1585 spark', dryAir(99000, 308)).withinLimits).toBe(true);
    expect(factorOf('ISO 1585 spark', dryAir(99000, 308.01)).withinLimits).toBe(false);
    expect(factorOf('ISO 1585 spark', dryAir(79999, 288)).why[0]).toContain('dry pressure out of validity: 80.00 kPa');
  });

  it('check 1-27 ((EU) 134/2014, seen in source): dry reference is 100 kPa less 1 kPa of vapour', () => {
    const ambient = { ...dryAir(100000, 298), vapourPressure: absolutePressure(1000) };
    near(factorOf('EU 134/2014 spark', ambient).factor, 1, 1e-12);
  });

  it('check 1-28 ((EU) 134/2014, seen in source): its own, wider and open temperature window', () => {
    const T = 309;
    expect(factorOf('ISO 1585 spark', dryAir(99000, T)).withinLimits).toBe(false);
    expect(factorOf('EU 134/2014 spark', dryAir(99000, T)).withinLimits).toBe(true);
    expect(factorOf('EU 134/2014 spark', dryAir(99000, 318.2)).withinLimits).toBe(false);
    expect(factorOf('EU 134/2014 spark', dryAir(99000, 283.2)).withinLimits).toBe(false);
  });

  it('check 1-29 ((EU) 134/2014, seen in source): out of limits still gives the factor and the exact conditions', () => {
    const outcome = ambientRule('ISO 1585 spark').factor({ ambient: dryAir(84000, 303) });
    expect(outcome).toMatchObject({
      ok: true,
      value: { used: { pressure: 84000, temperature: 303 } },
      findings: [{ kind: 'ambient-out-of-limits', weight: 'doubt', numbers: { low: 0.93, high: 1.07 } }],
    });
  });
});

describe('ISO 1585 compression ignition', () => {
  it.each([
    { row: '1-15', charging: 'natural', fa: 1.04333, factor: 1.02839 },
    { row: '1-15', charging: 'mechanical', fa: 1.04333, factor: 1.02839 },
    { row: '1-16', charging: 'turbo', fa: 1.0476, factor: 1.03117 },
  ] as const)('check $row (fm seen, exponents from memory): $charging', ({ charging, fa, factor }) => {
    const engine: RuleEngine = { ignition: 'compression', charging, correctedFuel: 0.05 };
    const found = factorOf('ISO 1585 compression', dryAir(96000, 303), engine);
    near(found.factor, factor, 2e-5);
    near(found.used['atmosphericFactor'] ?? 0, fa, 2e-5);
    near(found.used['engineFactor'] ?? 0, 0.66, 1e-12);
  });

  it('check 1-17 (from memory / seen in source): both bands of the engine factor', () => {
    expect(engineFactor(0.0399)).toBe(0.3);
    expect(engineFactor(0.04)).toBeCloseTo(0.3, 12);
    expect(engineFactor(0.065)).toBeCloseTo(1.2, 12);
    expect(engineFactor(0.08)).toBe(1.2);
    expect(engineFactor(0.038, 'service manual')).toBeCloseTo(0.228, 12);
    expect(engineFactor(0.0372, 'service manual')).toBeCloseTo(0.1992, 12);
    expect(engineFactor(0.03, 'service manual')).toBe(0.2);
  });

  it('check 1-18 (rule seen in source; formulas and limits from memory): test validity of 40 CFR 89.331', () => {
    const air = { dryPressure: absolutePressure(97000), temperature: temperature(300) };
    near(testValidity({ ...air, turbocharged: false }).parameter, 1.02541, 2e-5);
    near(testValidity({ ...air, turbocharged: true }).parameter, 1.02462, 2e-5);
    expect(testValidity({ ...air, turbocharged: true }).valid).toBe(false);
    const reference = { dryPressure: absolutePressure(99000), temperature: temperature(298) };
    expect(testValidity({ ...reference, turbocharged: true })).toMatchObject({ parameter: 1, valid: true });
  });

  it('check 1-26 (service manual, seen): valid from 0.9 to 1.1', () => {
    expect(ambientRule('ISO 1585 compression').windows.factor).toMatchObject({ low: 0.9, high: 1.1 });
  });

  it('refuses without charging or fuel per cycle, and says which', () => {
    const rule = ambientRule('ISO 1585 compression');
    const missing = rule.factor({ ambient: dryAir(96000, 303), engine: { charging: 'turbo' } });
    expect(missing).toMatchObject({ refusal: { kind: 'missing-engine-fact' } });
    expect(JSON.stringify(missing)).toContain('corrected fuel per cycle');
  });

  it('fuel per cycle equals 120 000·(g/s)/(L·rpm)/r in mg/(L·cycle)', () => {
    const engineSpeed = toSi(3000, unitOf('rpm'));
    const found = correctedFuelPerCycle({ fuelFlow: 5e-3, displacement: 2e-3, engineSpeed, pressureRatio: 2 });
    near(found * 1000, (120000 * 5) / (2 * 3000) / 2, 1e-9);
    near(
      atmosphericFactor({ dryPressure: absolutePressure(99000), temperature: temperature(298), turbocharged: true }),
      1,
      0,
    );
  });
});

describe('older rules', () => {
  it.each([
    ['1-11', 101300, 20, 1.0],
    ['1-12', 98500, 28, 1.04237],
  ])('check %s (DIN 70020, form seen in a secondary source; total pressure from memory)', (...[, p, t, wanted]) => {
    near(factorOf('DIN 70020', dryAir(p, t + CELSIUS_ZERO)).factor, wanted, 2e-5);
    const damp = { ...dryAir(p, t + CELSIUS_ZERO), vapourPressure: absolutePressure(2000) };
    near(factorOf('DIN 70020', damp).factor, wanted, 2e-5);
  });

  it('check 1-13 (SAE J607, from memory; computed with numpy 2.4.6)', () => {
    const air = dryAir(toSi(28.9, unitOf('inHg')), toSi(80, unitOf('°F')));
    near(factorOf('SAE J607', air).factor, 1.05502, 2e-5);
  });

  it('check 1-14 (computed with numpy 2.4.6): J607 against J1349 for the same air', () => {
    const air = dryAir(toSi(28.9, unitOf('inHg')), toSi(80, unitOf('°F')));
    const j607 = factorOf('SAE J607', air).factor;
    const j1349 = factorOf('SAE J1349', air).factor;
    near(j607, 1.055, 2e-4);
    near(j1349, 1.017, 2e-4);
    near(j607 / j1349, 1.0374, 2e-4);
  });
});

describe('which engines a rule is for', () => {
  const air = dryAir(98000, 298);
  const boosted: RuleEngine = { ignition: 'spark', charging: 'turbo', boostControl: 'gauge' };

  it('check 1-19 (SAE J245 abstract, seen): turbocharged spark ignition is excluded', () => {
    expect(BOOST_STATEMENTS[0]).toMatchObject({ boostedSpark: 'excluded', text: expect.stringContaining('J245') });
    expect(factorOf('SAE J607', air, boosted)).toMatchObject({ suitsEngine: false, valid: false });
    expect(factorOf('SAE J607', air, { ...boosted, charging: 'natural' }).suitsEngine).toBe(true);
  });

  it('check 1-20 (common practice, no source): under absolute control only rules without a pressure term suit', () => {
    const engine: RuleEngine = { ...boosted, boostControl: 'absolute', correctedFuel: 0.05, ignition: 'spark' };
    const suited = AMBIENT_RULES.filter((rule) => {
      const outcome = rule.factor({
        ambient: air,
        engine: { ...engine, observedPower: power(1), frictionPower: power(0) },
      });
      return outcome.ok && outcome.value.suitsEngine;
    });
    expect(suited.map(({ id }) => id)).toEqual(['none', 'temperature only']);
  });

  it.each([
    { row: '1-21', id: 'ISO 1585 spark', status: 'scope seen' },
    { row: '1-23', id: 'SAE J1349', status: 'abstract seen' },
  ] as const)('check $row: $id claims boosted engines ($status)', ({ id }) => {
    expect(ambientRule(id).boost.boostedSpark).toBe('claimed');
    expect(factorOf(id, air, boosted).suitsEngine).toBe(true);
  });

  it('check 1-24 (committee annotation, seen): the caution is on the list', () => {
    expect(BOOST_STATEMENTS.filter(({ boostedSpark }) => boostedSpark === 'caution')).toHaveLength(1);
  });

  it('asks what the boost control holds when that is unknown, without calling the factor invalid', () => {
    const unknown: RuleEngine = { ignition: 'spark', charging: 'turbo' };
    const found = factorOf('ISO 1585 spark', air, unknown);
    expect(found.valid).toBe(true);
    expect(found.why).toHaveLength(1);
    expect(found.why[0]).toContain('unknown boost control');
    expect(factorOf('ISO 1585 spark', air, boosted).why).toEqual([]);
    expect(factorOf('temperature only', air, unknown).why).toEqual([]);
  });

  it('a spark rule does not suit a compression engine', () => {
    expect(factorOf('ISO 1585 spark', air, { ignition: 'compression' }).suitsEngine).toBe(false);
  });
});

describe('the pressure that counts', () => {
  it('check 1-22 (J1349 seen in a secondary source, others from memory): humidity acts through the dry pressure alone', () => {
    const damp = { ...dryAir(100000, 300), vapourPressure: absolutePressure(2500) };
    for (const id of ['SAE J1349', 'ISO 1585 spark', 'SAE J607'] as const) {
      near(factorOf(id, damp).factor, factorOf(id, dryAir(97500, 300)).factor, 1e-15);
    }
  });

  it('is refused without humidity where the rule counts dry air, not where it does not', () => {
    const ambient = { pressure: absolutePressure(99000), temperature: temperature(298) };
    expect(ambientRule('SAE J1349').factor({ ambient })).toMatchObject({ refusal: { kind: 'missing-humidity' } });
    for (const id of ['none', 'temperature only', 'DIN 70020'] as const) {
      expect(ambientRule(id).factor({ ambient }).ok).toBe(true);
    }
  });

  it('is refused for impossible air', () => {
    const rule = ambientRule('SAE J1349');
    expect(rule.factor({ ambient: dryAir(0, 298) })).toMatchObject({ refusal: { kind: 'invalid-ambient' } });
    expect(rule.factor({ ambient: dryAir(99000, Number.NaN) })).toMatchObject({ refusal: { kind: 'invalid-ambient' } });
    const flooded = { ...dryAir(99000, 298), vapourPressure: absolutePressure(99000) };
    expect(rule.factor({ ambient: flooded })).toMatchObject({ refusal: { numbers: { vapourPressure: 99000 } } });
  });
});

describe('all rules side by side', () => {
  const engine: RuleEngine = {
    charging: 'turbo',
    correctedFuel: 0.05,
    observedPower: power(300e3),
    frictionPower: power(40e3),
  };
  const ambient = { ...dryAir(97000, 301), vapourPressure: absolutePressure(1500) };

  it('lists every rule once, each with its factor', () => {
    const lines = ambientFactors({ ambient, engine });
    expect(lines.map(({ rule }) => rule.id)).toEqual(AMBIENT_RULES.map(({ id }) => id));
    expect(new Set(lines.map(({ rule }) => rule.id)).size).toBe(9);
    expect(lines.every(({ outcome }) => outcome.ok)).toBe(true);
  });

  it.each(AMBIENT_RULES)('$id gives 1 in its own reference air (identity)', (rule) => {
    const { pressure = absolutePressure(95000), temperature: T = temperature(300) } = rule.reference;
    const outcome = rule.factor({ ambient: dryAir(pressure, T), engine });
    near(outcome.ok ? outcome.value.factor : Number.NaN, 1, 6e-4);
  });

  it.each(AMBIENT_RULES)('$id grows with heat and falls with pressure, or does not move (identity)', (rule) => {
    const slopes = factorSensitivity(rule, { ambient, engine });
    if (!slopes.ok) throw new Error(slopes.refusal.message);
    const { pressure, temperature: heat, vapourPressure } = slopes.value;
    expect(pressure < 0).toBe(rule.pressureBasis !== 'none');
    expect(heat > 0).toBe(rule.id !== 'none');
    near(vapourPressure, rule.pressureBasis === 'dry' ? -pressure : 0, 1e-12);
  });

  it('sensitivities of ISO 1585 equal the derivative written out', () => {
    const slopes = factorSensitivity(ambientRule('ISO 1585 spark'), { ambient });
    const { factor } = factorOf('ISO 1585 spark', ambient);
    if (!slopes.ok) throw new Error(slopes.refusal.message);
    near(slopes.value.pressure / ((-1.2 * factor) / 95500), 1, 1e-6);
    near(slopes.value.temperature / ((0.6 * factor) / 301), 1, 1e-6);
  });

  it('states the uncertainty that the readings leave, as written out for ISO 1585', () => {
    const readings = {
      pressure: { value: 97000, standardUncertainty: 50 },
      temperature: { value: 301, standardUncertainty: 1 },
      vapourPressure: { value: 1500, standardUncertainty: 100 },
    };
    const found = measuredFactor(ambientRule('ISO 1585 spark'), readings);
    if (!found.ok) throw new Error(found.refusal.message);
    const { value, standardUncertainty } = found.value.measured;
    const wanted = value * Math.hypot((1.2 * 50) / 95500, (1.2 * 100) / 95500, 0.6 / 301);
    near(standardUncertainty / wanted, 1, 1e-6);
    const { vapourPressure: _, ...noHumidity } = readings;
    expect(measuredFactor(ambientRule('ISO 1585 spark'), noHumidity)).toMatchObject({ ok: false });
    expect(measuredFactor(ambientRule('DIN 70020'), noHumidity)).toMatchObject({ ok: true });
  });

  it('check 1-30 ((EU) 134/2014, seen in source): α1·α2·observed', () => {
    expect(correctedPower(200e3, { atmosphere: 1.02, transmission: 1 })).toBeCloseTo(204e3, 6);
    expect(correctedPower(200e3, { atmosphere: 1.02, transmission: 1.1 })).toBeCloseTo(224.4e3, 6);
  });

  it('refuses an unknown name', () => {
    // @ts-expect-error a name that is none of ours
    expect(() => ambientRule('unknown')).toThrow('unknown ambient rule: unknown');
  });
});
