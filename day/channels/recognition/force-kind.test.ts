import { describe, expect, it, test } from 'vitest';
import type { Proposal } from '../mapping.ts';
import { type ExampleColumn, exampleTable } from './example-table.ts';
import { proposeMapping } from './propose.ts';

const STEP = 0.02;
const MASS = 450;

interface Run {
  readonly time: readonly number[];
  /** m/s */
  readonly speed: readonly number[];
  /** m/s² */
  readonly acceleration: readonly number[];
}

/** An invented ramp of 3.5 m/s² for 10 s, then 15 s of rolling out against the given drag over mass [m/s²]. */
function run(drag: (speed: number) => number): Run {
  let speed = 15;
  const rows = Array.from({ length: 1250 }, (_, i) => {
    const acceleration = i < 500 ? 3.5 : -drag(speed);
    speed += acceleration * STEP;
    return { time: i * STEP, speed, acceleration };
  });
  return {
    time: rows.map(({ time }) => time),
    speed: rows.map((row) => row.speed),
    acceleration: rows.map((row) => row.acceleration),
  };
}

const gentle = run((v) => 0.1 + 0.0003 * v ** 2);
const hard = run(() => 2);
const noise = (i: number) => 8 * Math.sin(i * 1.7) + 5 * Math.sin(i * 0.93);

/** What a cell reads: the brake alone, or with what accelerates the rolls. */
const brake = ({ time }: Run) => time.map((t, i) => (t < 10 ? 3000 : 0) + noise(i));
const whole = (one: Run) => brake(one).map((force, i) => force + MASS * one.acceleration[i]);
const off = ({ time }: Run): ExampleColumn => ({ name: 'brake [%]', samples: time.map((t) => (t < 10 ? 30 : 0)) });

function proposal(one: Run, force: readonly number[], more: readonly ExampleColumn[] = []): Proposal | undefined {
  const table = exampleTable([
    { name: 'time_s', samples: one.time },
    { name: 'roll_speed_kmh', samples: one.speed.map((v) => 3.6 * v) },
    { name: 'force_N', samples: force },
    ...more,
  ]);
  return proposeMapping(table).find(({ column }) => column === 'force_N');
}

const asked = (found: Proposal | undefined) => found?.question !== undefined;

describe('a whole force', () => {
  it('is mass times deceleration while the rolls slow down, even at a few hundredths of its top', () => {
    const found = proposal(gentle, whole(gentle));
    expect([found?.meaning, asked(found)]).toEqual(['tractive-force', false]);
    expect(found?.reason).toContain('follows 450 kg');
  });
  it('is seen beside a brake setting, too', () => {
    expect(proposal(gentle, whole(gentle), [off(gentle)])).toMatchObject({ meaning: 'tractive-force' });
  });
  it('is asked when what it reads does not follow the deceleration', () => {
    const shifted = brake(gentle).map((force) => force - 180);
    expect(asked(proposal(gentle, shifted))).toBe(true);
  });
  it('is asked when deceleration never changes', () => expect(asked(proposal(hard, whole(hard)))).toBe(true));
});

describe('a brake force', () => {
  it('reads nothing while the rolls slow down hard', () => {
    const found = proposal(hard, brake(hard));
    expect([found?.meaning, asked(found)]).toEqual(['brake-force', false]);
  });
  it('reads nothing with its setting at zero; without a setting a gentle roll-out proves nothing', () => {
    expect(asked(proposal(gentle, brake(gentle), [off(gentle)]))).toBe(false);
    expect(asked(proposal(gentle, brake(gentle)))).toBe(true);
  });
  it('may have a zero that is off, as long as the zero does not care how the rolls move', () => {
    const drifted = brake(gentle).map((force) => force - 45);
    expect(proposal(gentle, drifted, [off(gentle)])).toMatchObject({ meaning: 'brake-force' });
    expect(asked(proposal(gentle, drifted, [off(gentle)]))).toBe(false);
    expect(asked(proposal(gentle, drifted))).toBe(true);
  });
  it('is asked when the brake slows the rolls down', () => {
    const braking = brake(hard).map((force, i) => (hard.time[i] < 10 ? force : 800 + noise(i)));
    expect(asked(proposal(hard, braking))).toBe(true);
  });
});

test('a run in which the rolls never slow down leaves it open', () => {
  const short = { time: gentle.time.slice(0, 450), speed: gentle.speed.slice(0, 450), acceleration: [] };
  expect(asked(proposal(short, brake(gentle).slice(0, 450)))).toBe(true);
});

test('a run in which the force never does anything leaves it open', () => {
  expect(
    asked(
      proposal(
        hard,
        hard.time.map((_, i) => -5 + noise(i)),
      ),
    ),
  ).toBe(true);
});

describe('the sign of a force', () => {
  const named = (force: readonly number[]) =>
    proposeMapping(
      exampleTable([
        { name: 'time_s', samples: gentle.time },
        { name: 'roll_speed_kmh', samples: gentle.speed.map((v) => 3.6 * v) },
        { name: 'brake force [N]', samples: force },
      ]),
    )[2];
  it('is asked when the force is negative in all of the driving, and turning it is offered', () => {
    const proposal = named(brake(gentle).map((force) => -force));
    expect(proposal?.question).toContain('is its sign turned round');
    expect(proposal?.alternatives[0]).toMatchObject({ meaning: 'brake-force', unit: 'N', divisor: -1 });
  });
  it('is not asked of a force that is negative only while the rolls slow down', () =>
    expect(named(whole(gentle))?.question).toBeUndefined());
  it('is not asked of a brake that stays off', () =>
    expect(named(gentle.time.map((_, i) => noise(i)))?.question).toBeUndefined());
});
