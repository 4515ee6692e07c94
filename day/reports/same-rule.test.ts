import { expect, test } from 'vitest';
import type { AmbientRuleName, EntryResult, PowerCurve } from '../pulls/index.ts';
import { type RuledEntry, sameRule } from './same-rule.ts';

const NONE = new Float64Array();
const CURVE: PowerCurve = {
  axis: 'engine-speed',
  ...{ engineSpeed: NONE, time: NONE, rollSpeed: NONE, brakePower: NONE, rollInertiaPower: NONE, rollPower: NONE },
  ...{ slip: NONE, tyrePower: NONE, rollingLossPower: NONE, wheelInertiaPower: NONE, torqueLossPower: NONE },
  ...{ engineInertiaPower: NONE, enginePower: NONE, correctedPower: NONE, rollPowerUncertainty: NONE },
  ...{ tyrePowerUncertainty: NONE, enginePowerUncertainty: NONE, valid: new Uint8Array(), missing: [] },
  ...{ factor: 1, rule: 'none', bandwidth: 1.5, peakBias: 0 },
};
const LINE = { rule: 'none', factor: 1, standardUncertainty: 0, valid: true, why: '' } as const;
const SEGMENT = {
  kind: 'full-load',
  ...{ from: 0, to: 1, fromTime: 0, toTime: 1, lowSpeed: 0, highSpeed: 1, reason: '' },
} as const;

/** An entry whose pulls stand under these rules. */
function entry(id: string, rules: readonly AmbientRuleName[], refused = false): RuledEntry {
  const refusal = refused ? { refusal: { kind: 'rate-too-low', message: '' } } : {};
  const result: EntryResult = {
    id,
    alignment: undefined,
    segments: [],
    conditions: {
      ...{ temperature: undefined, pressure: undefined, vapourPressure: undefined, factors: [], findings: [] },
      origin: { temperature: '', pressure: '', humidity: '' },
      chosen: LINE,
    },
    pulls: rules.map((rule) => ({
      segment: SEGMENT,
      curve: { ...CURVE, rule },
      ...{ peaks: [], budget: [], findings: [] },
      ...refusal,
    })),
    losses: [],
    findings: [],
  };
  return { facts: { id, kind: 'pull', files: [], settings: {} }, result };
}

test('no entry at all, and entries without a pull, stand under none', () => {
  expect(sameRule([])).toMatchObject({ ok: true, value: 'none' });
  expect(sameRule([entry('C1', []), { facts: entry('x', []).facts, result: undefined }])).toMatchObject({
    ok: true,
    value: 'none',
  });
});

test('entries under one rule stand under it', () => {
  const entries = [entry('1', ['SAE J1349']), entry('C1', []), entry('2', ['SAE J1349', 'SAE J1349'])];
  expect(sameRule(entries)).toMatchObject({ ok: true, value: 'SAE J1349' });
});

test('a rule beside none is mixed, and the refusal names both with their entries', () => {
  const mixed = sameRule([entry('1', ['none']), entry('2', ['SAE J1349']), entry('3', ['none'])]);
  expect(mixed).toMatchObject({
    ok: false,
    refusal: { kind: 'mixed-rules', numbers: { rules: 'none, SAE J1349', entries: '1, 3, 2' } },
  });
  expect(!mixed.ok && mixed.refusal.message).toContain('none (1, 3); SAE J1349 (2)');
});

test('two rules are mixed also inside one entry; a refused pull has no rule', () => {
  expect(sameRule([entry('1', ['DIN 70020', 'SAE J607'])]).ok).toBe(false);
  expect(sameRule([entry('1', ['DIN 70020']), entry('2', ['SAE J607'], true)])).toMatchObject({ value: 'DIN 70020' });
});
