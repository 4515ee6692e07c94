import { describe, expect, test } from 'vitest';
import type { RoomView } from '../../contract/index.ts';
import { FIRST_PREFERENCES } from '../look/preferences.ts';
import { writingFor } from '../look/writing.ts';
import { roomFigure, setByWords } from './room-figure.ts';

const RPM = Math.PI / 30;
const writing = writingFor(FIRST_PREFERENCES);
type Row = RoomView['rows'][number];
const row = (rpm: number, more: Partial<Row> = {}): Row => ({
  ...{ speed: rpm * RPM, within: 350e3, passed: [], judged: true },
  even: { manifoldPressure: 210e3, standardUncertainty: 5e3, limit: 'head clamp' },
  safe: { manifoldPressure: 202e3, standardUncertainty: null, limit: 'head clamp' },
  ...more,
});

describe('the picture of how far each speed may go', () => {
  test('both lines in kPa over rpm, the band two standard uncertainties, the step as a level', () => {
    const { lines, levels, hatches } = roomFigure({ rows: [row(3000), row(3500)], of: 'x', own: 200e3 }, writing);
    expect(lines[0]?.y).toEqual([210, 210]);
    expect(lines[1]?.y).toEqual([202, 202]);
    expect(lines[0]?.x[0]).toBeCloseTo(3000, 9);
    expect(lines[0]?.spread?.[0]).toBeCloseTo(10, 9);
    expect(levels).toEqual([{ y: 200, label: 'this step' }]);
    expect(hatches).toEqual([]);
  });

  test('nothing is drawn where a limit is passed at any pressure, none is met, or nineteen in twenty cannot be told', () => {
    const none: Row = { speed: 4500 * RPM, within: 350e3, passed: [], judged: true };
    const unsure = row(5000, { safe: { manifoldPressure: -3e3, standardUncertainty: null, limit: 'knock' } });
    const rows = [row(4000, { passed: ['piston speed'] }), none, unsure];
    const { lines } = roomFigure({ rows, of: 'x', own: null }, writing);
    expect(lines[0]?.y).toEqual([null, null, 210]);
    expect(lines[1]?.y).toEqual([null, null, null]);
  });

  test('speeds that no pull held are hatched up to half way to the next', () => {
    const rows = [row(3000, { judged: false }), row(4000)];
    const [hatch] = roomFigure({ rows, of: 'x', own: null }, writing).hatches;
    expect(hatch?.from).toBeCloseTo(3000, 9);
    expect(hatch?.to).toBeCloseTo(3500, 9);
  });

  test('says which limits set it, neighbouring speeds together', () => {
    const even = { manifoldPressure: 190e3, standardUncertainty: 4e3, limit: 'injector duty' };
    expect(setByWords([row(3000), row(3500), row(4000, { even })], writing)).toBe(
      'head clamp from 3000 to 3500 rpm, injector duty at 4000 rpm',
    );
  });
});
