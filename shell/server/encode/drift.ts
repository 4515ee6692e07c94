import type { JoinedRecord } from '../../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../../day/reports/index.ts';
import type { DriftView } from '../../contract/index.ts';

type Line = DriftView['lines'][number];
type Point = Line['points'][number];

/**
 * What drifts over a day: air temperature, station pressure, losses at one speed common to all coast-downs, force reading at standstill.
 * Lines with fewer than one point are left out.
 *
 * @param records the joined record of an entry, where one could be had
 */
export function encodeDrift({ entries }: DayReport, records: ReadonlyMap<string, JoinedRecord>): DriftView {
  const lines: readonly Line[] = [
    {
      name: 'air',
      what: 'air temperature',
      kind: 'temperature',
      points: entries.flatMap((entry) => conditionPoint(entry, 'temperature')),
    },
    {
      name: 'pressure',
      what: 'station pressure',
      kind: 'barometric-pressure',
      points: entries.flatMap((entry) => conditionPoint(entry, 'pressure')),
    },
    lossLine(entries),
    {
      name: 'zero',
      what: 'force reading at standstill',
      kind: 'force',
      points: entries.flatMap((entry) => zeroPoint(entry, records)),
    },
  ];
  return { lines: lines.filter(({ points }) => points.length > 0) };
}

function conditionPoint({ facts, result }: EntryReport, which: 'temperature' | 'pressure'): Point[] {
  const value = result?.conditions[which];
  if (!value || !Number.isFinite(value.value)) return [];
  return [
    {
      entry: facts.id,
      value: value.value,
      standardUncertainty: Number.isFinite(value.standardUncertainty) ? value.standardUncertainty : undefined,
    },
  ];
}

/** Loss force at the middle of the speeds that every coast-down of the day covers; without such speeds, no line. */
function lossLine(entries: readonly EntryReport[]): Line {
  const fits = entries.flatMap(({ facts, result }) => (result?.losses ?? []).map((fit) => ({ entry: facts.id, fit })));
  const low = Math.max(...fits.map(({ fit }) => fit.segment.lowSpeed));
  const high = Math.min(...fits.map(({ fit }) => fit.segment.highSpeed));
  const v = (low + high) / 2;
  const points =
    low < high
      ? fits.map(({ entry, fit }) => ({ entry, value: fit.f0.value + fit.f1.value * v + fit.f2.value * v * v }))
      : [];
  const speed = Number.isFinite(v) ? ` at ${v.toFixed(1)} m/s` : '';
  return {
    name: 'losses',
    what: `coast-down force${speed}`,
    kind: 'force',
    points: points.filter(({ value }) => Number.isFinite(value)),
  };
}

function zeroPoint({ facts, result }: EntryReport, records: ReadonlyMap<string, JoinedRecord>): Point[] {
  const track = records.get(facts.id)?.tracks.find(({ channel }) => channel.meaning === 'brake-force');
  const still = result?.segments.filter(({ kind }) => kind === 'standstill') ?? [];
  if (!track || still.length === 0) return [];
  const values: number[] = [];
  track.times.forEach((time, at) => {
    const value = track.channel.samples[at] ?? Number.NaN;
    if (Number.isFinite(value) && still.some(({ fromTime, toTime }) => time >= fromTime && time <= toTime))
      values.push(value);
  });
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.length > 0 ? [{ entry: facts.id, value: mean }] : [];
}
