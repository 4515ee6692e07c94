import type { DayFacts } from '../../../day/pulls/facts.ts';
import { EXAMPLE_DAY } from './example-day.ts';

/** The invented day with another title: a change that can be counted. */
export function titled(title: string): DayFacts {
  return { ...EXAMPLE_DAY, title };
}
