import type { FastifyInstance } from 'fastify';
import { afterAll, afterEach, beforeEach, describe, expect, test } from 'vitest';
import {
  adviceView,
  crankView,
  type LimitsView,
  limitPictures,
  limitsView,
  mapPoints,
  type NextView,
  nextView,
  scaledView,
} from '../contract/index.ts';
import { buildServer } from './build-server.ts';
import { smallDesk } from './testing/small-desk.ts';

const faults: unknown[] = [];
let app: FastifyInstance;

beforeEach(async () => {
  app = await buildServer({ desk: smallDesk(), fault: (error) => faults.push(error) });
});
afterEach(() => app.close());
afterAll(() => expect(faults).toEqual([]));

const ask = (path: string, query: Record<string, string> = {}) =>
  app.inject({ method: 'GET', url: `/days/plateau/${path}`, query, headers: { host: 'localhost:1' } });
const limits = async (query?: Record<string, string>): Promise<LimitsView> =>
  limitsView.parse((await ask('limits', query)).json());
const next = async (query?: Record<string, string>): Promise<NextView> =>
  nextView.parse((await ask('limits/next', query)).json());

describe('the limits of a day', () => {
  test('every limit has as many cells as there are speeds, or says why it cannot be told', async () => {
    const view = await limits();
    expect(view.limits).toHaveLength(24);
    for (const { name, margin, over, tightest, why } of view.limits) {
      expect([margin.length, over.length], name).toEqual([view.speed.length, view.speed.length]);
      expect(tightest === undefined, name).toBe(why !== undefined);
    }
    expect(view.step).toBe('180 kPa, as in entry pull-6');
    expect(view.pulls).toBe(0);
  });

  test('the likeliest passed stands first, what cannot be told last', async () => {
    const { limits: rows } = await limits({ at: 'MAP 240 kPa' });
    const told = rows.flatMap(({ tightest }) => tightest ?? []);
    expect(rows.slice(told.length).every(({ tightest }) => tightest === undefined)).toBe(true);
    for (const [i, { over }] of told.slice(1).entries()) expect(over).toBeLessThanOrEqual((told[i]?.over ?? 0) + 0.005);
  });

  test('what is turned is in force and said so; the rest is as on the day', async () => {
    const { controls } = await limits({ at: 'gap 0.5 mm, altitude 3200 m' });
    const of = (name: string) => controls.find((control) => control.name === name);
    expect(of('plugGap')).toMatchObject({ value: 0.5e-3, named: true });
    expect(of('altitude')).toMatchObject({ value: 3200, named: true });
    expect(of('manifoldPressure')).toMatchObject({ value: 180e3, named: false });
    for (const { value, low, high } of controls) {
      if (value !== null) expect(value >= low && value <= high).toBe(true);
    }
  });

  test('a value nobody stated says so and where to state it', async () => {
    const { values } = await limits();
    expect(values.find(({ name }) => name === 'bore')).toMatchObject({ origin: 'prior', fact: 'parts.bore' });
    expect(values.find(({ name }) => name === 'tyreRadius')).toMatchObject({ origin: 'stated' });
  });

  test('next limits rise, do not depend on the pressure asked, and the sentence names the first ahead', async () => {
    const [low, high] = [await next({ at: 'MAP 150 kPa' }), await next({ at: 'MAP 200 kPa' })];
    expect(high.next).toEqual(low.next);
    const pressures = low.next.map(({ manifoldPressure }) => manifoldPressure);
    expect(pressures).toEqual([...pressures].sort((a, b) => a - b));
    const passed = (await limits({ at: 'MAP 150 kPa' })).limits.filter(({ tightest }) => (tightest?.over ?? 0) >= 0.5);
    for (const { title } of passed) expect(low.sentence).toContain(`${title} near `);
    const ahead = low.next.find(
      ({ name, manifoldPressure, everywhere }) =>
        !everywhere && manifoldPressure > 150e3 && !passed.some((one) => one.name === name),
    );
    expect(low.sentence).toContain(`The next limit is ${ahead?.title}, at `);
  });

  test('the pictures say why there is no map, and the spark margin falls as the pressure rises', async () => {
    const { compressor, spark, soak } = limitPictures.parse((await ask('limits/pictures')).json());
    expect(compressor).toMatchObject({ why: expect.stringMatching(/compressor map/), lines: [] });
    expect(spark.rows).toHaveLength(spark.pressures.length);
    const middle = spark.rows.map(({ margin }) => margin[4] ?? Number.NaN);
    expect(middle).toEqual([...middle].sort((a, b) => b - a));
    expect(soak.rise[0]).toBeCloseTo(soak.series.pulls[0]?.end ?? 0, 6);
    const [begins = Number.NaN] = soak.series.pulls.map(({ start }) => start);
    expect((soak.rise.at(-1) ?? 99) - begins).toBeLessThan(0.1 * ((soak.rise[0] ?? 0) - begins));
    expect(soak.series.ready).toMatch(/^Ready again after \d+\.\d ± \d+\.\d min/);
  });

  test('what would sharpen a limit is named with the field where it is stated', async () => {
    const { limits: rows, values } = await limits();
    const clamp = rows.find(({ name }) => name === 'head clamp');
    expect(clamp?.unknown).toContainEqual({
      name: 'compressionRatio',
      title: 'compression ratio',
      fact: 'parts.compressionRatio',
    });
    expect(values.find(({ name }) => name === 'compressionRatio')?.source).not.toBe('');
    const tension = rows.find(({ name }) => name === 'rod tension');
    expect(tension?.unknown[0]).toMatchObject({ name: 'rodTension', fact: 'parts.rodTension' });
  });

  test('one cylinder over a cycle: gas and inertia together are the rod at both top dead centres, and the worst place is the highest sample', async () => {
    const view = crankView.parse((await ask('limits/crank', { speed: '6000 rpm' })).json());
    expect((view.speed * 30) / Math.PI).toBeCloseTo(6000, 6);
    const at = (angle: number) => view.angle.findIndex((one) => Math.abs((one ?? 9) - angle) < 1e-4);
    for (const k of [at(-2 * Math.PI), at(0)]) {
      expect((view.gas[k] ?? 0) + (view.inertia[k] ?? 0)).toBeCloseTo(view.rod[k] ?? Number.NaN, -1);
    }
    const peak = view.limits.find(({ name }) => name === 'peak pressure');
    const highest = Math.max(...view.pressure.map((value) => value ?? 0));
    expect((peak?.required ?? 0) / highest).toBeCloseTo(1, 2);
    const pull = view.limits.find(({ name }) => name === 'rod tension');
    expect(pull).toMatchObject({ sign: -1, available: null, why: expect.stringContaining('rod tension') });
    expect(pull?.required ?? 0).toBeCloseTo(-(view.inertia[at(-2 * Math.PI)] ?? 0), -1);
  });

  test('more pressure presses the rod harder and pulls it no harder; more speed pulls it with its square', async () => {
    const asked = async (at: string, speed: string) => {
      const { limits: rows } = crankView.parse((await ask('limits/crank', { at, speed })).json());
      const of = (name: string) => rows.find((row) => row.name === name)?.required ?? Number.NaN;
      return { press: of('rod compression'), pull: of('rod tension') };
    };
    const [low, high, slow] = [
      await asked('MAP 150 kPa', '6000 rpm'),
      await asked('MAP 200 kPa', '6000 rpm'),
      await asked('MAP 150 kPa', '3000 rpm'),
    ];
    expect(high.press).toBeGreaterThan(low.press);
    expect(high.pull).toBe(low.pull);
    expect(low.pull / slow.pull).toBeCloseTo(4, 3);
  });

  test('without a map there are no points on it, and why is said', async () => {
    const { pulls, why } = mapPoints.parse((await ask('limits/points')).json());
    expect([pulls, why]).toEqual([[], expect.stringContaining('compressor map')]);
  });

  test('what could be done: each part says what it lacks, with the field where it is stated', async () => {
    const { traction, gears, plugs } = adviceView.parse((await ask('limits/advice', { keep: '15 %' })).json());
    expect([traction.kind, traction.kept]).toEqual(['unknown', 0.15]);
    expect(traction.sentence).toContain('state axle load');
    expect(traction.unknown).toContainEqual({ name: 'axleLoad', title: 'axle load', fact: 'vehicle.axleLoad' });
    expect(gears.sentence).toContain('No gear can be named: gears unknown: state gear ratios');
    expect(gears.unknown).toContainEqual({ name: 'gearRatios', title: 'gear ratios', fact: 'vehicle.gearRatios' });
    expect(plugs.rule).toBe('common practice, no source');
    expect(plugs.unknown.map(({ name }) => name)).toEqual(expect.arrayContaining(['nativeBoost', 'plugThread']));
  });

  test('a result is carried to two thirds of the displacement, and what stays behind is named', async () => {
    const asIs = scaledView.parse((await ask('limits/scaled')).json());
    expect(asIs.factors).toEqual([]);
    expect(asIs.rows.map(({ before, after }) => after.value / before.value)).toEqual([1, 1]);
    const { engine, from } = asIs;
    const smaller = `${((engine?.displacement.value ?? 0) * 1000 * 2) / 3} L`;
    const carried = scaledView.parse(
      (await ask('limits/scaled', { from: from ?? '', displacement: smaller, cylinders: '4' })).json(),
    );
    expect(carried.rows[0]?.after.value).toBeCloseTo(((asIs.rows[0]?.before.value ?? 0) * 2) / 3, 1);
    expect(carried.rows[0]?.speedAfter).toBeCloseTo(carried.rows[0]?.speed ?? 0, 1);
    expect(carried.doesNotScale.join(' ')).toContain('turbocharger');
  });

  test('the engine is worked out before it is asked, with progress', async () => {
    const answer = await ask('limits/work');
    expect(answer.body).toContain('event: answer\ndata: {"pulls":0}');
  });

  test('a goal is answered by speed', async () => {
    const { goal } = await next({ goal: '250 N·m at 4000 rpm' });
    expect(goal?.asked).toBe('250 N·m at 4000 rpm');
    expect(goal?.rows).toHaveLength(1);
    expect(goal?.rows[0]?.manifoldPressure).toBeGreaterThan(50e3);
  });

  test.each([
    ['limits', { at: 'boost 1 bar' }, 'gauge pressure says nothing'],
    ['limits', { at: 'MAP 2,5 bar' }, 'ambiguous number'],
    ['limits/next', { goal: 'much' }, 'invalid goal'],
    ['limits/crank', { speed: 'fast' }, 'number'],
    ['limits/crank', { speed: '90 rpm' }, 'valid 500–20000 rpm'],
    ['limits/scaled', { from: 'nobody' }, 'unknown pull: "nobody"'],
    ['limits/advice', { keep: '90 %' }, 'keep out of validity'],
    ['limits/scaled', { cylinders: '5.5' }, 'whole number'],
    ['limits/scaled', { displacement: '2,5 L' }, 'displacement: '],
    ['limits/scaled', { displacement: '-2 L' }, 'above 0'],
  ])('%s refuses %o in words', async (path, query, words) => {
    const answer = await ask(path, query);
    expect(answer.statusCode).toBe(422);
    expect(answer.json().refusal.message).toContain(words);
  });

  test('an unknown day is not there, an unknown question is refused', async () => {
    const gone = await app.inject({ method: 'GET', url: '/days/none/limits', headers: { host: 'localhost:1' } });
    expect(gone.statusCode).toBe(404);
    expect((await ask('limits', { what: '1' })).statusCode).toBe(400);
  });
});
