import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Desk, openDesk } from '../desk/index.ts';
import { isLight } from './backroom.ts';
import { type RunningServer, startServer } from './start-server.ts';

describe('what the front answers by itself', () => {
  test.each<[string, string, boolean]>([
    ['GET', '/', true],
    ['GET', '/assets/index.js', true],
    ['GET', '/openapi.json', true],
    ['GET', '/days', true],
    ['GET', '/days/d/facts', true],
    ['GET', '/days/d/thresholds?x=1', true],
    ['PUT', '/days/d/facts', false],
    ['POST', '/days', false],
    ['GET', '/days/d', false],
    ['GET', '/days/d/limits?at=MAP%20200%20kPa', false],
    ['GET', '/days/d/entries/facts', false],
    ['PUT', '/files/a.csv', false],
  ])('%s %s: %s', (method, url, light) => {
    expect(isLight(method, url)).toBe(light);
  });
});

describe('a server whose work is done in the back room', () => {
  const folder = mkdtempSync(join(tmpdir(), 'knurl-backroom-'));
  const faults: unknown[] = [];
  let desk: Desk;
  let server: RunningServer;
  let day: string;
  const ask = (path: string, init?: RequestInit) => fetch(`${server.url}${path}`, init);
  const send = (method: string, path: string, body: object) =>
    ask(path, { method, body: JSON.stringify(body), headers: { 'content-type': 'application/json' } });

  beforeAll(async () => {
    const opened = await openDesk({ directory: folder, now: () => new Date(0).toISOString() });
    if (!opened.ok) throw new Error(opened.refusal.message);
    desk = opened.value;
    server = await startServer({ desk, directory: folder, fault: (error) => faults.push(error) });
    day = (await (await send('POST', '/days', { title: 'both know it' })).json()).id;
  }, 60_000);
  afterAll(async () => {
    await server.close();
    desk.close();
    rmSync(folder, { recursive: true, force: true });
    expect(faults).toEqual([]);
  });

  test('what was written in the back is read at the front', async () => {
    const { days } = await (await ask('/days')).json();
    expect(days).toEqual([expect.objectContaining({ id: day, title: 'both know it' })]);
    await send('PUT', `/days/${day}/facts`, { texts: { 'engine.cylinders': '6' }, why: 'counted' });
    const { fields } = await (await ask(`/days/${day}/facts`)).json();
    expect(fields.find(({ path }: { path: string }) => path === 'engine.cylinders').text).toBe('6');
  });

  test('a log is brought in unchanged, and a refusal comes back with its status', async () => {
    const log = 'Time;Speed\ns;rpm\n0;900\n0.1;910\n0.2;930\n';
    const taken = await ask('/files/run.csv', { method: 'PUT', body: new TextEncoder().encode(log) });
    expect(taken.status).toBe(200);
    expect((await taken.json()).bytes).toBe(log.length);
    const gone = await ask('/days/none/limits');
    expect(gone.status).toBe(404);
    expect((await gone.json()).refusal.message).toContain('unknown day');
  });

  test('the engine is worked out with progress, and the guard stands in front of it', async () => {
    const events = await (await ask(`/days/${day}/limits/work`)).text();
    expect(events).toMatch(/event: progress[\s\S]*event: answer\ndata: \{"pulls":0\}/);
    const foreign = await ask(`/days/${day}/limits`, { headers: { origin: 'http://elsewhere.example' } });
    expect(foreign.status).toBe(403);
  });

  test('someone who goes away takes nothing with them', async () => {
    const gone = new AbortController();
    const watching = await ask(`/days/${day}/watch`, { signal: gone.signal });
    expect(watching.status).toBe(200);
    gone.abort();
    expect((await ask(`/days/${day}/limits`)).status).toBe(200);
  });
});

test('a back room whose store cannot be opened refuses each request in words', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'knurl-backroom-'));
  const opened = await openDesk({ directory: join(folder, 'store'), now: () => new Date(0).toISOString() });
  if (!opened.ok) throw new Error(opened.refusal.message);
  writeFileSync(join(folder, 'no-folder'), 'a file');
  const server = await startServer({ desk: opened.value, directory: join(folder, 'no-folder') });
  try {
    const answer = await fetch(`${server.url}/days/d/limits`);
    expect(answer.status).toBe(500);
    expect((await answer.json()).refusal.message).toContain('data are kept');
    expect((await fetch(`${server.url}/days`)).status).toBe(200);
  } finally {
    await server.close();
    opened.value.close();
    rmSync(folder, { recursive: true, force: true });
  }
}, 30_000);
