import { describe, expect, it } from 'vitest';
import { measured } from '../../../../core/quantities/index.ts';
import type { Moment } from '../../testing/invented-pull.ts';
import { healthEntries } from '../entries.ts';
import { pullStates } from '../pull-state.ts';
import { type InventedEntry, inventedDay, inventedTrack } from '../testing/invented-day.ts';
import { healthLimitsWith } from '../thresholds.ts';
import { coolingDecay, waitUntil } from './decay.ts';
import { pullReadiness } from './gates.ts';

function cooling(tau: number, { floor = 300, from = 360, to = 600, step = 20, noise = 0 } = {}) {
  const times = Array.from({ length: Math.floor(to / step) + 1 }, (_, i) => i * step);
  return {
    times,
    temperatures: times.map((t, i) => floor + (from - floor) * Math.exp(-t / tau) + noise * Math.sin(7 * i)),
  };
}

const vague = measured(302, 4);

describe('decay of a temperature', () => {
  it('is not told where nothing falls', () => {
    const flat = coolingDecay({ stretches: [cooling(240, { from: 300.5 })], floor: vague, noise: 0.4 });
    expect('why' in flat && flat.why).toContain('no decay seen');
    expect('why' in coolingDecay({ stretches: [], floor: vague, noise: 0.4 })).toBe(true);
  });

  it('is not told from so short a stretch that any time fits', () => {
    const short = coolingDecay({
      stretches: [cooling(240, { to: 14, step: 2, noise: 0.4 })],
      floor: measured(320, 25),
      noise: 0.6,
    });
    expect('why' in short).toBe(true);
  });

  it('gives back its time and floor within two of its uncertainties', () => {
    const found = coolingDecay({ stretches: [cooling(240, { noise: 0.3 })], floor: vague, noise: 0.4 });
    if ('why' in found) throw new Error(found.why);
    expect(Math.abs(found.time.value - 240)).toBeLessThan(2 * found.time.standardUncertainty);
    expect(found.time.standardUncertainty).toBeLessThan(60);
    expect(Math.abs(found.floor.value - 300)).toBeLessThan(2 * found.floor.standardUncertainty);
  });

  it('uses pairs from the end of one record to the start of the next', () => {
    const pair = (minutes: number) => cooling(400, { to: 60 * minutes, step: 60 * minutes });
    const found = coolingDecay({ stretches: [pair(3), pair(8), pair(15)], floor: vague, noise: 0.4 });
    expect('why' in found ? 0 : found.time.value / 400).toBeCloseTo(1, 0);
  });

  it('tells the wait with its uncertainty, none when inside, and refuses a limit below the floor', () => {
    const found = coolingDecay({ stretches: [cooling(240)], floor: vague, noise: 0.4 });
    if ('why' in found) throw new Error(found.why);
    const wait = waitUntil(found, measured(345, 0.4), 320);
    const truth = 240 * Math.log(45 / 20);
    if ('why' in wait) throw new Error(wait.why);
    expect(Math.abs(wait.value - truth)).toBeLessThan(Math.max(10, 2 * wait.standardUncertainty));
    expect(waitUntil(found, measured(310, 0.4), 320)).toEqual({ value: 0, standardUncertainty: 0 });
    expect('why' in waitUntil(found, measured(345, 0.4), 299)).toBe(true);
  });
});

/** A pull whose record begins at this oil and charge temperature [K]. */
function pull(id: string, clock: string, { oil = 370, charge = 310 } = {}): InventedEntry {
  const change = {
    'oil-temperature': (_: number, { t }: Moment) => oil + 0.2 * Math.max(0, t),
    'charge-temperature': () => charge,
  };
  return { facts: { id, clock }, pull: { rate: 20, change } };
}

function readiness(entries: readonly InventedEntry[]) {
  const all = healthEntries(inventedDay(entries));
  return pullReadiness(pullStates(all), all, healthLimitsWith());
}

describe('readiness of a pull', () => {
  it('is given with what is inside, what is out, and what has no channel', () => {
    const found = readiness([pull('1', '10:00'), pull('2', '10:15'), pull('3', '10:30', { oil: 382 })]);
    expect(found[0]).toMatchObject({ ready: true, sincePull: undefined });
    expect(found[1]?.sincePull).toBe(900);
    const out = found[2]?.gates.filter((gate) => gate.out);
    expect(out?.map(({ channel, out: way }) => `${channel} ${way}`)).toEqual([
      'oil-temperature too hot',
      'oil-temperature too hot',
    ]);
    expect(out?.[0]?.why).toContain('cannot tell the wait');
    expect(found[0]?.unknown).toEqual(['gearbox-temperature', 'tyre-temperature']);
  });

  it('says that a cold fluid has to be driven warm', () => {
    const found = readiness([pull('1', '10:00', { oil: 340 })]);
    expect(found[0]?.gates.find(({ out }) => out === 'too cold')?.why).toContain('driven warm');
  });

  it('estimates the wait where the channel was seen to cool by itself', () => {
    const long = inventedTrack('oil-temperature', 'temperature', [0, 900, 1, (t) => 350 + 45 * Math.exp(-t / 500)]);
    const idle: InventedEntry = { facts: { id: 'idle', kind: 'note', clock: '10:40' } };
    const cooled: InventedEntry = { facts: { id: 'cool', kind: 'coast-down', clock: '10:41' }, tracks: [long] };
    const found = readiness([
      pull('1', '10:00'),
      pull('2', '10:15'),
      pull('3', '10:30'),
      idle,
      cooled,
      pull('4', '11:10', { oil: 390 }),
    ]);
    const gate = found[3]?.gates.find(({ out }) => out === 'too hot');
    const truth = 500 * Math.log((390 - 350) / (378.15 - 350));
    expect(gate?.wait?.standardUncertainty).toBeGreaterThan(0);
    expect(Math.abs((gate?.wait?.value ?? Number.NaN) - truth)).toBeLessThan(
      3 * (gate?.wait?.standardUncertainty ?? 0) + 20,
    );
  });
});
