import { Agent, type IncomingMessage, request, type ServerResponse } from 'node:http';
import { Worker } from 'node:worker_threads';
import type { FastifyInstance } from 'fastify';
import type { Refusal } from '../../core/quantities/index.ts';
import { statusOf } from './statuses.ts';

/** What the thread of the back room is started with: see ServerOptions. */
export interface BackroomWish {
  /** Folder of the store. */
  readonly directory: string;
  readonly hosts: readonly string[];
  readonly open: boolean;
  readonly fileLimit?: number;
}

/** What the thread tells. */
export type BackroomWord =
  | { readonly kind: 'ready'; readonly port: number }
  | { readonly kind: 'refused'; readonly refusal: Refusal }
  | { readonly kind: 'fault'; readonly message: string };

/** Where everything is worked out: a thread of its own, so that reading a day, hearing a sound or fitting an engine holds up nothing else. */
export interface Backroom {
  /** Hands a request over, body and all, and its answer back; a person who goes away ends it there too. */
  readonly hand: (asked: IncomingMessage, answer: ServerResponse) => void;
  readonly close: () => Promise<void>;
}

/** How long a closing thread may take before it is ended [ms]. @source our default */
const PATIENCE = 3000;

interface Thread {
  readonly worker: Worker;
  readonly port: Promise<number>;
  readonly ended: Promise<void>;
}

/** Opens the back room on a store. A thread that ended by a fault of its own is started again by the next request. */
export function openBackroom(wish: BackroomWish, fault: (error: unknown) => void): Backroom {
  const agent = new Agent({ keepAlive: true });
  let thread: Thread | undefined = started();
  let closed = false;

  function started(): Thread {
    const extension = import.meta.url.endsWith('.ts') ? 'ts' : 'js';
    const worker = new Worker(new URL(`./backroom-worker.${extension}`, import.meta.url), { workerData: wish });
    const ended = new Promise<void>((resolve) => worker.once('exit', () => resolve()));
    const port = new Promise<number>((resolve, reject) => {
      worker.on('message', (word: BackroomWord) => {
        if (word.kind === 'ready') resolve(word.port);
        else if (word.kind === 'refused') reject(new Error(word.refusal.message));
        else fault(new Error(word.message));
      });
      worker.on('error', (error) => {
        fault(error);
        reject(error);
      });
      ended.then(() => reject(new Error('the back room ended')));
    });
    port.catch(() => undefined);
    ended.then(() => {
      if (!closed) thread = undefined;
    });
    return { worker, port, ended };
  }

  return {
    hand(asked, answer) {
      thread ??= started();
      thread.port.then(
        (port) => handOver(port, { asked, answer, agent }),
        () => goneAway(answer),
      );
    },
    async close() {
      closed = true;
      agent.destroy();
      if (!thread) return;
      const { worker, ended } = thread;
      worker.postMessage('close');
      const timer = setTimeout(() => worker.terminate(), PATIENCE);
      await ended;
      clearTimeout(timer);
    },
  };
}

interface Handing {
  readonly asked: IncomingMessage;
  readonly answer: ServerResponse;
  readonly agent: Agent;
}

function handOver(port: number, { asked, answer, agent }: Handing): void {
  const { method, url: path, headers } = asked;
  const inner = request({ host: '127.0.0.1', port, method, path, headers, agent }, (reply) => {
    answer.writeHead(reply.statusCode ?? 500, reply.headers);
    // What is streamed is sent on as it comes.
    answer.flushHeaders();
    reply.pipe(answer);
    reply.on('error', () => answer.destroy());
  });
  inner.on('error', () => goneAway(answer));
  answer.on('close', () => inner.destroy());
  asked.pipe(inner);
}

const GONE: Refusal = { kind: 'internal-fault', message: 'Knurl lost its answer; your data are kept. Ask again.' };

function goneAway(answer: ServerResponse): void {
  if (answer.headersSent || answer.destroyed) {
    answer.destroy();
    return;
  }
  answer.writeHead(statusOf(GONE), { 'content-type': 'application/json' });
  answer.end(JSON.stringify({ refusal: GONE }));
}

/** Hands everything over that has to be worked out; the page itself, the list of days and what a person wrote are answered at the front. */
export function handToBackroom(app: FastifyInstance, backroom: Backroom): void {
  app.addHook('onRequest', async ({ raw }, reply) => {
    if (reply.sent || isLight(raw.method ?? 'GET', raw.url ?? '/')) return;
    reply.hijack();
    backroom.hand(raw, reply.raw);
  });
  app.addHook('onClose', () => backroom.close());
}

/** True for what needs no computation, or is no question about days and files. */
export function isLight(method: string, url: string): boolean {
  const [path = '/'] = url.split('?', 1);
  if (!/^\/(days|files)(\/|$)/.test(path)) return true;
  if (method !== 'GET') return false;
  return path === '/days' || /^\/days\/[^/]+\/(facts|thresholds)$/.test(path);
}
