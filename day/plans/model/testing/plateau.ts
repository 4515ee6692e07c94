import type { CompressorMap } from '../../../../core/physics/index.ts';
import { measured } from '../../../../core/quantities/index.ts';
import type { MadeDay } from '../../../../scenarios/index.ts';
import { logsOf } from '../../../../scenarios/testing/read-day.ts';
import { parseDayText } from '../../../../shell/store/day-folder/parse.ts';
import { readDelimited } from '../../../channels/index.ts';
import { type DayFacts, type EntryResult, type PartsFacts, withDayClocks } from '../../../pulls/index.ts';
import { judgeDay, openedEntry, resultsOf } from '../../../reports/analyse-day.ts';
import { type DayVerdicts, dayVerdicts } from '../../../verdicts/index.ts';
import { mapOfTable } from '../map-of-table.ts';

const DEGREE = Math.PI / 180;

/** The build sheet of the demonstration engine, as its owner would state it. Invented. */
export const SHEET: PartsFacts = {
  bore: measured(0.083, 0),
  stroke: measured(0.0764, 0),
  rodLength: measured(0.14, 0),
  compressionRatio: measured(9.6, 0.1),
  reciprocatingMass: measured(0.58, 0.01),
  inletCloses: measured(50 * DEGREE, 3 * DEGREE),
  fuel: 'ethanol blend',
  compressorMap: 'compressor-map.csv',
  compressorWheel: measured(0.078, 0),
  turbineArea: measured(6.6e-4, 0.3e-4),
  turbineEfficiency: measured(0.64, 0.03),
  ratedAirFlow: measured(0.26, 0),
  inletLoss: measured(1200, 200),
  coolerLoss: measured(9000, 1500),
  exhaustLoss: measured(9000, 1500),
  coolerEffectiveness: measured(0.76, 0.03),
  injectors: 6,
  injectorFlow: measured(6.4e-3, 0.1e-3),
  injectorPressure: measured(350e3, 5e3),
  injectorDeadTime: measured(0, 0.05e-3),
  plugGap: measured(0.7e-3, 0.03e-3),
  coilResistance: measured(0.45, 0.02),
  coilInductance: measured(2.5e-3, 0.1e-3),
  dwell: measured(3e-3, 0.1e-3),
};

const ROWS: readonly (readonly [number, ...(readonly string[])])[] = [
  [60, '.060 1.46 .597', '.090 1.46 .704', '.120 1.44 .758', '.150 1.40 .758', '.180 1.33 .704', '.203 1.25 .629'],
  [75, '.082 1.78 .597', '.117 1.77 .704', '.152 1.75 .758', '.188 1.68 .758', '.223 1.55 .704', '.249 1.40 .629'],
  [90, '.106 2.23 .597', '.146 2.22 .704', '.185 2.18 .758', '.224 2.06 .758', '.264 1.85 .704', '.293 1.62 .629'],
  [105, '.133 2.86 .592', '.176 2.85 .699', '.219 2.78 .752', '.261 2.59 .752', '.304 2.25 .699', '.336 1.89 .623'],
  [120, '.163 3.73 .580', '.208 3.72 .684', '.253 3.61 .737', '.298 3.31 .737', '.343 2.79 .684', '.376 2.25 .611'],
  [132, '.189 4.67 .567', '.235 4.65 .669', '.281 4.49 .721', '.327 4.07 .721', '.373 3.34 .669', '.408 2.61 .598'],
];

/** Its compressor map as a file of the day. */
export const MAP_TEXT = [
  '# invented compressor; reference 298 K, 100 kPa',
  'krpm,corrected flow kg/s,pressure ratio,efficiency',
  ...ROWS.flatMap(([krpm, ...cells]) => cells.map((cell) => `${krpm},${cell.split(' ').join(',')}`)),
].join('\n');

export function tableOf(text: string) {
  const table = readDelimited({
    bytes: new TextEncoder().encode(text),
    file: 'compressor-map.csv',
    source: 'compressor-map.csv',
  });
  if (!table.ok) throw new Error(table.refusal.message);
  return table.value;
}

export function inventedMap(): CompressorMap {
  const map = mapOfTable(tableOf(MAP_TEXT));
  if (!map.ok) throw new Error(map.refusal.message);
  return map.value;
}

export interface Judged {
  readonly facts: DayFacts;
  readonly results: ReadonlyMap<string, EntryResult | undefined>;
  readonly verdicts: DayVerdicts;
}

/** A day of files as the program judges it. */
export function judged(day: Pick<MadeDay, 'files'>): Judged {
  const text = day.files.find(({ name }) => name === 'day.yaml');
  const facts = parseDayText(new TextDecoder().decode(text?.bytes));
  if (!facts.ok) throw new Error(facts.refusal.message);
  const logs = logsOf(day.files, facts.value);
  const opened = new Map(facts.value.entries.map((entry) => [entry.id, openedEntry(entry, facts.value, logs)]));
  const rated = withDayClocks(opened);
  const results = resultsOf(judgeDay(facts.value, logs, rated));
  return { facts: facts.value, results, verdicts: dayVerdicts({ facts: facts.value, rated, results }) };
}

/** The build sheet on top of what a day's file states. */
export function withSheet(facts: DayFacts): DayFacts {
  return { ...facts, parts: SHEET, engine: { ...facts.engine, turboSpeedLimit: measured(14357, 0) } };
}
