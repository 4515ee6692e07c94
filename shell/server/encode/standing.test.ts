import { describe, expect, test } from 'vitest';
import type { Finding } from '../../../core/quantities/index.ts';
import type { EntryResult } from '../../../day/pulls/index.ts';
import { SMALL_FACTS, smallReport } from '../testing/small-day.ts';
import { smallDesk } from '../testing/small-desk.ts';
import { powerChannelsOf } from './power-channels.ts';
import { pullStanding, reasonsOf } from './standing.ts';

const fault = (more: Partial<Finding>): Finding => ({ kind: 'stuck', weight: 'fault', message: '', ...more });
const FORCE = { file: 'roller.csv', channel: 'force' };

/** How an otherwise clean pull stands with these findings about its logs, or about itself. */
async function standing(
  findings: readonly Finding[],
  own: readonly Finding[] = [],
  rule: 'none' | 'SAE J1349' = 'none',
) {
  const facts = SMALL_FACTS.entries[1];
  const report = facts && smallReport(facts, 1);
  const [pull] = report?.result?.pulls ?? [];
  if (!report?.result || !pull) throw new Error('missing pull');
  const result: EntryResult = { ...report.result, findings };
  const channels = await powerChannelsOf(smallDesk(), 'plateau', { ...report, result });
  return pullStanding({ ...pull, curve: { ...pull.curve, rule }, findings: own }, result, channels);
}

describe('what a finding does to the word', () => {
  test.each<[string, readonly Finding[], string]>([
    ['nothing found', [], 'valid'],
    ['a note', [fault({ weight: 'note', place: FORCE })], 'valid'],
    ['a fault of a channel that power is not made of', [fault({ place: { channel: 'lambda' } })], 'valid'],
    ['a doubt about the whole force channel', [fault({ weight: 'doubt', place: FORCE })], 'doubtful'],
    ['a fault of the force during the pull', [fault({ place: { ...FORCE, from: 8, to: 9 } })], 'windows'],
    ['a fault of the force before the pull', [fault({ place: { ...FORCE, from: 0, to: 0.1 } })], 'valid'],
    [
      'a gap, which shows as void points',
      [fault({ kind: 'gap', weight: 'doubt', place: { from: 8, to: 9 } })],
      'valid',
    ],
    ['a doubt about the whole record', [fault({ kind: 'weak-correlation', weight: 'doubt' })], 'doubtful'],
  ])('%s', async (_, findings, word) => {
    expect(await standing(findings)).toBe(word);
  });

  test('a doubt about the power itself counts', async () => {
    expect(await standing([], [fault({ kind: 'loss-across-change', weight: 'doubt' })])).toBe('doubtful');
  });

  test('an entry whose channels are not known keeps every doubt', () => {
    const facts = SMALL_FACTS.entries[1];
    const report = facts && smallReport(facts, 1);
    const [pull] = report?.result?.pulls ?? [];
    if (!report?.result || !pull) throw new Error('missing pull');
    const result = { ...report.result, findings: [fault({ place: { channel: 'lambda' } })] };
    expect(pullStanding(pull, result, new Map())).toBe('doubtful');
  });
});

test('the reasons are the doubts that were weighed, each once', async () => {
  const facts = SMALL_FACTS.entries[1];
  const report = facts && smallReport(facts, 1);
  if (!report?.result) throw new Error('missing result');
  const doubt = fault({ weight: 'doubt', message: 'the force steps', place: FORCE });
  const other = fault({ message: 'lambda is stuck', place: { file: 'engine.csv', channel: 'lambda' } });
  const doubted = { ...report, result: { ...report.result, findings: [doubt, doubt, other] } };
  expect(reasonsOf(doubted, await powerChannelsOf(smallDesk(), 'plateau', doubted))).toEqual(['the force steps']);
});

describe('the state of the air', () => {
  const away: Finding = { kind: 'ambient-rule-out-of-validity', weight: 'doubt', message: '' };

  test.each(['none', 'SAE J1349'] as const)('counts only where a rule corrects with it: %s', async (rule) => {
    const facts = SMALL_FACTS.entries[1];
    const report = facts && smallReport(facts, 1);
    const [pull] = report?.result?.pulls ?? [];
    if (!report?.result || !pull) throw new Error('missing pull');
    const result = { ...report.result, findings: [], conditions: { ...report.result.conditions, findings: [away] } };
    const word = pullStanding({ ...pull, curve: { ...pull.curve, rule } }, result, new Map());
    expect(word).toBe(rule === 'none' ? 'valid' : 'doubtful');
  });
});
