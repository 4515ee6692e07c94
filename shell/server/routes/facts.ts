import type { DayFacts } from '../../../day/pulls/index.ts';
import {
  type FactsView,
  factsChange,
  factsView,
  gateView,
  thresholdsChange,
  thresholdsView,
} from '../../contract/index.ts';
import type { Desk } from '../../desk/index.ts';
import { answerOf, RefusedRequest } from '../answers.ts';
import { readFacts } from '../forms/read-facts.ts';
import { readThresholds, writeThresholds } from '../forms/thresholds.ts';
import { writeFacts } from '../forms/write-facts.ts';
import { gateOf } from '../gate.ts';
import type { Turns } from '../turns.ts';
import { type App, answers, ofDay } from './app.ts';
import { summaryOf } from './summary.ts';

/** What a person knows about a day, as texts with units; and the gate before a pull. */
export function factsRoutes(app: App, desk: Desk, turns: Turns): void {
  app.get('/days/:day/facts', { schema: { params: ofDay, response: answers(factsView) } }, ({ params }) =>
    encodeFacts(params.day, answerOf(desk.facts(params.day))),
  );

  const putSchema = { params: ofDay, body: factsChange, response: answers(factsView) };
  app.put('/days/:day/facts', { schema: putSchema }, ({ params: { day }, body }) =>
    turns.take(day, async () => {
      const read = readFacts(answerOf(desk.facts(day)), body.texts);
      if (!read.ok) throw new RefusedRequest(read.refusal, read.fields);
      return encodeFacts(day, answerOf(await desk.setFacts(day, read.facts, body.why)));
    }),
  );

  app.post('/days/:day/undo', { schema: { params: ofDay, response: answers(factsView) } }, ({ params: { day } }) =>
    turns.take(day, async () => encodeFacts(day, answerOf(await desk.undo(day)))),
  );

  const limitsSchema = { params: ofDay, response: answers(thresholdsView) };
  app.get('/days/:day/thresholds', { schema: limitsSchema }, ({ params: { day } }) =>
    writeThresholds(day, answerOf(desk.facts(day))),
  );

  const setSchema = { ...limitsSchema, body: thresholdsChange };
  app.put('/days/:day/thresholds', { schema: setSchema }, ({ params: { day }, body }) =>
    turns.take(day, async () => {
      const read = readThresholds(answerOf(desk.facts(day)), body);
      if (!read.ok) throw new RefusedRequest(read.refusal, read.fields);
      const why = `thresholds set: ${Object.keys(body.texts).join(', ')}`;
      return writeThresholds(day, answerOf(await desk.setFacts(day, read.facts, why)));
    }),
  );

  app.get('/days/:day/gate', { schema: { params: ofDay, response: answers(gateView) } }, async ({ params }) =>
    gateOf(
      summaryOf(desk, params.day),
      answerOf(await desk.report(params.day)),
      answerOf(await desk.health(params.day)),
    ),
  );
}

function encodeFacts(day: string, facts: DayFacts): FactsView {
  const { title, invented } = facts;
  return { day, title, ...(invented !== undefined && { invented }), fields: writeFacts(facts) };
}
