import type { FastifyInstance } from 'fastify';
import { afterAll, afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type LimitsView, limitPictures, limitsView, type NextView, nextView } from '../contract/index.ts';
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
    expect(view.limits).toHaveLength(22);
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
    expect(soak.rise[0]).toBeCloseTo(10, 6);
    expect(soak.rise.at(-1) ?? 10).toBeLessThan(1);
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
