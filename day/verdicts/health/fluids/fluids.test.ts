import { describe, expect, it } from 'vitest';
import type { Meaning } from '../../../channels/index.ts';
import type { Changes, Moment } from '../../testing/invented-pull.ts';
import { dayHealth } from '../day-health.ts';
import { healthEntries } from '../entries.ts';
import { pullStates } from '../pull-state.ts';
import { inventedDay, inventedTrack } from '../testing/invented-day.ts';
import { healthLimitsWith } from '../thresholds.ts';
import { exhaustHealth } from './exhaust.ts';
import { oilHealth } from './oil.ts';
import { coolantHealth, crankcaseHealth } from './pressures.ts';

const LIMITS = healthLimitsWith();

function day(changes: readonly Changes[], without: readonly Meaning[] = []) {
  const input = inventedDay(
    changes.map((change, i) => ({
      facts: { id: `${i + 1}`, clock: `10:${10 + i}` },
      pull: { rate: 20, seed: i + 1, change, without },
    })),
  );
  const entries = healthEntries(input);
  return { input, entries, pulls: pullStates(entries), limits: LIMITS };
}

const said = ({ findings }: { findings: readonly { entry: string; kind: string; stopClass: number }[] }) =>
  findings.map(({ entry, kind, stopClass }) => `${entry} ${kind} ${stopClass}`);
const oilBy = (factor: number, warmer = 0): Changes => ({
  'oil-pressure': (value) => value * factor,
  'oil-temperature': (value) => value + warmer,
});
const full =
  (add: number) =>
  (value: number, { full: loaded }: Moment) =>
    loaded ? value + add : value;

describe('oil pressure at equal speed and temperature', () => {
  it('is missing without its channel, and says so', () => {
    const { entries } = day([{}, {}], ['oil-pressure']);
    expect(oilHealth(entries, LIMITS).unknown[0]?.why).toBe('missing oil-pressure');
  });

  it.each([
    [1, []],
    [0.93, []],
    [0.87, ['4 oil-pressure-fall 0']],
    [0.81, ['4 oil-pressure-fall 2']],
    [0.7, ['4 oil-pressure-fall 3']],
    [1.3, []],
  ])('at %d of the usual gives %j', (factor, wanted) => {
    const { entries } = day([{}, {}, {}, oilBy(factor)]);
    expect(said(oilHealth(entries, LIMITS)).filter((one) => one.includes('fall'))).toEqual(wanted);
  });

  it('a spike of the sensor is nothing', () => {
    const spike: Changes = { 'oil-pressure': (value, { t }) => (t > 6 && t < 6.2 ? value - 40e3 : value) };
    expect(said(oilHealth(day([{}, {}, {}, spike]).entries, LIMITS))).toEqual([]);
  });

  it('hotter oil explains a lower pressure; at equal oil temperature the same pressure is a fall', () => {
    expect(said(oilHealth(day([{}, {}, {}, oilBy(0.85, 13)]).entries, LIMITS))).toEqual([]);
    expect(said(oilHealth(day([{}, {}, {}, oilBy(0.84)]).entries, LIMITS))).toEqual(['4 oil-pressure-fall 2']);
  });

  it('is only doubted where the sensor reads as much with the engine stopped', () => {
    const { input } = day([{}, {}, {}, oilBy(0.8)]);
    const stopped = [
      inventedTrack('engine-speed', 'engine-speed', [0, 16, 20, (t) => (t < 4 ? 0 : 200 + 30 * t)]),
      inventedTrack('oil-pressure', 'gauge-pressure', [
        0,
        16,
        20,
        (t) => (t < 4 ? -95e3 : 0.75 * (170e3 + 500 * (200 + 30 * t))),
      ]),
      inventedTrack('oil-temperature', 'temperature', [0, 16, 10, () => 375]),
    ];
    const last = inventedDay([{ facts: { id: '5', kind: 'coast-down' }, tracks: stopped }]);
    const both = {
      ...input,
      facts: { ...input.facts, entries: [...input.facts.entries, ...last.facts.entries] },
      opened: new Map([...input.opened, ...last.opened]),
      results: new Map([...input.results, ...last.results]),
    };
    const fall = oilHealth(healthEntries(both), LIMITS).findings.find(({ entry }) => entry === '5');
    expect(fall?.stopClass).toBe(1);
    expect(fall?.why).toContain('with the engine stopped');
  });

  it('too hot oil is class 1 from 130 °C and class 2 from 135 °C', () => {
    const hot = (kelvin: number): Changes => ({ 'oil-temperature': () => kelvin });
    const kinds = (kelvin: number) =>
      said(oilHealth(day([hot(kelvin), hot(kelvin)]).entries, LIMITS)).filter((one) => one.includes('hot'));
    expect(kinds(402)).toEqual([]);
    expect(kinds(405)).toEqual(['1 oil-too-hot 1', '2 oil-too-hot 1']);
    expect(kinds(410)).toEqual(['1 oil-too-hot 2', '2 oil-too-hot 2']);
  });
});

describe('other pressures and temperatures at equal state', () => {
  it('crankcase pressure risen by more than 1 kPa is a hold, by 0.8 kPa is none', () => {
    expect(said(crankcaseHealth(day([{}, {}, {}, { 'crankcase-pressure': full(1500) }])))).toEqual([
      '4 crankcase-pressure-rise 2',
    ]);
    expect(said(crankcaseHealth(day([{}, {}, {}, { 'crankcase-pressure': full(800) }])))).toEqual([]);
  });

  it('coolant pressure: a first rise holds, a second ends the day, warmer coolant explains it', () => {
    const lift: Changes = { 'coolant-pressure': full(34e3) };
    expect(said(coolantHealth(day([{}, {}, {}, lift, lift])))).toEqual([
      '4 coolant-pressure-rise 2',
      '5 coolant-pressure-rise 3',
    ]);
    const warm: Changes = { 'coolant-pressure': full(34e3), 'coolant-temperature': full(8) };
    expect(said(coolantHealth(day([{}, {}, {}, warm])))).toEqual([]);
    const gone: Changes = { 'coolant-pressure': (value) => 0.4 * value };
    expect(said(coolantHealth(day([{}, {}, {}, gone])))).toEqual(['4 coolant-pressure-lost 3']);
  });

  it('exhaust temperature that is missing is said to be', () => {
    expect(exhaustHealth(day([{}, {}], ['exhaust-temperature'])).unknown[0]?.why).toBe('missing channel');
  });

  it('an honest day of six pulls has no finding but says what nobody told it', () => {
    const { input } = day([{}, {}, {}, {}, {}, {}]);
    const health = dayHealth(input);
    expect(said(health)).toEqual([]);
    expect(health.stopClass).toBe(0);
    expect(health.unknown.map(({ what }) => what)).toContain('clean ignition, boost, mixture and contact');
    expect(health.readiness).toHaveLength(6);
  });

  it('an empty day has nothing and claims nothing', () => {
    const health = dayHealth(inventedDay([]));
    expect(health.findings).toEqual([]);
    expect(health.lines).toEqual([]);
    expect(health.unknown.map(({ what }) => what)).toContain('coast-down force');
  });
});
