import type { FastifyInstance } from 'fastify';
import { afterAll, afterEach, beforeEach, describe, expect, test } from 'vitest';
import { THRESHOLDS } from '../../day/verdicts/index.ts';
import {
  type CoverageView,
  coverageView,
  dayView,
  entryView,
  gateView,
  healthView,
  thresholdsView,
  tracesView,
  trialView,
} from '../contract/index.ts';
import { buildServer } from './build-server.ts';
import { HELD_FACTS } from './testing/small-day.ts';
import { type SmallDesk, smallDesk } from './testing/small-desk.ts';

const OVERSHOOT = THRESHOLDS['boost-overshoot.pressure'].value;
const faults: unknown[] = [];
let desk: SmallDesk;
let app: FastifyInstance;

beforeEach(async () => {
  desk = smallDesk(HELD_FACTS);
  app = await buildServer({ desk, fault: (error) => faults.push(error) });
});
afterEach(() => app.close());
afterAll(() => expect(faults).toEqual([]));

const ask = (url: string) => app.inject({ method: 'GET', url, headers: { host: 'localhost:1' } });
const tell = (method: 'PUT' | 'PATCH' | 'POST', url: string, payload: object) =>
  app.inject({ method, url, payload, headers: { host: 'localhost:1' } });
const entryOf = async (id: string) => entryView.parse((await ask(`/days/plateau/entries/${id}`)).json());
const overrule = (entry: string, overruled: object) => tell('PATCH', `/days/plateau/entries/${entry}`, { overruled });

describe('the verdict of a pull', () => {
  test('names cause, runner-up, evidence, features with their limits, the separating questions and the next check', async () => {
    const [verdict] = (await entryOf('pull-2')).verdicts;
    expect(verdict?.validity).toBe('valid in windows');
    expect(verdict?.stop).toMatchObject({ class: 1, word: 'repeat' });
    const [spark, boost] = verdict?.occurrences ?? [];
    expect(spark?.hypotheses.map(({ fault, chance }) => `${fault} ${chance}`)).toEqual([
      'ignition-breakup 92 %',
      'spark-energy 6 %',
    ]);
    expect(spark?.hypotheses[0]?.evidence.map(({ weight }) => weight > 0)).toEqual([true, true, false]);
    expect(spark?.hypotheses[0]?.features[0]).toMatchObject({ value: 0.081, threshold: 0.02, settable: true });
    expect(spark?.hypotheses[0]?.features[2]?.settable).toBe(false);
    expect(spark?.separation.map(({ known }) => known)).toEqual([true, true, false]);
    expect(spark?.separation[2]?.missing).toEqual(['lambda']);
    expect(spark?.next?.parts).toHaveLength(2);
    expect(spark?.channels.slice(0, 2)).toEqual(['brake-force', 'lambda']);
    expect(boost?.guides[0]).toMatchObject({
      meaning: 'manifold-pressure',
      of: 'manifold-target',
      times: 1,
      add: OVERSHOOT,
    });
    expect(verdict?.untold.map(({ fault, missing }) => `${fault}: ${missing.join(', ')}`)).toEqual([
      'oil-pressure-low: oil pressure, oil temperature',
      'turbo-overspeed: ',
    ]);
    expect(verdict?.unseen.map(({ fault }) => fault)).toEqual(['boost-oscillation', 'clutch-slip']);
  });

  test('a hold of the newest pull stands on the day, its mark and the gate; a repeat does not stand in the way', async () => {
    const day = dayView.parse((await ask('/days/plateau')).json());
    expect(day.stop).toMatchObject({ entry: 'pull-held', stop: { class: 2 } });
    expect(day.entries.flatMap(({ id, stop }) => (stop ? `${id} ${stop.class}` : []))).toEqual([
      'pull-2 1',
      'pull-6 1',
      'pull-held 2',
    ]);
    expect(gateView.parse((await ask('/days/plateau/gate')).json()).stop?.stop.class).toBe(2);
    const other = await buildServer({ desk: smallDesk(), fault: (error) => faults.push(error) });
    const calm = await other.inject({ method: 'GET', url: '/days/plateau', headers: { host: 'localhost:1' } });
    expect(dayView.parse(calm.json()).stop).toBeUndefined();
    await other.close();
  });
});

describe('overruling', () => {
  test('keeps the reason, lifts the hold, and is undone', async () => {
    const answer = await overrule('pull-held', { 'head-lift': 'cap was loose, tightened and checked' });
    const view = entryView.parse(answer.json());
    expect(view.verdicts[0]?.occurrences[0]?.overruled).toBe('cap was loose, tightened and checked');
    expect(view.verdicts[0]?.stop.class).toBe(0);
    expect(dayView.parse((await ask('/days/plateau')).json()).stop).toBeUndefined();
    await tell('POST', '/days/plateau/undo', {});
    expect((await entryOf('pull-held')).verdicts[0]?.stop.class).toBe(2);
  });

  test('one cause after the other; null accepts one again and leaves the other', async () => {
    await overrule('pull-2', { 'ignition-breakup': 'known plug' });
    await overrule('pull-2', { 'boost-overshoot': 'meant' });
    await overrule('pull-2', { 'ignition-breakup': null });
    const facts = desk.facts('plateau');
    const entry = facts.ok ? facts.value.entries.find(({ id }) => id === 'pull-2') : undefined;
    expect(entry?.overruled).toEqual({ 'boost-overshoot': 'meant' });
    await overrule('pull-2', { 'boost-overshoot': null });
    const after = desk.facts('plateau');
    expect(after.ok && after.value.entries.find(({ id }) => id === 'pull-2')).not.toHaveProperty('overruled');
  });

  test('asks for a reason and for a fault that it knows', async () => {
    expect((await overrule('pull-2', { 'ignition-breakup': '  ' })).statusCode).toBe(400);
    const unknown = await overrule('pull-2', { gremlins: 'seen' });
    expect(unknown.statusCode).toBe(422);
    expect(unknown.json().refusal.message).toBe('unknown fault: gremlins');
  });
});

describe('thresholds', () => {
  const url = '/days/plateau/thresholds';
  const lines = async () => thresholdsView.parse((await ask(url)).json()).thresholds;
  const lineOf = async (name: string) => (await lines()).find((line) => line.name === name);

  test('each has a value in force, ours, a source, and a text that can be sent back as it is', async () => {
    const all = await lines();
    expect(all.length).toBeGreaterThan(60);
    expect(all.filter(({ source }) => source === '')).toEqual([]);
    const texts = Object.fromEntries(all.filter(({ text }) => text !== '').map(({ name, text }) => [name, text]));
    expect((await tell('PUT', url, { texts })).statusCode).toBe(200);
    for (const before of all) {
      const after = await lineOf(before.name);
      // Texts leave out what changes a number by less than 0.02 %.
      if (before.value !== undefined)
        expect(Math.abs(Number(after?.value) / before.value - 1), before.name).toBeLessThan(2.1e-4);
    }
  });

  test('a value of the day goes before one of the engine, and null goes back', async () => {
    const name = 'boost-overshoot.pressure';
    await tell('PUT', url, { scope: 'engine', texts: { [name]: '12 kPa' } });
    await tell('PUT', url, { texts: { [name]: '1.5 psi' } });
    const both = await lineOf(name);
    expect(both?.value).toBeCloseTo(10342, 0);
    expect(both?.usual).toBe(`${OVERSHOOT / 1e3} kPa`);
    expect(both?.set).toEqual([
      { scope: 'day', written: '1.5 psi' },
      { scope: 'engine', written: '12 kPa' },
    ]);
    await tell('PUT', url, { texts: { [name]: null } });
    expect((await lineOf(name))?.value).toBeCloseTo(12e3, 6);
    await tell('PUT', url, { scope: 'engine', texts: { [name]: '' } });
    expect(await lineOf(name)).toMatchObject({ value: OVERSHOOT, set: [] });
    const facts = desk.facts('plateau');
    expect(facts.ok && facts.value).not.toHaveProperty('engineThresholds');
  });

  test.each([
    ['boost-overshoot.pressure', '12,5 kPa', 'no comma'],
    ['boost-overshoot.pressure', '12', 'with its unit'],
    ['boost-overshoot.pressure', '12 rpm', 'with its unit'],
    ['boost-overshoot.pressure', '-1 kPa', 'zero or more'],
    ['boost-overshoot.pressure', '8 ± 1 kPa', 'without an uncertainty'],
    ['lean.departure', 'NaN', 'a number'],
    ['no-such.threshold', '1', 'unknown threshold'],
    ['__proto__', '1', 'unknown threshold'],
  ])('%s = %s is refused with words, and nothing changes', async (name, text, words) => {
    const answer = await tell('PUT', url, {
      texts: JSON.parse(`{"lean.shortest":"1 s",${JSON.stringify(name)}:${JSON.stringify(text)}}`),
    });
    expect([400, 422]).toContain(answer.statusCode);
    if (answer.statusCode === 422) expect(answer.json().fields[0].message).toContain(words);
    expect((await lineOf('lean.shortest'))?.set).toEqual([]);
  });

  test.each(['3 °C', '3 K', '3 C', '5.4 °F'])('a difference of temperature is written as %s', async (text) => {
    expect((await tell('PUT', url, { texts: { 'heat-soak.start': text } })).statusCode).toBe(200);
    expect((await lineOf('heat-soak.start'))?.value).toBeCloseTo(3, 9);
  });

  test('a trial says what would go, and keeps nothing', async () => {
    const trial = async (set: string) =>
      trialView.parse((await ask(`/days/plateau/entries/pull-2/trial?set=${encodeURIComponent(set)}`)).json());
    const same = await trial('roughness.share=3 %');
    expect(same.pulls[0]).toMatchObject({ appears: [], vanishes: [], moved: [] });
    const [pull] = (await trial('roughness.share=20 %')).pulls;
    expect(pull?.vanishes).toHaveLength(1);
    expect(pull?.vanishes[0]?.sentence).toContain('spark breakup');
    expect(pull?.after).toMatchObject({ validity: 'valid', stop: { class: 0 } });
    expect((await lineOf('roughness.share'))?.set).toEqual([]);
    const bad = await ask('/days/plateau/entries/pull-2/trial?set=roughness.share%3D12,5');
    expect(bad.statusCode).toBe(422);
    expect(bad.json().refusal.message).toContain('12,5');
    expect((await ask('/days/plateau/entries/pull-2/trial')).statusCode).toBe(400);
  });
});

describe('health of the day', () => {
  test('lines with their bands, findings with what they rest on, gates with the wait', async () => {
    const health = healthView.parse((await ask('/days/plateau/health')).json());
    const [first, second] = health.lines;
    expect(first?.left).toMatchObject({ entry: 'pull-6', worse: true });
    expect(first?.high).toHaveLength(4);
    expect(second).toMatchObject({ verdict: 'not enough', high: [] });
    expect(health.findings[0]).toMatchObject({ title: 'coast force rise', stop: { word: 'repeat' } });
    expect(health.readiness[0]?.gates[0]).toMatchObject({
      channel: 'oil temperature',
      out: 'too hot',
      wait: { value: 353 },
    });
    expect(health.readiness[0]?.unknown).toEqual(['tyre temperature']);
    expect((await ask('/days/none/health')).statusCode).toBe(404);
  });

  test('a finding is overruled under its name, at its entry; a name of nothing is refused', async () => {
    const health = healthView.parse((await ask('/days/plateau/health')).json());
    const { name = '', entry = '' } = health.findings[0] ?? {};
    expect(name).toBe('health.coast-force-rise');
    expect((await overrule(entry, { [name]: 'brake freed' })).statusCode).toBe(200);
    expect((await overrule(entry, { 'health.bad-luck': 'no' })).json()).toMatchObject({
      refusal: { kind: 'unknown-fault' },
    });
  });

  test('its limits stand among the others and are set like them', async () => {
    const limits = async () => thresholdsView.parse((await ask('/days/plateau/thresholds')).json()).thresholds;
    const line = (await limits()).find(({ name }) => name === 'health.coast.hold');
    expect(line).toMatchObject({ subject: 'health of the day', usual: '20 %', set: [] });
    expect(line?.title).toBe('coast-down force risen, hold');
    const body = { scope: 'engine', texts: { 'health.coast.hold': '25 %' } };
    expect((await tell('PUT', '/days/plateau/thresholds', body)).statusCode).toBe(200);
    const later = (await limits()).find(({ name }) => name === 'health.coast.hold');
    expect(later).toMatchObject({ set: [{ scope: 'engine', written: '25 %' }] });
  });
});

describe('coverage', () => {
  const coverage = async (query: string) => coverageView.parse((await ask(`/days/plateau/coverage${query}`)).json());
  const rowOf = ({ rows }: CoverageView, fault: string) => rows.find((row) => row.fault === fault);

  test('is that of the newest log, or of the channels that were named', async () => {
    const now = await coverage('');
    const ticked = now.channels.filter((channel) => channel.ticked).map(({ meaning }) => meaning);
    expect(ticked).toContain('lambda');
    expect(ticked).not.toContain('oil-pressure');
    expect(rowOf(now, 'oil-pressure-low')).toMatchObject({
      reach: 'blind',
      lacking: [{ channel: 'oil pressure', adds: 'an answer' }],
    });
    const more = await coverage(`?channels=${[...ticked, 'oil-pressure'].join(',')}`);
    expect(rowOf(more, 'oil-pressure-low')?.reach).not.toBe('blind');
    expect(more.channels.find(({ meaning }) => meaning === 'oil-pressure')).toMatchObject({
      logged: false,
      ticked: true,
    });
  });

  test('of no channel is blind throughout; an unknown one is refused', async () => {
    expect((await coverage('?channels=')).rows.every(({ reach }) => reach === 'blind')).toBe(true);
    const answer = await ask('/days/plateau/coverage?channels=lambda,flux');
    expect(answer.statusCode).toBe(400);
    expect(answer.json().refusal.message).toBe('unknown channel: flux');
  });
});

describe('traces of what speaks', () => {
  test('come in the order of asking; the ratio of the speeds is steady where nothing slips', async () => {
    const url =
      '/days/plateau/entries/pull-1/traces?meanings=speed-ratio,lambda,manifold-pressure,manifold-target,none&from=4&to=11';
    const view = tracesView.parse((await ask(url)).json());
    expect(view.traces.map(({ meaning }) => meaning)).toEqual([
      'speed-ratio',
      'lambda',
      'manifold-pressure',
      'manifold-target',
    ]);
    const ratio = view.traces[0]?.values.filter((value) => value !== null) ?? [];
    expect(ratio.length).toBeGreaterThan(100);
    expect(Math.max(...ratio.map(Math.abs))).toBeLessThan(1e-3);
    const named = tracesView.parse((await ask('/days/plateau/entries/pull-1/traces?name=battery')).json());
    expect(named.traces.map(({ name }) => name)).toEqual(['battery']);
  });
});
