import { Worker } from 'node:worker_threads';
import { type Outcome, refused } from '../../core/quantities/index.ts';
import type { Table } from '../../day/channels/index.ts';
import { cancelled, type Watch } from './bytes-source.ts';
import { damaged } from './columnar-findings.ts';
import type { ColumnarMessage, ColumnarTask } from './columnar-worker.ts';

export interface ColumnarLimits extends Watch {
  /** Bytes of the file. */
  readonly size: number;
  /** s; after that the file counts as damaged. Default: 20 s and one more per 5 MB. */
  readonly timeLimit?: number | undefined;
}

/**
 * Reads a Parquet or Arrow file in a thread of its own: a damaged length in such a file can keep its library busy for ever,
 * and only a thread can be stopped. The thread stays for the next file.
 */
export function readColumnar(task: ColumnarTask, limits: ColumnarLimits): Promise<Outcome<Table>> {
  const { signal, progress } = limits;
  const seconds = limits.timeLimit ?? 20 + limits.size / 5e6;
  if (signal?.aborted) return Promise.resolve(refused(cancelled(0)));
  return new Promise((resolve) => {
    const thread = idle.pop() ?? started();
    let done = 0;
    const finish = (outcome: Outcome<Table>, keep: boolean): void => {
      clearTimeout(timer);
      signal?.removeEventListener('abort', abort);
      thread.off('error', fail);
      thread.off('message', take);
      if (keep) {
        thread.unref();
        idle.push(thread);
      } else void thread.terminate();
      resolve(outcome);
    };
    const abort = (): void => finish(refused(cancelled(done)), false);
    const format = task.format === 'parquet' ? 'Parquet' : 'Arrow';
    const fail = (error: unknown): void => finish(refused(damaged(format, task.file, error)), false);
    const timer = setTimeout(() => fail(new Error(`not read within ${seconds.toFixed(0)} s`)), seconds * 1000);
    signal?.addEventListener('abort', abort);
    const take = (message: ColumnarMessage): void => {
      if (message.kind === 'progress') {
        done = message.share;
        progress?.(done);
      } else if (message.kind === 'read') finish(message.outcome, true);
      else fail(new Error(message.message));
    };
    thread.on('error', fail);
    thread.on('message', take);
    thread.ref();
    thread.postMessage(task);
  });
}

function started(): Worker {
  const extension = import.meta.url.endsWith('.ts') ? 'ts' : 'js';
  return new Worker(new URL(`./columnar-worker.${extension}`, import.meta.url), {
    resourceLimits: { maxOldGenerationSizeMb: 2048 },
  });
}

const idle: Worker[] = [];
