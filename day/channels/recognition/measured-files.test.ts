import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Proposal } from '../mapping.ts';
import { readDelimited } from '../readers/delimited.ts';
import { proposeMapping } from './propose.ts';

const DATA = new URL('../../../../shared/data/', import.meta.url);

function proposalsOf(path: string): readonly Proposal[] {
  const read = readDelimited({ bytes: new Uint8Array(readFileSync(new URL(path, DATA))), file: path, source: '0' });
  if (!read.ok) throw new Error(read.refusal.message);
  return proposeMapping(read.value);
}

function summary(path: string): readonly string[] {
  return proposalsOf(path).map(({ meaning, unit, question }) => `${meaning} ${unit}${question ? ' ?' : ''}`);
}

describe.skipIf(!existsSync(DATA))('measured files (absent: skipped)', () => {
  it('a roller log with units in the header: all ten columns, no boost', () => {
    expect(summary('chassis-dyno-turbodiesel/61410007.tsv')).toEqual([
      ...['time s', 'roll-speed mph', 'tractive-force N', 'ambient-temperature °C', 'relative-humidity %', 'unknown 1'],
      ...['engine-speed rpm', 'fuel-flow g/s', 'coolant-temperature °C', 'oil-temperature °C'],
    ]);
  });
  it('an on-board diagnostics log with units glued to the names', () => {
    const expected = [
      ...['time s', 'coolant-temperature °C', 'manifold-pressure kPa', 'engine-speed rpm', 'vehicle-speed km/h'],
      ...['charge-temperature °C', 'air-flow g/s', 'throttle %', 'ambient-temperature °C', 'pedal %', 'pedal %'],
    ];
    expect(summary('obd-turbo-road/free-road-accelerations.csv')).toEqual(expected);
    expect(
      proposalsOf('obd-turbo-road/free-road-accelerations.csv')
        .slice(-2)
        .map(({ position }) => position),
    ).toEqual(['D', 'E']);
  });
  it('speed and engine speed alone', () => {
    expect(summary('regulation-vehicles-full-load/speed-rpm-1.csv')).toEqual([
      'vehicle-speed km/h',
      'engine-speed rpm',
    ]);
  });
  it('standardised bench data: nothing physical', () => {
    for (const file of ['gengine1-run10.csv', 'gengine2-run01.csv', 'steady-engine1.csv']) {
      const kinds = new Set(summary(`gasoline-engine-bench-standardised/${file}`));
      expect([file, ...kinds]).toEqual([file, 'unknown 1']);
    }
  });
  it('weather: what is no quantity of the day stays unnamed', () => {
    const proposals = proposalsOf('hourly-weather/EWR.csv');
    const used = proposals.filter(
      ({ question, meaning }) => question === undefined && meaning !== 'unknown' && meaning !== 'text',
    );
    expect(used.map(({ column, meaning, unit }) => `${column} ${meaning} ${unit}`)).toEqual([
      'dewp dew-point °F',
      'humid relative-humidity %',
    ]);
  });
});
