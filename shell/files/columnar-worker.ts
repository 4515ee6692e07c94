import { parentPort } from 'node:worker_threads';
import type { Outcome } from '../../core/quantities/index.ts';
import type { Table } from '../../day/channels/index.ts';
import { readArrow } from './arrow.ts';
import { headOf, withFile } from './bytes-source.ts';
import { bytesBuffer, fileBuffer, readParquet } from './parquet.ts';

/** A columnar file to read, by path or by content. */
export interface ColumnarTask {
  readonly format: 'parquet' | 'arrow';
  readonly from: string | Uint8Array;
  readonly file: string;
  readonly source: string;
  readonly select?: readonly string[] | undefined;
}

export type ColumnarMessage =
  | { readonly kind: 'progress'; readonly share: number }
  | { readonly kind: 'read'; readonly outcome: Outcome<Table> }
  | { readonly kind: 'failed'; readonly message: string };

parentPort?.on('message', (task: ColumnarTask) => {
  const send = (message: ColumnarMessage): void => parentPort?.postMessage(message);
  readTask(task, (share) => send({ kind: 'progress', share })).then(
    (outcome) => send({ kind: 'read', outcome }),
    (error: unknown) => send({ kind: 'failed', message: error instanceof Error ? error.message : String(error) }),
  );
});

function readTask(task: ColumnarTask, progress: (share: number) => void): Promise<Outcome<Table>> {
  const options = { ...task, progress };
  const { from, format } = task;
  if (typeof from !== 'string') {
    return format === 'parquet' ? readParquet(bytesBuffer(from), options) : Promise.resolve(readArrow(from, options));
  }
  return withFile(from, async (handle, size) =>
    format === 'parquet'
      ? readParquet(fileBuffer(handle, size), options)
      : readArrow(await headOf(handle, size), options),
  );
}
