import { expect, test } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import type { LossFit } from '../result.ts';
import { type DayCoast, lossModel } from './loss-model.ts';

function coast(
  entry: string,
  clock: number,
  options: { f0: number; block?: number; clutch?: LossFit['clutch'] },
): DayCoast {
  const segment = {
    kind: 'coast-down' as const,
    from: 0,
    to: 1,
    fromTime: 0,
    toTime: 60,
    lowSpeed: 15,
    highSpeed: 54,
    reason: 'test',
  };
  const fit: LossFit = {
    segment,
    clutch: options.clutch ?? 'open',
    f0: measured(options.f0, 4),
    f1: measured(3, 0.1),
    f2: measured(0, 0),
    middle: { speed: 34, force: measured(options.f0 + 102, 2) },
    mass: measured(474, 5),
    residual: 5,
    findings: [],
  };
  return { entry, clock, block: options.block ?? 0, fit };
}

test('between two coast-downs the loss is linear in time and half their difference joins the uncertainty', () => {
  const model = lossModel([coast('C1', 0, { f0: 180 }), coast('C2', 1000, { f0: 200 })], 250, 0);
  expect(model?.force(34)).toBeCloseTo(287, 6);
  expect(model?.spread(34)).toBeCloseTo(Math.hypot(2, 10 / Math.sqrt(3)), 6);
});

test('after the last coast-down the last one counts, and a coast in gear never does', () => {
  const model = lossModel([coast('C1', 0, { f0: 180 }), coast('C2', 500, { f0: 900, clutch: 'in gear' })], 600, 0);
  expect(model?.force(34)).toBeCloseTo(282, 6);
  expect(model?.origin).toBe('coast-down C1');
});

test('a coast-down of the same block goes before a nearer one from before a refit', () => {
  const coasts = [coast('C1', 900, { f0: 300, block: 0 }), coast('C2', 2000, { f0: 180, block: 1 })];
  expect(lossModel(coasts, 1000, 1)?.force(34)).toBeCloseTo(282, 6);
});

test('without one in the block the neighbours across the refit are used, with a finding', () => {
  const model = lossModel([coast('C1', 0, { f0: 180, block: 0 })], 1000, 1);
  expect(model?.force(34)).toBeCloseTo(282, 6);
  expect(model?.findings.map(({ kind }) => kind)).toEqual(['loss-across-change']);
});

test('no coast-down, no loss', () => {
  expect(lossModel([], 0, 0)).toBeUndefined();
});

test('a drift of 5.1 % is mentioned, one of 4.9 % is not', () => {
  const drift = (share: number): number | undefined =>
    lossModel([coast('C1', 0, { f0: 180 }), coast('C2', 1000, { f0: 180 + share * 283.5 })], 500, 0)?.findings.length;
  expect(drift(0.051)).toBe(1);
  expect(drift(0.049)).toBe(0);
});
