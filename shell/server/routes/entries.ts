import { dayLimits } from '../../../day/verdicts/index.ts';
import {
  entryDecision,
  entryMade,
  entryView,
  newEntry,
  nudgeQuery,
  nudgeView,
  overlayQuery,
  overlayView,
  tracesQuery,
  tracesView,
  trialQuery,
  trialView,
} from '../../contract/index.ts';
import type { Desk } from '../../desk/index.ts';
import { answerOf } from '../answers.ts';
import { type DayName, encodeEntry } from '../encode/entry.ts';
import { encodeOverlay } from '../encode/overlay.ts';
import { powerChannels, powerChannelsOf } from '../encode/power-channels.ts';
import { encodeTraces } from '../encode/traces.ts';
import { encodeTrial } from '../encode/trial.ts';
import { withDecision, withEntry } from '../forms/change-entries.ts';
import { readTrial } from '../forms/thresholds.ts';
import { nudgePreview } from '../nudge.ts';
import type { Turns } from '../turns.ts';
import { type App, answers, ofDay, ofEntry } from './app.ts';

/** One entry: its verdict, its traces, its clocks, and what a person decides about it. */
export function entryRoutes(app: App, desk: Desk, turns: Turns): void {
  const viewSchema = { params: ofEntry, response: answers(entryView) };
  app.get('/days/:day/entries/:entry', { schema: viewSchema }, ({ params }) => entryNow(desk, params));

  const makeSchema = { params: ofDay, body: newEntry, response: answers(entryMade) };
  app.post('/days/:day/entries', { schema: makeSchema }, ({ params: { day }, body }) =>
    turns.take(day, async () => {
      const { facts, id } = withEntry(answerOf(desk.facts(day)), body);
      answerOf(await desk.setFacts(day, facts, `entry ${id} added`));
      return { entry: id };
    }),
  );

  const decideSchema = { params: ofEntry, body: entryDecision, response: answers(entryView) };
  app.patch('/days/:day/entries/:entry', { schema: decideSchema }, async ({ params, body }) => {
    const { day, entry } = params;
    await turns.take(day, async () => {
      const facts = answerOf(withDecision(answerOf(desk.facts(day)), entry, body));
      answerOf(await desk.setFacts(day, facts, `entry ${entry} decided: ${Object.keys(body).join(', ')}`));
    });
    return entryNow(desk, params);
  });

  const tracesSchema = { params: ofEntry, querystring: tracesQuery, response: answers(tracesView) };
  app.get('/days/:day/entries/:entry/traces', { schema: tracesSchema }, async ({ params, query }) =>
    encodeTraces(answerOf(await desk.record(params.day, params.entry)), query),
  );

  const trialSchema = { params: ofEntry, querystring: trialQuery, response: answers(trialView) };
  app.get('/days/:day/entries/:entry/trial', { schema: trialSchema }, async ({ params: { day, entry }, query }) => {
    const texts = answerOf(readTrial(query.set));
    const { verdicts } = answerOf(await desk.entry(day, entry));
    return encodeTrial(verdicts, answerOf(await desk.trial(day, entry, texts)));
  });

  const nudgeSchema = { params: ofEntry, querystring: nudgeQuery, response: answers(nudgeView) };
  app.get('/days/:day/entries/:entry/nudge', { schema: nudgeSchema }, async ({ params, query }) => {
    const { facts, result } = answerOf(await desk.entry(params.day, params.entry));
    const logs = answerOf(await desk.logs(params.day, params.entry));
    return answerOf(nudgePreview(logs, { alignment: result?.alignment, nudge: facts.nudge ?? 0 }, query.by));
  });

  const overlaySchema = { params: ofDay, querystring: overlayQuery, response: answers(overlayView) };
  app.get('/days/:day/overlay', { schema: overlaySchema }, async ({ params: { day }, query }) => {
    const report = answerOf(await desk.report(day));
    return answerOf(encodeOverlay({ day, query, channels: await powerChannels(desk, day, report) }, report));
  });
}

async function entryNow(desk: Desk, { day, entry }: { day: string; entry: string }) {
  const report = answerOf(await desk.entry(day, entry));
  return encodeEntry(dayName(desk, day), report, await powerChannelsOf(desk, day, report));
}

function dayName(desk: Desk, day: string): DayName {
  const facts = answerOf(desk.facts(day));
  const { title, invented } = facts;
  const sources = new Map(answerOf(desk.files(day)).map(({ name, hash }) => [name, hash]));
  return { id: day, title, invented, sources, limits: dayLimits(facts).limits };
}
