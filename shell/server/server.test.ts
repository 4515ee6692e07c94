import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  dayView,
  driftView,
  entryView,
  fileView,
  gateView,
  nudgeView,
  overlayView,
  tracesView,
} from '../contract/index.ts';
import { buildServer } from './build-server.ts';
import { startServer } from './start-server.ts';
import { type SmallDesk, smallDesk } from './testing/small-desk.ts';

const faults: unknown[] = [];
let desk: SmallDesk;
let app: FastifyInstance;

beforeAll(async () => {
  desk = smallDesk();
  app = await buildServer({ desk, fileLimit: 1000, fault: (error) => faults.push(error) });
});
afterAll(() => app.close());

const ask = (url: string, headers: Record<string, string> = {}) =>
  app.inject({ method: 'GET', url, headers: { host: 'localhost:1', ...headers } });
const tell = (method: 'POST' | 'PUT' | 'PATCH', url: string, payload: object) =>
  app.inject({ method, url, payload, headers: { host: 'localhost:1' } });

describe('answers', () => {
  test('the list names every day', async () => {
    const answer = await ask('/days');
    expect(answer.statusCode).toBe(200);
    expect(answer.json().days).toEqual([
      { id: 'plateau', title: 'Invented day', date: '2031-05-14', entries: 9, invented: true },
    ]);
  });

  test('a day carries its strip: standings, peaks and the word that it is invented', async () => {
    const day = dayView.parse((await ask('/days/plateau')).json());
    expect(day.invented).toContain('no real engine');
    expect(day.entries.map(({ id, standing }) => `${id} ${standing}`)).toEqual([
      'coast-1 valid',
      'pull-1 valid',
      'pull-2 windows',
      'change-1 none',
      'pull-3 doubtful',
      'pull-4 refused',
      'pull-5 waiting',
      'note-1 none',
      'pull-6 valid',
    ]);
    expect(day.entries[1]?.peakOf).toBe('engine power');
    expect(day.entries[5]?.peak).toBeUndefined();
  });

  test('a curve is sent in SI with null for what is missing, and torque is power over engine speed', async () => {
    const entry = entryView.parse((await ask('/days/plateau/entries/pull-2')).json());
    const curve = entry.pulls[0]?.curve;
    expect(curve?.enginePower[60]).toBeNull();
    expect(curve?.valid[60]).toBe(false);
    const [power, speed, torque] = [curve?.enginePower[10], curve?.engineSpeed[10], curve?.engineTorque[10]];
    expect(torque).toBeCloseTo(Number(power) / Number(speed), 9);
    expect(curve?.correctedPower.every((value) => value === null)).toBe(true);
  });

  test('drift lines: air, pressure, coast-down force at its speed, force with the brake off', async () => {
    const { lines } = driftView.parse((await ask('/days/plateau/drift')).json());
    expect(lines.map(({ name }) => name)).toEqual(['air', 'pressure', 'losses open', 'zero']);
    expect(lines[2]?.at).toBeCloseTo(34.5, 6);
    expect(lines[3]?.points[0]).toEqual({ entry: 'pull-1', value: -9.3, standardUncertainty: 1.9 });
  });

  test('traces are thinned to the points that were asked for, keep their ends, and break at missing samples', async () => {
    const view = tracesView.parse((await ask('/days/plateau/entries/pull-1/traces?points=200&from=4&to=10')).json());
    const lambda = view.traces.find(({ meaning }) => meaning === 'lambda');
    expect(lambda?.values.filter((value) => value === null)).toHaveLength(1);
    expect(view.traces.every(({ times }) => times.length <= 260)).toBe(true);
    expect(view.wholeTo).toBeCloseTo(15.99, 2);
    expect(view.engineSpeed?.times.length).toBeGreaterThan(100);
  });

  test('the nudge preview finds the clock error that was put in', async () => {
    const view = nudgeView.parse((await ask('/days/plateau/entries/pull-3/nudge?by=0.1')).json());
    // The record says 3.42 s + 180 ppm in its middle, the logs were made 3.52 s apart.
    expect(view.at.offset).toBe(0.1);
    expect(view.at.residual ?? 1).toBeLessThan(0.02);
    const now = nudgeView.parse((await ask('/days/plateau/entries/pull-3/nudge')).json());
    expect(now.at.residual ?? 0).toBeGreaterThan(5 * (view.at.residual ?? 0));
    expect(view.at.correlation ?? 0).toBeGreaterThan(0.99);
  });

  test('the gate compares what was reached with the limits that are known, and says when one is not', async () => {
    const gate = gateView.parse((await ask('/days/plateau/gate')).json());
    const [speed, force] = gate.reach;
    expect(speed?.limit).toBeUndefined();
    expect(speed?.limitFrom).toContain('not among the facts');
    expect(force?.limit).toBe(6000);
    expect(gate.disclaimer).toContain('not protection');
  });

  test('OpenAPI describes every address', async () => {
    const paths = Object.keys((await ask('/openapi.json')).json().paths);
    expect(paths).toContain('/days/{day}/entries/{entry}/traces');
    expect(paths).toContain('/files/{name}');
  });

  test('without a built page the root says so', async () => {
    expect((await ask('/')).body).toContain('not built');
  });
});

describe('overlay', () => {
  test('all pulls under no rule; those without a curve are named with their reason', async () => {
    const view = overlayView.parse((await ask('/days/plateau/overlay')).json());
    expect(view.curves.map(({ entry }) => entry)).toEqual(['pull-1', 'pull-2', 'pull-3', 'pull-6']);
    expect(view.left.map(({ entry }) => entry)).toEqual(['pull-4', 'pull-5']);
  });

  test('a rule multiplies by its factor and says when it is out of its own validity', async () => {
    const view = overlayView.parse((await ask('/days/plateau/overlay?entries=pull-1&rule=SAE%20J1349')).json());
    expect(view.curves[0]?.factor).toBeCloseTo(1.2, 6);
    expect(view.curves[0]?.ruleValid).toBe(false);
  });

  test('a rule without a factor is refused', async () => {
    const answer = await ask('/days/plateau/overlay?rule=ISO%201585%20compression');
    expect(answer.statusCode).toBe(422);
    expect(answer.json().refusal.kind).toBe('missing-factor');
  });

  test('a rule on roll power is refused', async () => {
    const answer = await ask('/days/plateau/overlay?rule=SAE%20J1349&of=roll');
    expect(answer.json().refusal.kind).toBe('rule-needs-engine-power');
  });
});

describe('files', () => {
  const put = (name: string, payload: Buffer, headers: Record<string, string> = {}) =>
    app.inject({ method: 'PUT', url: `/files/${name}`, payload, headers: { host: 'localhost', ...headers } });

  test('bytes of any kind are taken and read', async () => {
    const answer = await put('engine.csv', Buffer.from('time;n\n1;2\n'), { 'content-type': 'text/csv' });
    expect(answer.statusCode).toBe(200);
    const reading = fileView.parse(answer.json());
    expect(reading.format).toContain('decimal ","');
    expect(reading.columns[2]?.question).toContain('throttle');
    expect(reading.columns[2]?.sketch).toContain(null);
  });

  test.each([
    ['over the limit', 'a.csv', 1001, 413, 'too-large'],
    ['empty', 'a.csv', 0, 422, 'missing-content'],
    ['a name with a folder', '..%2Fa.csv', 20, 422, 'invalid-name'],
    ['unreadable', 'a.csv', 3, 422, 'missing-columns'],
  ])('%s is refused', async (...[, name, size, status, kind]) => {
    const answer = await put(name, Buffer.alloc(size, 65));
    expect([answer.statusCode, answer.json().refusal.kind]).toEqual([status, kind]);
  });

  test('at the limit is taken', async () => {
    expect((await put('a.csv', Buffer.alloc(1000, 65))).statusCode).toBe(200);
  });

  test('a decided mapping reaches the desk', async () => {
    const columns = [{ column: 'P_in', meaning: 'boost-pressure', unit: 'kpa' }];
    expect((await tell('PUT', '/files/sha-e.csv/mapping', { columns })).statusCode).toBe(200);
    expect(desk.decided.at(-1)?.columns[0]).toEqual({
      column: 'P_in',
      meaning: 'boost-pressure',
      unit: 'kPa',
      confirmed: true,
    });
  });

  test.each([
    [{ column: 'P_in', meaning: 'boost-pressure', unit: 'rpm' }, 'invalid unit of P_in: "rpm"'],
    [{ column: 'P_in', meaning: 'thrust', unit: 'kPa' }, 'unknown meaning: thrust'],
    [{ column: 'Q', meaning: 'lambda', unit: '1' }, 'unknown column: Q'],
  ])('a mapping that cannot be is refused: %o', async (line, message) => {
    const answer = await tell('PUT', '/files/sha-e.csv/mapping', { columns: [line] });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().refusal.message).toContain(message);
  });
});

describe('facts', () => {
  test('a text with a unit becomes the fact, and undo takes it back', async () => {
    const answer = await tell('PUT', '/days/plateau/facts', { texts: { 'roller.equivalentMass': '990 lb' } });
    expect(answer.statusCode).toBe(200);
    const facts = desk.facts('plateau');
    expect(facts.ok && facts.value.roller.equivalentMass?.value).toBeCloseTo(449.06, 2);
    const undone = (await tell('POST', '/days/plateau/undo', {})).json();
    expect(undone.fields.find(({ path }: { path: string }) => path === 'roller.equivalentMass').text).toBe(
      '450 ± 5 kg',
    );
  });

  test('every bad field is named with its reason and nothing changes', async () => {
    const texts = { 'roller.equivalentMass': '450', 'vehicle.tyreRadius': '0,33 m', 'roller.kind': 'brake' };
    const answer = await tell('PUT', '/days/plateau/facts', { texts });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().fields.map(({ path }: { path: string }) => path)).toEqual([
      'roller.equivalentMass',
      'vehicle.tyreRadius',
    ]);
  });

  test('there is nothing to undo at the beginning', async () => {
    expect((await tell('POST', '/days/plateau/undo', {})).statusCode).toBe(409);
  });

  test('an entry is put in the order of the clock, decided upon, and null forgets', async () => {
    const made = await tell('POST', '/days/plateau/entries', { kind: 'pull', files: ['a.csv'], clock: '10:05' });
    expect(made.json().entry).toBe('pull-7');
    const facts = desk.facts('plateau');
    expect(facts.ok && facts.value.entries.findIndex(({ id }) => id === 'pull-7')).toBe(3);
    await tell('PATCH', '/days/plateau/entries/pull-7', { nudge: 0.05, title: 'late' });
    const view = (await tell('PATCH', '/days/plateau/entries/pull-7', { nudge: null })).json();
    expect([view.nudge, view.title]).toEqual([undefined, 'late']);
    for (let step = 0; step < 3; step += 1) await tell('POST', '/days/plateau/undo', {});
  });
});

describe('refusals', () => {
  test.each([
    ['GET', '/days/none', 404, 'unknown-day'],
    ['GET', '/days/plateau/entries/none', 404, 'unknown-entry'],
    ['GET', '/files/none', 404, 'unknown-source'],
    ['GET', '/nowhere', 404, 'unknown-address'],
    ['GET', '/days/plateau/entries/pull-1/traces?points=1', 400, 'invalid-request'],
    ['GET', '/days/plateau/overlay?colour=red', 400, 'invalid-request'],
  ] as const)('%s %s: %i %s', async (...[method, url, status, kind]) => {
    const answer = await app.inject({ method, url, headers: { host: '127.0.0.1:80' } });
    expect([answer.statusCode, answer.json().refusal.kind]).toEqual([status, kind]);
  });

  test('an unknown field is refused', async () => {
    const answer = await tell('POST', '/days', { title: 'a', color: 'red' });
    expect(answer.statusCode).toBe(400);
    expect(answer.json().refusal.message).toContain('color');
  });

  test('text that is no JSON is refused', async () => {
    const headers = { host: 'localhost', 'content-type': 'application/json' };
    expect((await app.inject({ method: 'POST', url: '/days', payload: '{', headers })).statusCode).toBe(400);
  });

  test('a fault of our own is told to the outside as such, without its inside', async () => {
    const broken = await buildServer({
      desk: {
        ...smallDesk(),
        days: () => {
          throw new Error('secret');
        },
      },
      fault: (error) => faults.push(error),
    });
    const answer = await broken.inject({ method: 'GET', url: '/days', headers: { host: 'localhost' } });
    expect(answer.statusCode).toBe(500);
    expect(answer.body).not.toContain('secret');
    expect(faults.at(-1)).toBeInstanceOf(Error);
    await broken.close();
  });
});

test('two changes at the same moment are both kept, however long keeping takes', async () => {
  const inner = smallDesk();
  const slow: typeof inner = {
    ...inner,
    setFacts: async (...change) => {
      await new Promise((resolve) => setTimeout(resolve, 20));
      return inner.setFacts(...change);
    },
  };
  const own = await buildServer({ desk: slow });
  const change = (texts: Record<string, string>) =>
    own.inject({ method: 'PUT', url: '/days/plateau/facts', payload: { texts }, headers: { host: 'localhost' } });
  await Promise.all([change({ 'roller.name': 'twin' }), change({ 'place.name': 'hall' })]);
  const facts = inner.facts('plateau');
  expect(facts.ok && [facts.value.roller.name, facts.value.place.name]).toEqual(['twin', 'hall']);
  await own.close();
});

describe('who may ask', () => {
  test.each([
    ['a foreign host name', { host: 'example.test' }, 403],
    ['a numeric address while only this machine is served', { host: '192.0.2.7' }, 403],
    ['another origin', { host: 'localhost:1', origin: 'http://example.test' }, 403],
    ['another port of this machine', { host: 'localhost:1', origin: 'http://localhost:2' }, 403],
    ['a cross-site fetch without an origin', { host: 'localhost:1', 'sec-fetch-site': 'cross-site' }, 403],
    ['the page itself', { host: 'localhost:1', origin: 'http://localhost:1', 'sec-fetch-site': 'same-origin' }, 200],
    ['a program without a browser', { host: '127.0.0.1' }, 200],
    ['IPv6 loopback', { host: '[::1]:80' }, 200],
  ])('%s', async (_who, headers, status) => {
    expect((await app.inject({ method: 'GET', url: '/days', headers })).statusCode).toBe(status);
  });

  test('every answer forbids foreign content', async () => {
    const { headers } = await ask('/days');
    expect(headers['content-security-policy']).toContain("default-src 'self'");
    expect(headers['x-content-type-options']).toBe('nosniff');
  });

  test('an opened server warns, and then numeric hosts may ask', async () => {
    const warnings: string[] = [];
    const running = await startServer({ desk, host: '0.0.0.0', warn: (message) => warnings.push(message) });
    expect(warnings[0]).toContain('no password');
    expect((await fetch(`${running.url}/days`)).status).toBe(200);
    await running.close();
  });
});

describe('streams', () => {
  test('work reports progress and ends with the day', async () => {
    const { body, headers } = await ask('/days/plateau/work');
    expect(headers['content-type']).toContain('text/event-stream');
    expect(body.match(/^event: .*/gm)).toEqual(['event: progress', 'event: progress', 'event: answer']);
  });

  test('a watched folder is heard, and closing stops the watch', async () => {
    const running = await startServer({ desk });
    const stop = new AbortController();
    const answer = await fetch(`${running.url}/days/plateau/watch`, { signal: stop.signal });
    const reader = answer.body?.pipeThrough(new TextDecoderStream()).getReader();
    expect((await reader?.read())?.value).toContain('watching');
    desk.appear('pull-9');
    expect((await reader?.read())?.value).toContain('"entry":"pull-9"');
    desk.hinder({ kind: 'not-taken', message: 'cut off', place: { file: 'pull-10.csv' } });
    expect((await reader?.read())?.value).toMatch(/^event: refused\n.*"message":"cut off".*pull-10\.csv/);
    stop.abort();
    await expect.poll(() => desk.watchers()).toBe(0);
    await running.close();
  });
});

test('no request above made the server fault by itself', () => {
  expect(faults.map(String)).toEqual(['Error: secret']);
});
