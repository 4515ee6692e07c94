import { describe, expect, test } from 'vitest';
import type { StripEntry } from '../../contract/index.ts';
import { driftRow, minutesOf, stripLayout } from './strip-layout.ts';

const entry = (id: string, clock?: string, value?: number): StripEntry => ({
  id,
  kind: 'pull',
  sentence: '',
  standing: 'valid',
  pulls: 1,
  findings: { note: 0, doubt: 0, fault: 0 },
  ...(clock !== undefined && { clock }),
  ...(value !== undefined && { peak: { value, standardUncertainty: 1000 } }),
});
const box = { width: 1000, height: 300 };

describe('the strip', () => {
  test('of an empty day has no marks and no levels', () => {
    expect(stripLayout([], box)).toMatchObject({ width: 1000, marks: [], levels: [] });
  });

  test('one entry without a peak has no block', () => {
    expect(stripLayout([entry('a', '09:00')], box).marks[0]?.block).toBeUndefined();
  });

  test('time runs to the right in proportion, never closer than a step', () => {
    const xs = stripLayout([entry('a', '09:00'), entry('b', '09:00'), entry('c', '10:00'), entry('d')], box).marks.map(
      ({ x }) => x,
    );
    expect((xs[1] ?? 0) - (xs[0] ?? 0)).toBe(58);
    expect((xs[2] ?? 0) - (xs[1] ?? 0)).toBeGreaterThan(500);
    expect((xs[3] ?? 0) - (xs[2] ?? 0)).toBe(58);
  });

  test('a clock that jumps back does not move a mark back', () => {
    const [first, second] = stripLayout([entry('a', '12:00'), entry('b', '11:00')], box).marks;
    expect(second?.x).toBeGreaterThan(first?.x ?? 0);
  });

  test('a long day grows beyond the box instead of crowding', () => {
    const many = Array.from({ length: 60 }, (_, at) => entry(String(at)));
    const { width, step } = stripLayout(many, box);
    expect(step).toBe(31);
    expect(width).toBeGreaterThan(1700);
  });

  test('clocks that would run into each other are left out, the first stays', () => {
    const { marks } = stripLayout(
      Array.from({ length: 40 }, (_, at) => entry(String(at), '09:00')),
      box,
    );
    const shown = marks.filter(({ clock }) => clock !== '');
    expect(shown[0]).toBe(marks[0]);
    expect(shown.every(({ x }, at) => at === 0 || x - (shown[at - 1]?.x ?? 0) >= 46)).toBe(true);
  });

  test('the block is as high as the band, and the highest fills the height', () => {
    const { marks, ground } = stripLayout([entry('a', '09:00', 99_000), entry('b', '09:10', 198_000)], box);
    const [low, high] = marks.map(({ block }) => block);
    expect(high?.top).toBeGreaterThan(10);
    expect(high?.top).toBeLessThan(23);
    expect((ground - (high?.peak ?? 0)) / (ground - (low?.peak ?? 0))).toBeGreaterThan(2);
    expect(((low?.top ?? 0) + (low?.bottom ?? 0)) / 2).toBeCloseTo(low?.peak ?? 0, 6);
  });

  test('two pulls that differ by two per cent stand visibly apart', () => {
    const { marks, levels, ground } = stripLayout([entry('a', '09:00', 275_000), entry('b', '09:10', 280_500)], box);
    const [low, high] = marks.map(({ block }) => block);
    expect((low?.peak ?? 0) - (high?.peak ?? 0)).toBeGreaterThan(30);
    expect(levels[0]).toEqual({ value: 270_000, y: ground });
  });
});

test('a drift line spans its own range; a level one runs through the middle', () => {
  const { marks } = stripLayout([entry('a', '09:00'), entry('b', '10:00')], box);
  const line = (one: number, other: number) => ({
    name: 'air',
    what: 'air',
    kind: 'temperature' as const,
    points: [
      { entry: 'a', value: one },
      { entry: 'b', value: other },
      { entry: 'gone', value: one },
    ],
  });
  expect(driftRow(line(290, 300), marks, 40).dots.map(({ y }) => y)).toEqual([35, 5]);
  expect(driftRow(line(290, 290), marks, 40).dots.map(({ y }) => y)).toEqual([20, 20]);
});

test.each([
  [undefined, undefined],
  ['9:00', undefined],
  ['09:30', 570],
  ['09:30:30', 570.5],
])('clock %s is minute %s', (clock, minute) => {
  expect(minutesOf(clock)).toBe(minute);
});
