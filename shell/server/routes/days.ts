import type { JoinedRecord } from '../../../day/pulls/index.ts';
import type { DayReport } from '../../../day/reports/index.ts';
import { dayList, daySummary, dayView, driftView, folderRequest, folderWritten, newDay } from '../../contract/index.ts';
import type { Desk } from '../../desk/index.ts';
import { answerOf } from '../answers.ts';
import { encodeDay, encodeSummary } from '../encode/day.ts';
import { encodeDrift } from '../encode/drift.ts';
import { type App, answers, ofDay } from './app.ts';
import { summaryOf } from './summary.ts';

/** The list of days, one day as a strip, what drifts over it, and days as folders. */
export function dayRoutes(app: App, desk: Desk): void {
  app.get('/days', { schema: { response: answers(dayList) } }, () => ({ days: desk.days().map(encodeSummary) }));

  app.post('/days', { schema: { body: newDay, response: answers(daySummary) } }, async ({ body }) => {
    const { title, date } = body;
    const empty = { place: {}, vehicle: {}, engine: {}, roller: {}, ambient: {}, entries: [], mappings: [] };
    return encodeSummary(answerOf(await desk.newDay({ title, ...(date !== undefined && { date }), ...empty })));
  });

  app.post('/days/folder', { schema: { body: folderRequest, response: answers(daySummary) } }, async ({ body }) =>
    encodeSummary(answerOf(await desk.openFolder(body.path))),
  );

  app.get('/days/:day', { schema: { params: ofDay, response: answers(dayView) } }, async ({ params }) =>
    encodeDay(summaryOf(desk, params.day), answerOf(await desk.report(params.day))),
  );

  app.get('/days/:day/drift', { schema: { params: ofDay, response: answers(driftView) } }, async ({ params }) => {
    const report = answerOf(await desk.report(params.day));
    return encodeDrift(report, await recordsAtRest(desk, params.day, report));
  });

  const exportSchema = { params: ofDay, body: folderRequest, response: answers(folderWritten) };
  app.post('/days/:day/export', { schema: exportSchema }, async ({ params, body }) => ({
    path: answerOf(await desk.exportFolder(params.day, body.path)),
  }));
}

/** Joined records of the entries that stood still at some time: only they can show the zero of the force. */
async function recordsAtRest(
  desk: Desk,
  day: string,
  { entries }: DayReport,
): Promise<ReadonlyMap<string, JoinedRecord>> {
  const records = new Map<string, JoinedRecord>();
  for (const { facts, result } of entries) {
    if (!result?.segments.some(({ kind }) => kind === 'standstill')) continue;
    const record = await desk.record(day, facts.id);
    if (record.ok) records.set(facts.id, record.value);
  }
  return records;
}
