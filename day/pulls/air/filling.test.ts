import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { airMassFlow } from '../../../core/physics/index.ts';
import {
  absolutePressure,
  angularSpeed,
  ratio,
  temperature,
  toSi,
  unitOf,
  volume,
} from '../../../core/quantities/index.ts';
import { readDay } from '../../../scenarios/testing/read-day.ts';
import type { Channel, Meaning } from '../../channels/index.ts';
import { joinRecords, sameClock } from '../../channels/index.ts';
import type { EntryReport } from '../../reports/index.ts';
import type { JoinedRecord } from '../record.ts';
import { fillingCheck, fillingFindings, fillingPoints } from './filling.ts';

const RPM = toSi(1, unitOf('rpm'));

interface Signals {
  readonly flow: (t: number) => number;
  readonly pressure: (t: number) => number;
  readonly speed: (t: number) => number;
  readonly pedal?: (t: number) => number;
}

/** A 10 Hz record of 20 s with all channels on one clock; gap: seconds missing after the tenth. */
function record({ flow, pressure, speed, pedal }: Signals, gap = 0): JoinedRecord {
  const times = Float64Array.from({ length: 200 }, (_, i) => i / 10 + (i >= 100 ? gap : 0));
  const channel = (meaning: Meaning, of: (t: number) => number): Channel => ({
    name: meaning,
    meaning,
    kind: 'ratio',
    samples: times.map(of),
    mask: new Uint8Array(times.length),
    refreshRate: 10,
    origin: 'measured',
  });
  const channels = [
    channel('air-flow', flow),
    channel('manifold-pressure', pressure),
    channel('engine-speed', speed),
    channel('charge-temperature', () => 313.15),
    ...(pedal ? [channel('pedal', pedal)] : []),
  ];
  const clock = { name: 'a', times, pieces: [{ from: 0, to: times.length }] };
  const recording = { source: '', file: 'a.csv', clock, channels, findings: [] };
  return joinRecords({ roller: recording, alignment: sameClock(recording) });
}

/** Flow of an engine that swallows 1.5 L a cycle at 313.15 K. */
const swallows = (pressure: number, speed: number, litres = 1.5): number =>
  airMassFlow({
    ...{ volumetricEfficiency: ratio(1), displacement: volume(litres / 1000), chargeTemperature: temperature(313.15) },
    ...{ manifoldPressure: absolutePressure(pressure), engineSpeed: angularSpeed(speed) },
  });
const rising = (t: number): number => (2000 + 50 * t) * RPM;
const STEADY = { pressure: () => 220e3, speed: rising, flow: (t: number) => swallows(220e3, rising(t)) };

// 120 g/s at 228 kPa, 40 °C and 3 600 rpm: 30 cycles a second, 4.000 g each; 228e3/(287.05·313.15) = 2.5364 kg/m³; 1.577 L.
test('the volume a cycle agrees with a hand calculation', () => {
  const speed = 3600 * RPM;
  const [point] = fillingPoints(record({ flow: () => 0.12, pressure: () => 228e3, speed: () => speed }));
  expect((point?.volume.value ?? 0) * 1000).toBeCloseTo(1.577, 3);
});

test('it is speed-density turned round: what the engine of airMassFlow swallows comes back', () => {
  const points = fillingPoints(record(STEADY));
  expect(points.length).toBeGreaterThan(100);
  for (const { volume: found } of points) expect(found.value * 1000).toBeCloseTo(1.5, 6);
});

test('a standing engine, no flow and a flow of zero give no point and never throw', () => {
  expect(fillingPoints(record({ ...STEADY, flow: () => 0 }))).toEqual([]);
  expect(fillingPoints(record({ ...STEADY, speed: () => 0 }))).toEqual([]);
  expect(fillingPoints(record({ ...STEADY, flow: () => Number.NaN }))).toEqual([]);
  expect(fillingPoints(record({ ...STEADY, flow: (t) => (t < 5 ? 0 : STEADY.flow(t)) })).length).toBeGreaterThan(50);
});

test('while the pressure moves, what fills the pipes makes a point less certain', () => {
  const pressure = (t: number): number => (t < 10 ? 220e3 : 120e3 + 10e3 * (t - 10));
  const points = fillingPoints(record({ ...STEADY, pressure, flow: (t) => swallows(pressure(t), rising(t)) }));
  const spread = (from: number, to: number): number =>
    Math.max(
      ...points
        .filter(({ time }) => time > from && time < to)
        .map(({ volume: found }) => found.standardUncertainty / found.value),
    );
  expect(spread(1, 9)).toBeLessThan(0.036);
  expect(spread(12, 18)).toBeGreaterThan(0.03 + 0.005);
});

test('nothing is interpolated over half a minute without rows', () => {
  const pressure = (t: number): number => (t < 20 ? 220e3 : 110e3);
  const points = fillingPoints(record({ ...STEADY, pressure, flow: (t) => swallows(pressure(t), rising(t)) }, 30));
  for (const { time, volume: found } of points) {
    expect(time < 10 || time >= 40).toBe(true);
    expect(found.value * 1000).toBeCloseTo(1.5, 6);
  }
});

test('flow and pressure that belong together are said to agree, and the volume is near 1.5 L', () => {
  const check = fillingCheck(record(STEADY));
  expect(check?.within).toBe(1);
  expect((check?.volume.value ?? 0) * 1000).toBeCloseTo(1.5, 2);
  expect(fillingFindings(record(STEADY))[0]).toMatchObject({ kind: 'filling', weight: 'note' });
});

test('a leak that comes and goes at full load is a doubt', () => {
  const flow = (t: number): number => STEADY.flow(t) * (t % 4 < 2 ? 1 : 1.35);
  expect(fillingFindings(record({ ...STEADY, flow }))[0]).toMatchObject({ kind: 'filling', weight: 'doubt' });
});

test('at a lifted pedal recirculated exhaust does not count as disagreement', () => {
  const pedal = (t: number): number => (t < 12 ? 0.9 : 0.15);
  const flow = (t: number): number => STEADY.flow(t) * (t < 12 ? 1 : 0.7);
  expect(fillingCheck(record({ ...STEADY, flow, pedal }))?.within).toBe(1);
});

test('without an air flow meter nothing is said', () => {
  const { tracks, ...rest } = record(STEADY);
  const without = { ...rest, tracks: tracks.filter(({ channel }) => channel.meaning !== 'air-flow') };
  expect(fillingFindings(without)).toEqual([]);
});

const FIXTURE = fileURLToPath(new URL('./fixtures/obd-road/accelerations-trimmed.csv', import.meta.url));
const FOLDER = fileURLToPath(new URL('../../../../shared/data/obd-turbo-road/', import.meta.url));
const absent = existsSync(FOLDER) ? '' : ' (skipped: the measured road logs in ../shared/data are absent)';

/** The whole chain on one road log as the only entry of a day. */
function analysed(path: string): { report: EntryReport; refresh: readonly number[] } {
  const text = 'knurl: 1\ntitle: Road\nentries:\n  - id: "1"\n    kind: pull\n    files: [road.csv]\n';
  const seen = readDay({
    files: [
      { name: 'day.yaml', bytes: new TextEncoder().encode(text) },
      { name: 'road.csv', bytes: readFileSync(path) },
    ],
  });
  const [report] = seen.report.entries;
  if (!report) throw new Error('no entry');
  const channels = seen.logs.recordings.get('road.csv')?.channels ?? [];
  return { report, refresh: channels.map(({ refreshRate }) => refreshRate) };
}

function check(report: EntryReport): { within: number; litres: number; weight: string } {
  const finding = report.result?.findings.find(({ kind }) => kind === 'filling');
  return {
    within: Number(finding?.numbers?.['within']),
    litres: 1000 * Number(finding?.numbers?.['volume']),
    weight: finding?.weight ?? 'none',
  };
}

describe('a measured road log of on-board diagnostics', () => {
  const { report, refresh } = analysed(FIXTURE);

  test('every channel is renewed about once a second, and found so', () => {
    expect(refresh.length).toBe(10);
    for (const rate of refresh) expect(rate).toBeGreaterThan(0.7);
    for (const rate of refresh) expect(rate).toBeLessThan(1.4);
  });

  test('no power is claimed, and the reason is given', () => {
    expect(report.result?.pulls).toEqual([]);
    expect(report.result?.refusal?.kind).toMatch(/missing-roll-speed|rate-too-low/);
    expect(report.sentence).toMatch(/^No answer: .*(roll speed|renewed)/);
  });

  test('speed-density agrees with the air flow meter at high load', () => {
    const found = check(report);
    expect(found.weight).toBe('note');
    expect(found.within).toBeGreaterThan(0.9);
    expect(found.litres).toBeGreaterThan(1.4);
    expect(found.litres).toBeLessThan(1.6);
  });
});

// About 95 of 100 points within two standard uncertainties; the smaller files have about 20 points.
describe.skipIf(absent !== '')(`whole measured drives that reach full boost${absent}`, () => {
  test.each([
    ['free-road-accelerations.csv', 0.9],
    ['free-road-full-braking.csv', 0.9],
    ['normal-1.csv', 0.93],
  ])('%s', (name, least) => {
    const { report } = analysed(FOLDER + name);
    expect(report.result?.refusal).toBeDefined();
    expect(check(report).within).toBeGreaterThanOrEqual(least);
    expect(check(report).litres).toBeCloseTo(1.5, 1);
  });

  test.each([['dense-traffic-1.csv'], ['free-road-1.csv']])(
    '%s never holds full boost: exhaust is recirculated, and the two ways are said not to agree',
    (name) => {
      const { report } = analysed(FOLDER + name);
      expect(report.result?.refusal).toBeDefined();
      expect(check(report).weight).toBe('doubt');
    },
  );
});
