import { expect, test } from 'vitest';
import { analyseDay } from '../../day/reports/index.ts';
import { makePlateauDay } from '../../scenarios/index.ts';
import { logsOf } from '../../scenarios/testing/read-day.ts';
import { parseDayText } from '../store/index.ts';
import { exportedCurves } from './export-entry.ts';

test('a curve as CSV has units in its second line, one row a point, and the peak of the answer', () => {
  const made = makePlateauDay({ seed: 5, pulls: ['8', 'C3'] });
  const day = parseDayText(new TextDecoder().decode(made.files[0].bytes));
  if (!day.ok) throw new Error(day.refusal.message);
  const report = analyseDay(day.value, logsOf(made.files.slice(1), day.value));
  const pulls = report.entries.find(({ facts }) => facts.id === '8')?.result?.pulls ?? [];
  const [head, units, ...rows] = new TextDecoder().decode(exportedCurves(pulls, 'csv')).trim().split(/\r?\n/);
  const names: readonly string[] = head.match(/"[^"]*"|[^,]+/g) ?? [];
  expect(units.startsWith('s,1,rad/s,m/s,W')).toBe(true);
  expect(rows.length).toBe(pulls[0].curve.time.filter(Number.isFinite).length);
  const at = names.indexOf('engine power');
  const most = Math.max(...rows.map((row) => Number(row.split(',')[at])).filter(Number.isFinite));
  const peak = pulls[0].peaks.find(({ what, basis }) => what === 'engine power' && basis === 'curve');
  expect(Math.abs(most / (peak?.value ?? Number.NaN) - 1)).toBeLessThan(0.01);
});
