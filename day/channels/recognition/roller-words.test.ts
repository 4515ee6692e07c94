import { describe, expect, it } from 'vitest';
import type { Proposal } from '../mapping.ts';
import { exampleTable } from './example-table.ts';
import { proposeMapping } from './propose.ts';

const ROWS = 400;
const rising = (from: number, to: number) => Array.from({ length: ROWS }, (_, i) => from + ((to - from) * i) / ROWS);
const SAMPLES: Readonly<Record<string, readonly number[]>> = {
  time: Array.from({ length: ROWS }, (_, i) => i / 50),
  speed: rising(20.3, 66.7),
  wheel: rising(20.9, 68.1),
  load: rising(120.5, 815.25),
  air: rising(77.4, 77.6),
  steady: rising(28.6, 28.61),
  humidity: rising(41, 41.2),
  counter: Array.from({ length: ROWS }, (_, i) => i),
  backward: Array.from({ length: ROWS }, (_, i) => (ROWS - i) / 50),
};

function proposals(columns: readonly (readonly [name: string, samples: string])[]): readonly Proposal[] {
  return proposeMapping(exampleTable(columns.map(([name, key]) => ({ name, samples: SAMPLES[key] ?? [] }))));
}

describe('a load', () => {
  it('in a unit of force is a force, and the speed beside it the roll’s', () => {
    const [, speed, load] = proposals([
      ['Time [s]', 'time'],
      ['Speed (mph)', 'speed'],
      ['Load (lbf)', 'load'],
    ]);
    expect([speed?.meaning, speed?.unit, speed?.question]).toEqual(['roll-speed', 'mph', undefined]);
    expect([load?.meaning, load?.alternatives[0]?.meaning]).toEqual(['brake-force', 'tractive-force']);
    expect(load?.question).toContain('brake force');
  });
  it('in percent is none', () => {
    const [, load] = proposals([
      ['Time [s]', 'time'],
      ['Load (%)', 'humidity'],
    ]);
    expect(load?.meaning).not.toMatch(/force/);
  });
});

describe('a wheel speed', () => {
  it('that is the only speed beside a force is asked, with the roll’s on offer', () => {
    const [, speed] = proposals([
      ['Time [s]', 'time'],
      ['wheel speed (km/h)', 'speed'],
      ['wheel force (N)', 'load'],
    ]);
    expect(speed?.question).toContain('roll surface speed');
    expect(speed?.alternatives.map(({ meaning }) => meaning)).toContain('roll-speed');
  });
  it('beside a roll speed, or of one wheel of several, is not', () => {
    const [, , wheel] = proposals([
      ['Time [s]', 'time'],
      ['roll speed (km/h)', 'speed'],
      ['wheel speed (km/h)', 'wheel'],
      ['brake force (N)', 'load'],
    ]);
    expect([wheel?.meaning, wheel?.question]).toEqual(['wheel-speed', undefined]);
    const [, left] = proposals([
      ['Time [s]', 'time'],
      ['wheel speed front left (km/h)', 'speed'],
      ['wheel force (N)', 'load'],
    ]);
    expect([left?.meaning, left?.question]).toEqual(['wheel-speed', undefined]);
  });
});

describe('the temperature of air', () => {
  const roller = [
    ['Roll RPM', 'load'],
    ['Baro (inHg)', 'steady'],
    ['Humidity', 'humidity'],
  ] as const;
  it.each(['Air Temp (F)', 'Lufttemperatur [°F]'])('"%s" in a roller’s file is ambient', (name) => {
    const found = proposals([['Time [s]', 'time'], ...roller, [name, 'air']]).at(-1);
    expect([found?.meaning, found?.question]).toEqual(['ambient-temperature', undefined]);
  });
  it('in an engine’s file is asked', () => {
    const found = proposals([
      ['Time [s]', 'time'],
      ['Engine RPM', 'load'],
      ['Throttle [%]', 'humidity'],
      ['Air Temp (F)', 'air'],
    ]).at(-1);
    expect(found?.question).toBeDefined();
  });
});

describe('rows counted one by one', () => {
  it('are a row counter whatever the letter means elsewhere', () => {
    const [n] = proposals([
      ['n', 'counter'],
      ['roll speed [km/h]', 'speed'],
    ]);
    expect(n?.meaning).toBe('row-counter');
    expect(n?.question).toContain('how many rows per second');
  });
  it('are not asked beside a time', () => {
    const [, n] = proposals([
      ['time [s]', 'time'],
      ['n', 'counter'],
    ]);
    expect([n?.meaning, n?.question]).toEqual(['row-counter', undefined]);
  });
  it('are not seen in an n that does not count', () => {
    const [, n] = proposals([
      ['time [s]', 'time'],
      ['n [rpm]', 'load'],
    ]);
    expect(n?.meaning).toBe('engine-speed');
  });
});

describe('a time that is none', () => {
  it('says that it runs backward', () =>
    expect(proposals([['time [s]', 'backward']])[0]?.reason).toBe('time runs backward in 399 of 399 steps'));
  it('says that there is only one row', () => {
    const [only] = proposeMapping(exampleTable([{ name: 'time [s]', samples: [0] }]));
    expect(only?.reason).toBe('only one row has a time');
  });
});
