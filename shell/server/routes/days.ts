import {
  dayList,
  daySummary,
  dayView,
  driftView,
  folderRequest,
  folderWritten,
  healthView,
  newDay,
} from '../../contract/index.ts';
import type { Desk } from '../../desk/index.ts';
import { answerOf } from '../answers.ts';
import { encodeDay, encodeSummary } from '../encode/day.ts';
import { encodeDrift } from '../encode/drift.ts';
import { encodeHealth } from '../encode/health.ts';
import { powerChannels } from '../encode/power-channels.ts';
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

  app.get('/days/:day', { schema: { params: ofDay, response: answers(dayView) } }, async ({ params: { day } }) => {
    const report = answerOf(await desk.report(day));
    const beside = { channels: await powerChannels(desk, day, report), health: answerOf(await desk.health(day)) };
    return encodeDay(summaryOf(desk, day), report, beside);
  });

  app.get('/days/:day/drift', { schema: { params: ofDay, response: answers(driftView) } }, async ({ params }) =>
    encodeDrift(answerOf(await desk.report(params.day))),
  );

  app.get('/days/:day/health', { schema: { params: ofDay, response: answers(healthView) } }, async ({ params }) =>
    encodeHealth(params.day, answerOf(await desk.health(params.day))),
  );

  const exportSchema = { params: ofDay, body: folderRequest, response: answers(folderWritten) };
  app.post('/days/:day/export', { schema: exportSchema }, async ({ params, body }) => ({
    path: answerOf(await desk.exportFolder(params.day, body.path)),
  }));
}
