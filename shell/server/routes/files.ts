import { z } from 'zod';
import { fileView, mappingDecision, mappingKept, vocabulary } from '../../contract/index.ts';
import type { Desk } from '../../desk/index.ts';
import { answerOf, RefusedRequest } from '../answers.ts';
import { encodeReading, encodeVocabulary } from '../encode/reading.ts';
import { decidedMapping } from '../forms/decide-columns.ts';
import { type App, answers, ofSource } from './app.ts';

const ofName = z.strictObject({ name: z.string().min(1).max(255) });

/** Logs that are brought in, and what a person decides about their columns. */
export function fileRoutes(app: App, desk: Desk, limit: number): void {
  // Whatever a browser calls the bytes, they are taken as bytes, unchanged.
  app.removeAllContentTypeParsers();
  app.addContentTypeParser('*', { parseAs: 'buffer', bodyLimit: limit }, (_request, body, done) => done(null, body));

  const putSchema = { params: ofName, response: answers(fileView) };
  app.put('/files/:name', { schema: putSchema, bodyLimit: limit }, async ({ params, body, raw }) => {
    const bytes = body instanceof Uint8Array ? body : new Uint8Array();
    if (!isFileName(params.name)) {
      throw new RefusedRequest({ kind: 'invalid-name', message: `invalid file name: "${params.name}"` });
    }
    if (bytes.length === 0) {
      throw new RefusedRequest({ kind: 'missing-content', message: `missing content: ${params.name} is empty` });
    }
    const gone = new AbortController();
    raw.socket?.once('close', () => gone.abort());
    return encodeReading(answerOf(await desk.take(params.name, bytes, { signal: gone.signal })));
  });
}

/** Questions about files that are already in: JSON in, JSON out. */
export function readingRoutes(app: App, desk: Desk): void {
  app.get('/files/:source', { schema: { params: ofSource, response: answers(fileView) } }, async ({ params }) =>
    encodeReading(answerOf(await desk.reading(params.source))),
  );

  app.get('/vocabulary', { schema: { response: answers(vocabulary) } }, () => encodeVocabulary());

  const decideSchema = { params: ofSource, body: mappingDecision, response: answers(mappingKept) };
  app.put('/files/:source/mapping', { schema: decideSchema }, async ({ params, body }) => {
    const mapping = answerOf(decidedMapping(answerOf(await desk.reading(params.source)), body));
    answerOf(await desk.decide(mapping));
    return { columnSet: mapping.columnSet, columns: mapping.columns.length };
  });
}

/** A plain name: no folders, no control characters, not hidden. */
function isFileName(name: string): boolean {
  return /^[^/\\\p{Cc}]+$/u.test(name) && !name.startsWith('.');
}
