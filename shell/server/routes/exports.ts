import { z } from 'zod';
import type { Desk } from '../../desk/index.ts';
import { answerOf } from '../answers.ts';
import { type App, ofEntry } from './app.ts';

const TYPES = {
  csv: 'text/csv; charset=utf-8',
  parquet: 'application/vnd.apache.parquet',
  json: 'application/json; charset=utf-8',
} as const;

const exportQuery = z.strictObject({
  part: z.enum(['curves', 'channels']),
  format: z.enum(['csv', 'parquet', 'json']),
});

/** An entry's curves or channels as a file to keep. */
export function exportRoutes(app: App, desk: Desk): void {
  app.get(
    '/days/:day/entries/:entry/export',
    { schema: { params: ofEntry, querystring: exportQuery } },
    async ({ params, query }, reply) => {
      const bytes = answerOf(await desk.exportEntry(params.day, params.entry, query));
      const name = `${params.entry}-${query.part}.${query.format}`.replaceAll(/[^\p{L}\p{N}._-]+/gu, '-');
      return reply
        .header('content-type', TYPES[query.format])
        .header('content-disposition', `attachment; filename*=UTF-8''${encodeURIComponent(name)}`)
        .send(Buffer.from(bytes));
    },
  );
}
