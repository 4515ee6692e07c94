import { expect, test } from 'vitest';
import type { Table } from '../table.ts';
import { exampleTable } from './example-table.ts';
import { proposeMapping } from './propose.ts';

/** A ramp to 50 m/s and a roll-out: what the roller's cell reads is the brake's force or the whole force. */
function run(force: (t: number) => number): readonly number[] {
  return Array.from({ length: 1000 }, (_, i) => force(i / 50) + 3 * Math.sin(i * 1.7));
}
const speed = Array.from({ length: 1000 }, (_, i) => {
  const t = i / 50;
  return 3.6 * (t < 10 ? 15 + 3.5 * t : 50 - 2 * (t - 10));
});
const time = Array.from({ length: 1000 }, (_, i) => i / 50);

function table(rows: number, force: readonly number[]): Table {
  return exampleTable([
    { name: 'time_s', samples: time.slice(0, rows) },
    { name: 'roll_speed_kmh', samples: speed.slice(0, rows) },
    { name: 'force_N', samples: force.slice(0, rows) },
  ]);
}

function meaningOf(force: readonly number[]): { meaning: string; asked: boolean } {
  const found = proposeMapping(table(1000, force)).find(({ column }) => column === 'force_N');
  return { meaning: found?.meaning ?? '', asked: found?.question !== undefined };
}

test('a force that reads nothing while the rolls slow down is the brake’s', () => {
  expect(meaningOf(run((t) => (t < 10 ? 3000 : 0)))).toEqual({ meaning: 'brake-force', asked: false });
});

test('a force that is clearly negative while the rolls slow down is the whole force', () => {
  expect(meaningOf(run((t) => (t < 10 ? 4500 : -900)))).toEqual({ meaning: 'tractive-force', asked: false });
});

test('a run in which the rolls never slow down leaves it open', () => {
  expect(
    proposeMapping(
      table(
        450,
        run(() => 3000),
      ),
    ).find(({ column }) => column === 'force_N')?.question,
  ).toBeDefined();
});

test('a run in which the force never does anything leaves it open', () => {
  expect(meaningOf(run(() => -5)).asked).toBe(true);
});
