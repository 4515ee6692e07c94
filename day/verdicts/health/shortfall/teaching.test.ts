import { expect, it } from 'vitest';
import { healthEntries } from '../entries.ts';
import { pullStates } from '../pull-state.ts';
import type { HealthFinding } from '../result.ts';
import { inventedDay, inventedLoss } from '../testing/invented-day.ts';
import { lossBefore } from './teaching.ts';

const day = healthEntries(
  inventedDay([
    { facts: { id: '1' }, pull: { rate: 20 } },
    { facts: { id: 'C1' }, losses: [inventedLoss([180, 3]), inventedLoss([300, 3], { clutch: 'in gear' })] },
    { facts: { id: '2' }, pull: { rate: 20 } },
    { facts: { id: 'C2', overruled: {} }, losses: [inventedLoss([260, 3])] },
    { facts: { id: '3' }, pull: { rate: 20 } },
  ]),
);
const risen: HealthFinding = {
  ...{ kind: 'coast-force-rise', subject: 'driveline', stopClass: 1, entry: 'C2' },
  ...{ rests: [], values: [], why: 'test', changed: [] },
};
const losses = (findings: readonly HealthFinding[]) =>
  pullStates(day).map((pull) => lossBefore(pull, findings, day)?.f0.value);

it('losses are those of the last coast-down with the clutch open before a pull', () => {
  expect(losses([])).toEqual([undefined, 180, 260]);
});

it('a coast-down whose force has risen says nothing of what a sound car loses, a mere note does', () => {
  expect(losses([risen])).toEqual([undefined, 180, 180]);
  expect(losses([{ ...risen, stopClass: 0 }])).toEqual([undefined, 180, 260]);
});
