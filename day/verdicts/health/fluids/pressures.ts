import { measured } from '../../../../core/quantities/index.ts';
import type { StopClass } from '../../detector.ts';
import { middle } from '../../scene/series.ts';
import type { HealthEntry } from '../entries.ts';
import { coolantSpec, crankcaseSpec } from '../lines/line-table.ts';
import { type LineSource, type LineSpec, type PullLine, pullLine } from '../lines/pull-line.ts';
import { cellValue, type PullState } from '../pull-state.ts';
import { type HealthFinding, type HealthPart, type HealthUnknown, heldValue } from '../result.ts';
import type { HealthLimits } from '../thresholds.ts';

/** A line over the day's pulls with what it found. */
export interface PressureHealth extends HealthPart {
  readonly line: PullLine | undefined;
}

export interface FluidQuestion {
  readonly pulls: readonly PullState[];
  readonly entries: readonly HealthEntry[];
  readonly limits: HealthLimits;
}

/** Crankcase pressure at equal engine speed and manifold pressure. @source limits: thresholds `crankcase.…` */
export function crankcaseHealth(question: FluidQuestion): PressureHealth {
  const { limits } = question;
  const { line, unknown } = lineOf(crankcaseSpec(limits), question);
  const usual = line
    ? middle(baselineOf(line).flatMap(({ cells }) => cells.map((cell) => cellValue(cell, 'crankcase-pressure'))))
    : Number.NaN;
  const findings = atPoints(line, (point, i) => {
    const { value, standardUncertainty } = point.deviation;
    if (!(value > limits['significance'].value * standardUncertainty)) return [];
    const times = usual > limits['crankcase.meaningful'].value ? 1 + value / usual : Number.NaN;
    const risen = value > limits['crankcase.rise'].value;
    if (!risen && !(times > limits['crankcase.times'].value)) return [];
    return [
      {
        ...{
          kind: 'crankcase-pressure-rise',
          subject: 'loads',
          stopClass: 2,
          entry: point.entry,
          changed: point.changed,
        },
        rests: restsOf(line, i),
        values: [
          heldValue('crankcase pressure above that at equal load', point.deviation, limits['crankcase.rise']),
          ...(Number.isFinite(times)
            ? [heldValue('times its usual', measured(times, standardUncertainty / usual), limits['crankcase.times'])]
            : []),
        ],
        why: 'more gas past the rings, a blocked breather or the turbocharger’s seal: leak-down tells them apart',
      },
    ];
  });
  return { line, findings, unknown };
}

/** Coolant pressure at equal engine speed and coolant temperature, and its level before the pulls. @source limits: thresholds `coolant.…` */
export function coolantHealth(question: FluidQuestion): PressureHealth {
  const { limits } = question;
  const { line, unknown } = lineOf(coolantSpec(limits), question);
  const limit = limits['coolant.rise'];
  const high = (i: number): boolean => {
    const point = line?.line.points[i];
    if (!point) return false;
    const { value, standardUncertainty } = point.deviation;
    return value > limit.value && value > limits['significance'].value * standardUncertainty;
  };
  const risen = atPoints(line, (point, i) => {
    if (!high(i)) return [];
    const repeated = high(i - 1);
    const stopClass: StopClass = repeated ? 3 : 2;
    return [
      {
        ...{ kind: 'coolant-pressure-rise', subject: 'loads', stopClass, entry: point.entry, changed: point.changed },
        rests: restsOf(line, i),
        values: [heldValue('coolant pressure above that at equal speed and temperature', point.deviation, limit)],
        why: `${repeated ? 'again' : 'first sign'}: gas in the coolant as when a head lifts; a cap or trapped air looks alike`,
      },
    ];
  });
  return { line, findings: [...risen, ...lostCoolant(question)], unknown };
}

/** Coolant pressure before the pull against that before the first ones. */
function lostCoolant({ pulls, limits }: FluidQuestion): readonly HealthFinding[] {
  const having = pulls.filter(({ starts }) => Number.isFinite(starts.get('coolant-pressure')));
  const count = limits['line.baseline'].value;
  if (having.length <= count) return [];
  const usual = middle(having.slice(0, count).map(({ starts }) => starts.get('coolant-pressure') ?? Number.NaN));
  const limit = limits['coolant.lost-share'];
  return having.slice(count).flatMap(({ entry, starts }): readonly HealthFinding[] => {
    const lost = 1 - (starts.get('coolant-pressure') ?? Number.NaN) / usual;
    if (!(usual > 20e3) || !(lost > limit.value)) return [];
    return [
      {
        ...{ kind: 'coolant-pressure-lost', subject: 'loads', stopClass: 3, entry: entry.id, changed: [] },
        rests: [entry.id, ...having.slice(0, count).map((one) => one.entry.id)],
        values: [heldValue('coolant pressure lost before the pull', measured(lost, 0.03), limit)],
        why: 'coolant pressure is gone before the pull began: coolant lost, cap open, or a colder start',
      },
    ];
  });
}

/** A line of the day's pulls, or why there is none. */
export function lineOf(
  spec: LineSpec,
  { pulls, entries, limits }: FluidQuestion,
): { readonly line: PullLine | undefined; readonly unknown: readonly HealthUnknown[] } {
  const having = pulls.filter(({ cells }) => cells.some((cell) => Number.isFinite(spec.read(cell))));
  if (having.length === 0)
    return { line: undefined, unknown: [{ what: spec.name, entries: [], why: 'missing channel' }] };
  const line = pullLine(spec, having, { entries, limits });
  if (line) return { line, unknown: [] };
  return {
    line,
    unknown: [
      { what: spec.name, entries: having.map(({ entry }) => entry.id), why: 'not enough pulls share engine speeds' },
    ],
  };
}

/** What each point of a line has to say. */
export function atPoints(
  line: PullLine | undefined,
  say: (point: PullLine['line']['points'][number], i: number) => readonly HealthFinding[],
): readonly HealthFinding[] {
  return (line?.line.points ?? []).flatMap(say);
}

/** The pulls that a line counts from. */
export function baselineOf({ line, sources }: PullLine): readonly LineSource[] {
  return sources.slice(0, line.baseline);
}

/** Entries on which one point of a line rests. */
export function restsOf(line: PullLine | undefined, i: number): readonly string[] {
  if (!line) return [];
  const { points, baseline } = line.line;
  return [...new Set([points[i].entry, ...points.slice(0, baseline).map(({ entry }) => entry)])];
}
