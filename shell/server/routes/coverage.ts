import { refused } from '../../../core/quantities/index.ts';
import { coverageQuery, coverageView } from '../../contract/index.ts';
import type { Desk } from '../../desk/index.ts';
import { answerOf } from '../answers.ts';
import { encodeCoverage, meaningsNamed } from '../encode/coverage.ts';
import { type App, answers, ofDay } from './app.ts';

/** What a set of channels could tell, before a pull is made. */
export function coverageRoutes(app: App, desk: Desk): void {
  const schema = { params: ofDay, querystring: coverageQuery, response: answers(coverageView) };
  app.get('/days/:day/coverage', { schema }, async ({ params: { day }, query }) => {
    const facts = answerOf(desk.facts(day));
    const named = query.channels === undefined ? undefined : meaningsNamed(query.channels);
    if (named && 'unknown' in named) {
      return answerOf(refused({ kind: 'invalid-request', message: `unknown channel: ${named.unknown}` }));
    }
    return encodeCoverage({ day, facts, record: await newestRecord(desk, day), ticked: named });
  });
}

/** The record of the last pull that has one. */
async function newestRecord(desk: Desk, day: string) {
  const { entries } = answerOf(desk.facts(day));
  for (const { id } of entries.filter(({ kind, files }) => kind === 'pull' && files.length > 0).toReversed()) {
    const record = await desk.record(day, id);
    if (record.ok) return record.value;
  }
  return undefined;
}
