import { measured } from '../../../../core/quantities/index.ts';
import type { MadeDay } from '../../../../scenarios/index.ts';
import { logsOf } from '../../../../scenarios/testing/read-day.ts';
import { parseDayText } from '../../../../shell/store/day-folder/parse.ts';
import { type DayFacts, type EntryResult, type PartsFacts, withDayClocks } from '../../../pulls/index.ts';
import { judgeDay, openedEntry, resultsOf } from '../../../reports/analyse-day.ts';
import { type DayVerdicts, dayVerdicts } from '../../../verdicts/index.ts';

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
  const results = resultsOf(judgeDay(facts.value, logs, { rated }));
  return { facts: facts.value, results, verdicts: dayVerdicts({ facts: facts.value, rated, results }) };
}

/** The build sheet on top of what a day's file states. */
export function withSheet(facts: DayFacts): DayFacts {
  return { ...facts, parts: SHEET, engine: { ...facts.engine, turboSpeedLimit: measured(14357, 0) } };
}
