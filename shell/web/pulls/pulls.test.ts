import { describe, expect, test } from 'vitest';
import type { CurveView, TraceLine } from '../../contract/index.ts';
import { encodeCurve } from '../../server/encode/curve.ts';
import { smallCurve } from '../../server/testing/small-curve.ts';
import { FIRST_PREFERENCES } from '../look/preferences.ts';
import { writingFor } from '../look/writing.ts';
import { chainLines, highestAt } from './chain.ts';
import { powerFigure, torqueFigure } from './curve-figure.ts';
import { againstSpeed, traceRows, valueAt } from './traces.ts';

const writing = writingFor(FIRST_PREFERENCES);
const imperial = writingFor({ ...FIRST_PREFERENCES, units: { ...FIRST_PREFERENCES.units, power: 'imperial' } });
const curve: CurveView = encodeCurve(smallCurve({ void: [20, 30] }));
const blank: CurveView = encodeCurve(smallCurve({ void: [0, 90] }));

describe('the chain at a point', () => {
  test('pieces join end to start, and each sum ends where its power does', () => {
    const lines = chainLines(curve, 50);
    const [brake, rolls, roll] = lines;
    expect(brake?.from).toBe(0);
    expect(rolls?.from).toBeCloseTo(brake?.to ?? -1, 9);
    expect(roll?.to).toBeCloseTo(rolls?.to ?? -1, 9);
    expect(lines.find(({ label }) => label === 'engine power')?.to).toBe(1);
  });

  test('where everything is missing every line says so and nothing is drawn', () => {
    const lines = chainLines(curve, 25).filter(({ role }) => role !== 'factor');
    expect(lines.every(({ value, to }) => value === null && to === 0)).toBe(true);
  });

  test('without a rule there is no corrected line', () => {
    expect(chainLines(curve, 50).some(({ label }) => label === 'corrected')).toBe(false);
  });
});

test.each([
  [[], undefined],
  [[null], undefined],
  [[null, -2, -1], 2],
])('highest of %o is at %s', (values, at) => {
  expect(highestAt(values)).toBe(at);
});

describe('the figures', () => {
  test('what is not usable is hatched between its neighbours', () => {
    const { hatches, lines } = powerFigure(curve, writing);
    expect(hatches).toHaveLength(1);
    expect(hatches[0]?.from).toBeGreaterThan(3800);
    expect(lines.map(({ label }) => label)).toEqual(['engine ±2u', 'wheel', 'roll, as measured ±2u']);
  });

  test('a band is two standard uncertainties wide on each side, in the unit shown', () => {
    const [line] = powerFigure(curve, imperial).lines;
    // 1 hp = 745.699872 W (NIST SP 811, B.8)
    expect(line?.spread?.[0]).toBeCloseTo((2 * Number(curve.enginePowerUncertainty[0])) / 745.699872, 4);
  });

  test('a curve without a single value has no lines', () => {
    expect(powerFigure(blank, writing).lines).toEqual([]);
    expect(torqueFigure(blank, writing).lines).toEqual([]);
  });
});

const trace = (id: string, more: Partial<TraceLine>): TraceLine => ({
  id,
  name: id,
  title: id,
  meaning: id,
  subject: 'fuel',
  kind: 'ratio',
  origin: 'measured',
  file: 'a.csv',
  refreshRate: 10,
  count: 3,
  times: [0, 1, 2],
  values: [1, null, 3],
  ...more,
});

test('a target shares the row of its value; unknown columns stand alone', () => {
  const traces = ['lambda', 'lambda-target', 'dwell', 'unknown', 'unknown'].map((meaning, at) =>
    trace(String(at), { meaning }),
  );
  expect(traceRows(traces).map((row) => row.traces.length)).toEqual([2, 1, 1, 1]);
});

describe('a trace against engine speed', () => {
  const path = { time: [0, 2], speed: [100, 300] };
  test('takes the speed at each sample’s time and keeps missing samples missing', () => {
    const { x, y } = againstSpeed(trace('a', {}), path, writing);
    // 100, 200, 300 rad/s in rpm
    expect(x.map((value) => Math.round(value ?? 0))).toEqual([955, 1910, 2865]);
    expect(y).toEqual([1, null, 3]);
  });
  test('has nothing outside the pull and nothing across a hole in the path', () => {
    expect(againstSpeed(trace('a', { times: [-1, 5, 6] }), path, writing).x).toEqual([]);
    expect(againstSpeed(trace('a', {}), { time: [0, null], speed: [100, null] }, writing).x).toHaveLength(1);
    const holed = { time: [0, 0.5, null, 1.9, 2.1], speed: [100, 110, null, 180, 200] };
    expect(againstSpeed(trace('a', {}), holed, writing).y).toEqual([1, 3]);
  });
});

test.each([
  [-1, null],
  [0.4, 1],
  [0.9, null],
  [1.2, null],
  [2, 3],
])('value at %d s is %s', (time, value) => {
  expect(valueAt(trace('a', {}), time)).toBe(value);
});
