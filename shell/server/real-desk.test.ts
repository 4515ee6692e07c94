import { mkdtempSync, rmSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeSimpleDay } from '../../scenarios/index.ts';
import { dayView, entryView, factsView } from '../contract/index.ts';
import { type Desk, openDesk } from '../desk/index.ts';
import { buildServer } from './build-server.ts';

const folder = mkdtempSync(join(tmpdir(), 'knurl-server-'));
const faults: unknown[] = [];
let desk: Desk;
let app: FastifyInstance;
let port: number;
let day: string;

const made = makeSimpleDay({ seed: 23, roller: 'brake', oneFile: true, pulls: 1, rates: { roller: 50 } });
const logs = made.files.filter(({ name }) => name.startsWith('run-1'));

const tell = (method: 'GET' | 'POST' | 'PUT' | 'PATCH', url: string, payload?: object) =>
  app.inject({ method, url, headers: { host: 'localhost:1' }, ...(payload && { payload }) });
const facts = async () => factsView.parse((await tell('GET', `/days/${day}/facts`)).json());
const textOf = async (path: string) => (await facts()).fields.find((field) => field.path === path)?.text;

beforeAll(async () => {
  let minute = 0;
  const opened = await openDesk({ directory: folder, now: () => new Date(60_000 * minute++).toISOString() });
  if (!opened.ok) throw new Error(opened.refusal.message);
  desk = opened.value;
  app = await buildServer({ desk, fault: (error) => faults.push(error) });
  await app.listen({ port: 0, host: '127.0.0.1' });
  const [address] = app.addresses();
  port = typeof address === 'object' ? address.port : 0;
  day = (await tell('POST', '/days', { title: 'two tabs' })).json().id;
});
afterAll(async () => {
  await app.close();
  desk.close();
  rmSync(folder, { recursive: true, force: true });
  expect(faults).toEqual([]);
});

describe('addresses that lead nowhere', () => {
  test.each([
    ['/days/none', 404],
    ['/days/%00', 404],
    [`/days/${'x'.repeat(200)}`, 404],
    ['/days/..%2f..%2fetc', 404],
    ['/days/none/entries/1', 404],
    ['/days/none/overlay', 404],
    ['/days/none/gate', 404],
    ['/days/none/drift', 404],
    ['/files/none', 404],
    ["/files/' or 1=1", 404],
  ])('%s is %i', async (url, status) => {
    const answer = await tell('GET', url);
    expect(answer.statusCode).toBe(status);
    expect(answer.json().refusal.message).toMatch(/^(unknown|missing)/);
  });

  test('an entry that is not there is 404 on every way to it', async () => {
    for (const part of ['', '/traces', '/nudge']) {
      expect((await tell('GET', `/days/${day}/entries/none${part}`)).statusCode).toBe(404);
    }
    expect((await tell('PATCH', `/days/${day}/entries/none`, { title: 'x' })).statusCode).toBe(404);
  });
});

describe('what is too much', () => {
  test('a body beyond a mebibyte is refused before it is read', async () => {
    const answer = await tell('PUT', `/days/${day}/facts`, { texts: { title: 'x'.repeat(2 ** 20) } });
    expect(answer.statusCode).toBe(413);
  });
  test('a fact of 20 000 letters is refused', async () => {
    const answer = await tell('PUT', `/days/${day}/facts`, { texts: { 'place.name': 'x'.repeat(20_000) } });
    expect(answer.statusCode).toBe(400);
  });
  test('a value without measure is refused, and the former one stays', async () => {
    const answer = await tell('PUT', `/days/${day}/facts`, { texts: { 'roller.equivalentMass': '1e999 kg' } });
    expect(answer.statusCode).toBe(422);
    expect(await textOf('roller.equivalentMass')).toBe('');
  });
});

/** Through the socket: requests that are injected run one after the other. */
const sent = (method: 'POST' | 'PUT', path: string, body: object) =>
  fetch(`http://127.0.0.1:${port}${path}`, {
    method,
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
  });

describe('two tabs', () => {
  test('changes of different facts at the same moment are both kept', async () => {
    const answers = await Promise.all([
      sent('PUT', `/days/${day}/facts`, { texts: { 'roller.equivalentMass': '450 kg' } }),
      sent('PUT', `/days/${day}/facts`, { texts: { 'vehicle.tyreRadius': '330 mm' } }),
      sent('PUT', `/days/${day}/facts`, { texts: { 'roller.kind': 'brake' } }),
    ]);
    expect(answers.map(({ status }) => status)).toEqual([200, 200, 200]);
    expect(await Promise.all(['roller.equivalentMass', 'vehicle.tyreRadius', 'roller.kind'].map(textOf))).toEqual([
      '450 kg',
      expect.stringContaining('330'),
      'brake',
    ]);
  });

  test('two entries added at the same moment are two entries', async () => {
    for (const { name, bytes } of logs) {
      const taken = await app.inject({
        method: 'PUT',
        url: `/files/${name}`,
        headers: { host: 'localhost:1', 'content-type': 'application/octet-stream' },
        payload: Buffer.from(bytes),
      });
      expect(taken.statusCode).toBe(200);
    }
    const files = logs.map(({ name }) => name);
    const answers = await Promise.all([
      sent('POST', `/days/${day}/entries`, { kind: 'pull', files }),
      sent('POST', `/days/${day}/entries`, { kind: 'note', files: [], notes: 'wind' }),
      sent('POST', `/days/${day}/entries`, { kind: 'note', files: [], notes: 'rain' }),
    ]);
    expect(answers.map(({ status }) => status)).toEqual([200, 200, 200]);
    const view = dayView.parse((await tell('GET', `/days/${day}`)).json());
    expect(view.entries.map(({ id }) => id).sort()).toEqual(['note-1', 'note-2', 'pull-1']);
  });

  test('twenty questions at once get twenty equal answers', async () => {
    const answers = await Promise.all(Array.from({ length: 20 }, () => tell('GET', `/days/${day}/entries/pull-1`)));
    expect(new Set(answers.map(({ payload }) => payload)).size).toBe(1);
    expect(entryView.parse(answers[0]?.json()).pulls).toHaveLength(1);
  });
});

/** Opens a request on the socket and drops it: a browser that is closed in the middle. */
function dropped(path: string, { method = 'GET', send = 0, length = 0, wait = 50 } = {}): Promise<void> {
  return new Promise((resolve) => {
    const headers = length > 0 ? { 'content-length': length, 'content-type': 'application/octet-stream' } : {};
    const asked = request({ port, host: '127.0.0.1', path, method, headers });
    asked.on('error', () => resolve());
    asked.on('close', () => resolve());
    asked.on('response', (answer) => answer.on('error', () => undefined).resume());
    if (send > 0) asked.write(Buffer.alloc(send, '1;'));
    else asked.end();
    setTimeout(() => asked.destroy(), wait);
  });
}

describe('a person who goes away', () => {
  test('an upload that breaks off leaves nothing behind, and the next one is taken', async () => {
    await dropped('/files/run-9-roller.csv', { method: 'PUT', send: 4_000_000, length: 100_000_000 });
    const view = dayView.parse((await tell('GET', `/days/${day}`)).json());
    expect(view.entries).toHaveLength(3);
    const again = await tell('GET', '/files/run-9-roller.csv');
    expect(again.statusCode).toBe(404);
  });

  test('work, watch and answers that nobody waits for end quietly', async () => {
    await Promise.all([
      dropped(`/days/${day}/work`, { wait: 1 }),
      dropped(`/days/${day}/watch`),
      dropped(`/days/${day}`, { wait: 1 }),
      dropped(`/days/${day}/entries/pull-1/traces`, { wait: 1 }),
    ]);
    expect((await tell('GET', `/days/${day}`)).statusCode).toBe(200);
  });
});
