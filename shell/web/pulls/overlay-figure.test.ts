import { expect, test } from 'vitest';
import type { OverlayCurve, OverlayView } from '../../contract/index.ts';
import { FIRST_PREFERENCES } from '../look/preferences.ts';
import { writingFor } from '../look/writing.ts';
import { firstFront, overlayFigure } from './overlay-figure.ts';

const writing = writingFor(FIRST_PREFERENCES);
const curve = (more: Partial<OverlayCurve> = {}): OverlayCurve => ({
  entry: 'a',
  pull: 0,
  title: 'a',
  standing: 'valid',
  engineSpeed: [100, 200, 300],
  power: [1000, 3000, 2000],
  torque: [10, 15, 7],
  uncertainty: [10, 20, 30],
  valid: [true, false, true],
  factor: 1,
  ruleValid: true,
  ruleWhy: '',
  ...more,
});
const view = (curves: OverlayCurve[]): OverlayView => ({
  day: 'd',
  dayTitle: '',
  rule: 'none',
  of: 'engine',
  curves,
  left: [],
});

test('no curves, no lines', () => {
  expect(overlayFigure(view([]), { what: 'power' }, writing).lines).toEqual([]);
});

test('a point that is not usable is not drawn', () => {
  expect(overlayFigure(view([curve()]), { what: 'power' }, writing).lines[0]?.y).toEqual([1, null, 2]);
});

test.each([
  [3, true],
  [4, false],
])('%i curves have bands: %s', (count, banded) => {
  const { lines } = overlayFigure(view(Array.from({ length: count }, () => curve())), { what: 'power' }, writing);
  expect(lines.every(({ spread }) => (spread !== undefined) === banded)).toBe(true);
});

test('one curve in front sends the others back and is drawn last', () => {
  const curves = [curve({ title: 'a' }), curve({ title: 'b' }), curve({ title: 'c' })];
  const { lines } = overlayFigure(view(curves), { what: 'torque', front: 1 }, writing);
  expect(lines.map(({ label, faint }) => `${label} ${faint}`)).toEqual(['a true', 'c true', 'b false']);
});

test('among many only the one in front has a band, and only of power', () => {
  const many = view(Array.from({ length: 9 }, () => curve()));
  const banded = (what: 'power' | 'torque') =>
    overlayFigure(many, { what, front: 0 }, writing).lines.filter(({ spread }) => spread !== undefined).length;
  expect([banded('power'), banded('torque')]).toEqual([1, 0]);
});

test.each([
  [0, undefined],
  [6, undefined],
  [7, 6],
])('of %i curves number %s stands in front at first', (count, front) => {
  expect(firstFront(view(Array.from({ length: count }, () => curve())))).toBe(front);
});
