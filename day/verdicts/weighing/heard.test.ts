import { expect, test } from 'vitest';
import type { Candidate } from './candidate.ts';
import { HEARD, heard, isBlindTwin } from './heard.ts';

const candidate = (fault: Candidate['fault'], answer: Candidate['answer'], strength = 0): Candidate => ({
  ...{ fault, answer, strength },
  subject: 'spark',
});

test('what was seen surely is believed even where the tables say next to nothing', () => {
  const [seen] = heard([candidate('ignition-breakup', 'seen', 0.9)], [0.05]);
  expect(seen).toBeCloseTo(HEARD.all * 0.9, 12);
});

test('what was seen faintly is not', () => {
  const [seen] = heard([candidate('ignition-breakup', 'seen', 0.5)], [0.05]);
  expect(seen).toBeLessThan(0.5);
});

test('a cause whose detector looked and saw nothing does not lead over one that was seen', () => {
  const [seen, unseen] = heard(
    [candidate('ignition-breakup', 'seen', 0.75), candidate('rev-or-torque-cut', 'not seen')],
    [0.05, 0.31],
  );
  expect(seen).toBeCloseTo(HEARD.all * 0.75, 12);
  expect(unseen).toBeCloseTo(HEARD.unseen * HEARD.all * 0.75, 12);
});

test('a cause that nobody could look for stays beside it', () => {
  const [seen, blind] = heard(
    [candidate('wheel-slip', 'seen', 0.9), candidate('converter-slip', 'cannot tell')],
    [0.3, 0.6],
  );
  expect(seen + blind).toBeLessThanOrEqual(1 + 1e-12);
  expect(seen).toBeGreaterThan(blind);
});

test('two that were seen share what the tables give, in their proportion', () => {
  const [knock, early] = heard([candidate('knock', 'seen', 0.95), candidate('pre-ignition', 'seen', 0.55)], [0.6, 0.3]);
  expect([knock, early]).toEqual([0.6, 0.3]);
});

test('nothing changes where the tables already believe, and without anything seen', () => {
  expect(heard([candidate('knock', 'seen', 0.7)], [0.93])).toEqual([0.93]);
  expect(heard([candidate('knock', 'not seen')], [0.1])).toEqual([0.1]);
});

test('what was seen is heard for a twin as well that only its missing channel hides', () => {
  const told = heard([candidate('wheel-slip', 'seen', 0.9), candidate('clutch-slip', 'cannot tell')], [0.04, 0.02]);
  // Least sum 0.7·0.9, parted as (0.04 + 0.02) to (0.02 + 0.02).
  expect(told[0]).toBeCloseTo(0.63 * 0.6, 12);
  expect(told[1]).toBeCloseTo(0.63 * 0.4, 12);
});

test('a blind twin may have as much as the one that was seen: nothing but its missing channel parts them', () => {
  const told = heard([candidate('wheel-slip', 'seen', 0.9), candidate('clutch-slip', 'cannot tell')], [0.1, 0.6]);
  expect(told[1]).toBeCloseTo(told[0], 12);
  expect(told[0] + told[1]).toBeGreaterThanOrEqual(0.7 * 0.9 - 1e-12);
});

test('a twin that there is none of is no blind one: a car without a clutch', () => {
  const none = { ...candidate('clutch-slip', 'cannot tell'), missing: [] };
  const told = heard([candidate('wheel-slip', 'seen', 0.9), none], [0.8, 0.01]);
  expect(told).toEqual([0.8, 0.01]);
  const hidden = { ...none, missing: ['wheel-speed'] };
  expect(isBlindTwin(candidate('wheel-slip', 'seen', 0.9), hidden)).toBe(true);
  expect(isBlindTwin(candidate('wheel-slip', 'seen', 0.9), none)).toBe(false);
});
