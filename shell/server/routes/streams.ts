import type { Desk } from '../../desk/index.ts';
import { encodeDay } from '../encode/day.ts';
import { plainRefusal } from '../encode/plain.ts';
import { powerChannels } from '../encode/power-channels.ts';
import { type EventStream, eventStream } from '../event-stream.ts';
import { type App, ofDay } from './app.ts';
import { summaryOf } from './summary.ts';

/** Streams: the day being worked out (closing it cancels the work), and the folder being watched. */
export function streamRoutes(app: App, desk: Desk, fault: (error: unknown) => void): void {
  app.get('/days/:day/work', { schema: { params: ofDay } }, ({ params }, reply) => {
    summaryOf(desk, params.day);
    return eventStream(reply, (events) => {
      work(desk, params.day, events)
        .catch(fault)
        .finally(() => events.end());
    });
  });

  app.get('/days/:day/limits/work', { schema: { params: ofDay } }, ({ params }, reply) => {
    summaryOf(desk, params.day);
    return eventStream(reply, (events) => {
      fitting(desk, params.day, events)
        .catch(fault)
        .finally(() => events.end());
    });
  });

  app.get('/days/:day/watch', { schema: { params: ofDay } }, ({ params }, reply) => {
    summaryOf(desk, params.day);
    return eventStream(reply, (events) => {
      const stop = desk.watch(
        params.day,
        (entry) => events.send('seen', { entry }),
        (refusal) => events.send('refused', { refusal: plainRefusal(refusal) }),
      );
      events.closed.addEventListener('abort', stop, { once: true });
      events.send('watching', {});
    });
  });
}

/** Events: `progress`, then `answer` once the engine of the day stands, or `refused`. */
async function fitting(desk: Desk, day: string, events: EventStream): Promise<void> {
  const engine = await desk.engine(day, {
    progress: ({ what, share }) => events.send('progress', { what, share }),
    signal: events.closed,
  });
  if (engine.ok) events.send('answer', { pulls: engine.value.model.pulls });
  else events.send('refused', { refusal: plainRefusal(engine.refusal) });
}

/** Events: `progress`, then `answer` with the day view or `refused`. The first verdicts do not wait for the engine model of health. */
async function work(desk: Desk, day: string, events: EventStream): Promise<void> {
  const wish = {
    progress: ({ what, share }: { readonly what: string; readonly share: number }) =>
      events.send('progress', { what, share }),
    signal: events.closed,
  };
  const report = await desk.report(day, wish);
  const health = report.ok ? await desk.health(day, { ...wish, soon: true }) : report;
  if (!report.ok || !health.ok) {
    if (!health.ok) events.send('refused', { refusal: plainRefusal(health.refusal) });
    return;
  }
  const channels = await powerChannels(desk, day, report.value);
  events.send('answer', encodeDay(summaryOf(desk, day), report.value, { channels, health: health.value }));
}
