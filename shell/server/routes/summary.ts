import type { DaySummary, Desk } from '../../desk/index.ts';
import { RefusedRequest } from '../answers.ts';

/** The day of that id as the list shows it, or a refusal. */
export function summaryOf(desk: Desk, day: string): DaySummary {
  const found = desk.days().find(({ id }) => id === day);
  if (!found) throw new RefusedRequest({ kind: 'unknown-day', message: `unknown day: ${day}` });
  return found;
}
