import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Channel, REASONS } from '../channel.ts';
import type { ColumnMapping } from '../mapping.ts';
import { readDelimited } from '../readers/delimited.ts';
import { decide } from '../recognition/decide.ts';
import { type ExampleColumn, exampleTable } from '../recognition/example-table.ts';
import { proposeMapping } from '../recognition/propose.ts';
import { type RecordingInput, toRecording } from './recording.ts';

const ROWS = 500;

function ramp(make: (i: number) => number, rows = ROWS): Float64Array {
  return Float64Array.from({ length: rows }, (_, i) => make(i));
}

function decided(column: string, meaning: ColumnMapping['meaning'], unit: string): ColumnMapping {
  return { column, meaning, unit, confirmed: true };
}

function made(
  columns: readonly ExampleColumn[],
  mapping: readonly ColumnMapping[],
  more: Partial<RecordingInput> = {},
) {
  const outcome = toRecording({ table: exampleTable(columns), mapping, ...more });
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value;
}

const rpm = { name: 'rpm', samples: ramp((i) => 2000 + 8 * i + (i % 3)) };
const rpmMapping = decided('rpm', 'engine-speed', 'rpm');
const timeMapping = decided('t', 'time', 's');

function timed(times: ArrayLike<number>) {
  const cut = { name: 'rpm', samples: rpm.samples.slice(0, times.length) };
  return made([{ name: 't', samples: times }, cut], [timeMapping, rpmMapping]);
}

function kinds(recording: { findings: readonly { kind: string }[] }): readonly string[] {
  return recording.findings.map(({ kind }) => kind);
}

describe('the clock of a recording', () => {
  it('is refused when nothing counts time', () => {
    const outcome = toRecording({ table: exampleTable([rpm]), mapping: [rpmMapping] });
    expect(outcome).toMatchObject({ ok: false, refusal: { kind: 'missing-time' } });
  });
  it('is refused with the reason when the column of time is none', () => {
    const refusal = (samples: readonly number[]) => {
      const column = { name: 'time [s]', samples };
      const outcome = toRecording({ table: exampleTable([column]), mapping: [] });
      return outcome.ok ? '' : outcome.refusal.message;
    };
    expect(refusal([3, 2, 1])).toContain('"time [s]": time runs backward in 2 of 2 steps');
    expect(refusal([3])).toContain('"time [s]": only one row has a time');
    expect(refusal([1, 2, 3])).toContain('no column counts it');
  });
  it('counts from the first row where its zero is further away than an hour, and remembers what it showed there', () => {
    const ofDay = timed(ramp((i) => 46_502.98 + 0.02 * i));
    expect(ofDay.clock.times[0]).toBe(0);
    expect(ofDay.clock.times[100]).toBeCloseTo(2, 9);
    expect(ofDay.clock.started).toEqual({ value: 46_502.98, resolution: 0 });
    const near = timed(ramp((i) => 3_600 + 0.02 * i));
    expect(near.clock.times[0]).toBe(3_600);
    expect(near.clock.started).toEqual({ value: 0, resolution: 0 });
  });
  it('is refused for a row rate that is not above zero', () => {
    const outcome = toRecording({ table: exampleTable([rpm]), mapping: [rpmMapping], rowsPerSecond: 0 });
    expect(outcome).toMatchObject({ ok: false, refusal: { kind: 'invalid-row-rate' } });
  });
  it('is the row number at a given rate, and says so', () => {
    const recording = made([rpm], [rpmMapping], { rowsPerSecond: 50 });
    expect([recording.clock.times[50], kinds(recording)]).toEqual([1, ['time-from-rows']]);
  });
  it('is one piece without findings when the steps are even', () => {
    const recording = timed(ramp((i) => i * 0.02));
    expect([recording.clock.pieces, recording.findings]).toEqual([[{ from: 0, to: ROWS }], []]);
  });
  it('splits at 0.84 s without rows and says from where', () => {
    const recording = timed(ramp((i) => i * 0.02 + (i >= 200 ? 0.84 : 0)));
    expect(recording.clock.pieces).toEqual([
      { from: 0, to: 200 },
      { from: 200, to: ROWS },
    ]);
    expect(recording.findings[0]).toMatchObject({ kind: 'gap', numbers: { jump: expect.closeTo(0.86, 6) } });
  });
  it('does not split at a step of 2.9 median steps and does at 3.1', () => {
    const at = (step: number) => timed(ramp((i) => i * 0.02 + (i >= 200 ? (step - 1) * 0.02 : 0))).clock.pieces.length;
    expect([at(2.9), at(3.1)]).toEqual([1, 2]);
  });
  it('does not cut an uneven clock to pieces', () => {
    const steps = ramp((i) => 0.06 + (0.1 * ((i * 7919) % 13)) / 13);
    let time = 0;
    const recording = timed(
      steps.map((step) => {
        time += step;
        return time;
      }),
    );
    expect(recording.clock.pieces).toHaveLength(1);
  });
  it('splits where the clock was set back an hour, and names the hour', () => {
    const recording = timed(ramp((i) => 40_000 + i * 0.02 - (i >= 300 ? 3600 : 0)));
    expect(recording.clock.pieces).toHaveLength(2);
    expect(recording.findings[0]).toMatchObject({
      kind: 'time-backward',
      message: expect.stringContaining('set by -60 min'),
    });
  });
  it('leaves out a row with a stamp written twice, and a stray stamp', () => {
    const twice = timed(ramp((i) => (i >= 100 ? i - 1 : i) * 0.02));
    expect([twice.clock.times.length, kinds(twice)]).toEqual([ROWS - 1, ['time-repeated']]);
    const stray = timed(ramp((i) => (i === 100 ? 1.93 : i * 0.02)));
    expect([stray.clock.times.length, kinds(stray)]).toEqual([ROWS - 1, ['time-stray']]);
  });
  it('spreads rows between stamps of whole seconds', () => {
    const recording = timed(ramp((i) => Math.floor(i / 10)));
    expect([recording.clock.times[5], kinds(recording)]).toEqual([0.5, ['time-coarse']]);
    expect(recording.findings[0].place).toEqual({ file: 'example.csv' });
  });
  it('writes times without the tail of binary fractions', () => {
    const recording = timed(ramp((i) => 0.1 * Math.floor(i / 4) + 1e-15 * (i % 3)).map((t) => t + 1000));
    for (const { message } of recording.findings) expect(message).not.toMatch(/\d\.\d{7}/);
    expect(recording.findings[0].message).toContain('steps of 0.1 s');
  });
  it('carries on over the end of a 16 bit counter of ms', () => {
    const samples = ramp((i) => (60_000 + i * 20) % 65_536);
    const recording = made([{ name: 't', samples }, rpm], [decided('t', 'time', 'ms'), rpmMapping]);
    expect(recording.clock.pieces).toHaveLength(1);
    expect(recording.clock.times.at(-1)).toBeCloseTo(60 + 499 * 0.02, 9);
    expect(kinds(recording)).toEqual(['time-wrap']);
  });
  it('does not take a fall in the middle of a counter for its end', () => {
    const recording = timed(ramp((i) => (i < 250 ? 50_000 + i * 20 : (i - 250) * 20)));
    expect(kinds(recording)).toEqual(['time-backward']);
  });
  it('always rises inside a piece, whatever the stamps', () => {
    let seed = 5;
    const random = () => {
      seed = (seed * 16807) % 2147483647;
      return seed / 2147483647;
    };
    for (let run = 0; run < 50; run++) {
      let time = 0;
      const times = ramp(() => {
        time += random() < 0.03 ? -random() : random() < 0.03 ? 0 : 0.02;
        return random() < 0.02 ? Number.NaN : time;
      });
      const { clock } = timed(times);
      for (const { from, to } of clock.pieces) {
        for (let i = from + 1; i < to; i++) expect(clock.times[i]).toBeGreaterThan(clock.times[i - 1]);
      }
    }
  });
});

describe('the channels of a recording', () => {
  const time = { name: 't', samples: ramp((i) => i * 0.02) };
  it('are in SI, divided where a divisor is named', () => {
    const afr = { name: 'AFR', samples: ramp(() => 14.7) };
    const { channels } = made(
      [time, rpm, afr],
      [timeMapping, rpmMapping, { ...decided('AFR', 'lambda', '1'), divisor: 14.7 }],
    );
    expect([channels[0].samples[0], channels[1].samples[0]]).toEqual([expect.closeTo((2000 * Math.PI) / 30, 9), 1]);
  });
  it('keep a missing cell as NaN with its reason', () => {
    const samples = ramp((i) => (i === 7 ? Number.NaN : i === 8 ? Number.POSITIVE_INFINITY : 90));
    const { channels } = made([time, { name: 'x', samples }], [timeMapping, decided('x', 'coolant-temperature', '°C')]);
    expect([channels[0].samples[7], channels[0].mask[7], channels[0].mask[8]]).toEqual([
      Number.NaN,
      REASONS.empty,
      REASONS.unreadable,
    ]);
  });
  it('keep a column nobody decided, unnamed, with a note', () => {
    const recording = made([time, rpm], [timeMapping]);
    expect([recording.channels[0].meaning, kinds(recording)]).toEqual(['unknown', ['undecided-column']]);
  });
  it('are moved by the barometer when they count from the other zero, or not used without one', () => {
    const back = { name: 'p3', samples: ramp(() => 50) };
    const mapping = [timeMapping, { ...decided('p3', 'exhaust-pressure', 'kPa'), zero: 'ambient' as const }];
    expect(made([time, back], mapping, { barometricPressure: 85e3 }).channels[0].samples[0]).toBe(135e3);
    const without = made([time, back], mapping);
    expect([without.channels[0].meaning, kinds(without)]).toEqual(['unknown', ['missing-barometer']]);
  });
  it('do not touch the table they came from', () => {
    const table = exampleTable([time, rpm]);
    const before = Float64Array.from(table.columns[1].samples);
    toRecording({ table, mapping: [timeMapping, rpmMapping] });
    expect(table.columns[1].samples).toEqual(before);
  });
});

describe('the refresh rate', () => {
  const time = { name: 't', samples: ramp((i) => i * 0.01, 2000) };
  const rate = (samples: Float64Array) =>
    made([time, { name: 'x', samples }], [timeMapping, decided('x', 'charge-temperature', '°C')]).channels[0]
      .refreshRate;
  it('is the row rate for a value that moves every row', () =>
    expect(rate(ramp((i) => Math.sin(i), 2000))).toBeCloseTo(100, 0));
  it('is 10 Hz for a value held ten rows of 100 Hz', () =>
    expect(rate(ramp((i) => Math.sin(Math.floor(i / 10)), 2000))).toBeCloseTo(10, 0));
  it('is the row rate for a value that hardly ever changes', () =>
    expect(rate(ramp((i) => (i < 1000 ? 20 : 21), 2000))).toBeCloseTo(100, 0));
});

const ROAD = new URL('../../../../shared/data/obd-turbo-road/free-road-accelerations.csv', import.meta.url);

describe.skipIf(!existsSync(ROAD))('a staggered road log (absent: skipped)', () => {
  it('renews each channel about once a second though it writes eleven rows', () => {
    const read = readDelimited({ bytes: new Uint8Array(readFileSync(ROAD)), file: 'road.csv', source: '0' });
    if (!read.ok) throw new Error(read.refusal.message);
    const outcome = toRecording({ table: read.value, mapping: decide(proposeMapping(read.value)).mapping });
    if (!outcome.ok) throw new Error(outcome.refusal.message);
    const rates = outcome.value.channels.map(({ refreshRate }: Channel) => refreshRate);
    expect(rates).toHaveLength(10);
    for (const each of rates) {
      expect(each).toBeGreaterThan(0.8);
      expect(each).toBeLessThan(1.3);
    }
  });
});
