import type { LossFit } from '../../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../../day/reports/index.ts';
import type { DriftView } from '../../contract/index.ts';

type Line = DriftView['lines'][number];
type Point = Line['points'][number];

/**
 * What drifts over a day: air temperature, station pressure, losses with the clutch open and in gear, each at one speed that its
 * coast-downs share, and the force that the brake shows while it is off. A line without a point is left out.
 */
export function encodeDrift({ entries }: DayReport): DriftView {
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
    ...CLUTCHES.map((clutch) => lossLine(entries, clutch)),
    { name: 'zero', what: 'force with the brake off', kind: 'force', points: entries.flatMap(zeroPoint) },
  ];
  return { lines: lines.filter(({ points }) => points.length > 0) };
}

const CLUTCHES: readonly LossFit['clutch'][] = ['open', 'in gear', 'unknown'];

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

/** Loss force at the middle of the speeds that these coast-downs share; without such speeds, no point. An engine that is dragged along is another thing than a car that rolls. */
function lossLine(entries: readonly EntryReport[], clutch: LossFit['clutch']): Line {
  const fits = entries.flatMap(({ facts, result }) =>
    (result?.losses ?? []).filter((fit) => fit.clutch === clutch).map((fit) => ({ entry: facts.id, fit })),
  );
  const low = Math.max(...fits.map(({ fit }) => fit.segment.lowSpeed));
  const high = Math.min(...fits.map(({ fit }) => fit.segment.highSpeed));
  const v = (low + high) / 2;
  const points =
    low < high
      ? fits.map(({ entry, fit }) => ({ entry, value: fit.f0.value + fit.f1.value * v + fit.f2.value * v * v }))
      : [];
  const how = { open: 'clutch open', 'in gear': 'in gear', unknown: 'clutch not known' }[clutch];
  return {
    name: `losses ${clutch}`,
    what: `coast-down force, ${how}`,
    ...(Number.isFinite(v) && { at: v }),
    kind: 'force',
    points: points.filter(({ value }) => Number.isFinite(value)),
  };
}

/** The force that an unexcited brake showed in the pulls of an entry; the first of them that has one. */
function zeroPoint({ facts, result }: EntryReport): Point[] {
  const findings = result?.pulls.flatMap((pull) => pull.findings) ?? [];
  const numbers = findings.find(({ kind }) => kind === 'force-zero')?.numbers;
  const [value, spread] = [numbers?.['zero'], numbers?.['standardUncertainty']];
  if (typeof value !== 'number' || !Number.isFinite(value)) return [];
  const known = typeof spread === 'number' && Number.isFinite(spread);
  return [{ entry: facts.id, value, ...(known && { standardUncertainty: spread }) }];
}
