import { parentPort, workerData } from 'node:worker_threads';
import { openDesk } from '../desk/index.ts';
import type { BackroomWish, BackroomWord } from './backroom.ts';
import { buildServer } from './build-server.ts';

/** The server of the back room: the same questions on a desk of its own, heard on loopback by the front alone. */
const port = parentPort;
const tell = (word: BackroomWord): void => port?.postMessage(word);
const fault = (error: unknown): void =>
  tell({ kind: 'fault', message: error instanceof Error ? (error.stack ?? error.message) : String(error) });

async function run({ directory, ...options }: BackroomWish): Promise<void> {
  const desk = await openDesk({ directory, now: () => new Date().toISOString() });
  if (!desk.ok) {
    tell({ kind: 'refused', refusal: desk.refusal });
    return;
  }
  const app = await buildServer({ ...options, desk: desk.value, fault });
  await app.listen({ port: 0, host: '127.0.0.1' });
  const [address] = app.addresses();
  port?.once('message', () => {
    app.close().finally(() => {
      desk.value.close();
      port.close();
    });
  });
  tell({ kind: 'ready', port: typeof address === 'object' ? address.port : 0 });
}

// The one thing that is handed to this thread is the wish it was started with.
const wish: BackroomWish = workerData;
await run(wish);
