import { median } from '../../core/numerics/index.ts';
import type { Finding, Outcome } from '../../core/quantities/index.ts';
import { mapOfTable, observationsOf, taughtModel } from '../../day/plans/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import { type DayReport, resultsOf } from '../../day/reports/index.ts';
import type { VerdictInput } from '../../day/verdicts/index.ts';
import type { DayEngine } from './desk.ts';
import type { ReadTable } from './reading.ts';

interface EngineInput {
  readonly facts: DayFacts;
  readonly report: DayReport;
  /** What each pull was judged from, in the order of the day. */
  readonly asked: readonly VerdictInput[];
  /** The file with the compressor map as it was read; undefined where there is none. */
  readonly map: Outcome<ReadTable> | undefined;
}

/** The engine of a day from its facts, its clean pulls and the map of its compressor. */
export function dayEngine({ facts, report, asked, map }: EngineInput): DayEngine {
  const named = facts.parts?.compressorMap;
  const read = map?.ok ? mapOfTable(map.value.table) : map;
  const findings: Finding[] = read?.ok ? [...read.findings] : [];
  if (read?.ok === false) findings.push(notRead(named ?? '', read.refusal.message));
  if (named !== undefined && !map) findings.push(notRead(named, 'missing file: it is not in the day’s folder'));
  const verdicts = { pulls: report.entries.flatMap((entry) => entry.verdicts), asked, findings: [] };
  const results = resultsOf(report);
  const model = taughtModel({ facts, verdicts, results, map: read?.ok ? read.value : undefined });
  const { points: seen } = observationsOf({ verdicts, results });
  const last = lastPressure(asked);
  const ambient = model.values.get('ambientPressure')?.value ?? Number.NaN;
  return { model, step: { manifoldPressure: last?.pressure ?? ambient }, from: last?.entry, seen, findings };
}

function notRead(file: string, message: string): Finding {
  return { kind: 'map-not-read', weight: 'fault', message: `${file} could not be read: ${message}`, place: { file } };
}

/** Manifold pressure at full load of the last pull that logged it: median, to the kilopascal. */
function lastPressure(
  asked: readonly VerdictInput[],
): { readonly entry: string; readonly pressure: number } | undefined {
  for (const { scene } of asked.toReversed()) {
    const track = scene.tracks.find(({ meaning }) => meaning === 'manifold-pressure');
    const at = (time: number): boolean => time >= scene.from && time <= scene.to;
    const values = track?.values.filter((value, i) => Number.isFinite(value) && at(track.times[i] ?? Number.NaN));
    if (values && values.length > 0)
      return { entry: scene.entry, pressure: Math.round(median(values, 'skip') / 1e3) * 1e3 };
  }
  return undefined;
}
