import { PassThrough } from 'node:stream';
import type { FastifyReply } from 'fastify';

/** One stream of server-sent events. `closed` is aborted when the person's side goes away. */
export interface EventStream {
  send(event: string, data: unknown): void;
  end(): void;
  readonly closed: AbortSignal;
}

const HEARTBEAT = 15_000;

/** Opens a stream of events as the answer. A comment every 15 s keeps it alive. @source WHATWG HTML, server-sent events */
export function eventStream(reply: FastifyReply, run: (events: EventStream) => void): FastifyReply {
  const body = new PassThrough();
  const gone = new AbortController();
  const beat = setInterval(() => body.write(': still here\n\n'), HEARTBEAT);
  const close = () => {
    clearInterval(beat);
    gone.abort();
  };
  body.on('close', close);
  reply.raw.on('close', close);
  run({
    send: (event, data) => {
      if (!gone.signal.aborted) body.write(`event: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
    },
    end: () => body.end(),
    closed: gone.signal,
  });
  return reply.type('text/event-stream').header('cache-control', 'no-store').send(body);
}
