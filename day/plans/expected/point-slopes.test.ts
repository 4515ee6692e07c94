import { expect, it } from 'vitest';
import { numbersOf } from '../model/numbers.ts';
import { parametersOf } from '../model/parameters.ts';
import { priorModel } from '../model/prior-model.ts';
import { type Linearised, pointSlopes } from './point-slopes.ts';
import { pullPoints } from './pull-points.ts';
import { madeDay } from './testing/invented-pulls.ts';

const { facts, pulls } = madeDay([{ pressure: 190e3, phase: 5 }]);
const model = priorModel(facts);
const parameters = parametersOf(model.values);
const numbers = numbersOf({ values: model.values, parameters: [] });
const parts = { engine: model.engine, gas: model.gas, map: undefined, boosted: true };
const at = (moved: Readonly<Record<string, number>> = {}): Linearised => {
  const all = { ...numbers, ...moved };
  return { parts, parameters, numbers: all, key: JSON.stringify(all) };
};
const [pull] = pulls;
const asked = pull && pullPoints(pull, { lossOf: () => undefined }, model.habits);
const points = asked && 'points' in asked ? asked.points : [];

it.each([
  'filling at 62 % of redline',
  'filling at 86 % of redline',
  'phaseEffect',
  'phaseSlope',
  'workByPressure',
  'friction',
  'heatLoss',
])('the slope by %s is what moving it does to torque', (name) => {
  const spread = parameters.find((one) => one.name === name)?.spread ?? Number.NaN;
  const step = 0.2;
  const [base, up, down] = [0, step, -step].map((z) =>
    pointSlopes({ at: at({ [name]: numbers[name] + z * spread }), points }, undefined),
  );
  expect(points).toHaveLength(7);
  let largest = 0;
  points.forEach((_, i) => {
    const difference = ((up[i]?.logTorque ?? 0) - (down[i]?.logTorque ?? 0)) / (2 * step);
    expect(Math.abs((base[i]?.slopes.get(name) ?? 0) - difference)).toBeLessThan(2e-4 + 0.05 * Math.abs(difference));
    largest = Math.max(largest, Math.abs(difference));
  });
  expect(largest).toBeGreaterThan(1e-3);
});

it('torque at the crank is that of the chain, and goes back to the same power at the rolls', () => {
  const cell = pull?.cells.find(({ step }) => step === points[2]?.step);
  expect(points[2]?.torque).toBeCloseTo(
    (pull?.pull.curve.enginePower[(points[2]?.step ?? 0) - 15] ?? 0) / (points[2]?.speed ?? 1),
    6,
  );
  expect(points[2]?.atRolls(points[2].torque)).toBeCloseTo(cell?.power ?? 0, 4);
});
