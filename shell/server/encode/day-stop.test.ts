import { expect, test } from 'vitest';
import type { DayHealth } from '../../../day/verdicts/index.ts';
import { entryStop, healthStop } from './day-stop.ts';

type Finding = DayHealth['findings'][number];

const facts = { id: 'C6', kind: 'coast-down', files: [], settings: {} } as const;
const found = (more: Partial<Finding>): Finding => ({
  ...{ kind: 'coast-force-rise', subject: 'driveline', stopClass: 2, entry: 'C6', rests: [], why: 'a test' },
  ...{ changed: [], values: [] },
  ...more,
});
const stopOf = (...findings: readonly Finding[]) => entryStop({ facts, verdicts: [] }, { findings });

test('a hold that health alone asks for stands at its entry, and what asks for it is named', () => {
  expect(stopOf(found({}))).toEqual({ stopClass: 2, found: 'coast force rise' });
  expect(stopOf(found({}), found({ kind: 'coolant-pressure-rise', stopClass: 3 }))).toEqual({
    stopClass: 3,
    found: 'coolant pressure rise',
  });
});

test('what stands at another entry, was overruled, or is not there asks for nothing', () => {
  expect(stopOf(found({ entry: 'C7' }))).toEqual({ stopClass: 0 });
  expect(stopOf(found({ overruled: 'brake freed' }))).toEqual({ stopClass: 0 });
  expect(entryStop({ facts, verdicts: [] }, undefined)).toEqual({ stopClass: 0 });
});

test('the day has ended since the first entry that called for it', () => {
  const ends = (entry: string): Finding => found({ kind: 'coolant-pressure-rise', stopClass: 3, entry });
  const since = (...findings: readonly Finding[]) => healthStop({ findings }, [])?.entry;
  expect(since(ends('25'), ends('26'))).toBe('25');
  expect(since({ ...ends('25'), overruled: 'a cap was open' }, ends('26'))).toBe('26');
});
