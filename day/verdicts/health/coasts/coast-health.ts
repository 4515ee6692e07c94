import { type KnownDeviation, repeatDeviation } from '../../../../core/numerics/index.ts';
import { measured } from '../../../../core/quantities/index.ts';
import type { DayFacts } from '../../../pulls/index.ts';
import type { StopClass } from '../../detector.ts';
import { differingSettings, type HealthEntry } from '../entries.ts';
import { type HealthFinding, type HealthPart, type HealthUnknown, heldValue } from '../result.ts';
import type { HealthLimits } from '../thresholds.ts';
import { type CoastChange, coastChanges } from './coast-change.ts';
import { type DragChange, dragChanges, type EngineDrag, engineDrags } from './engine-drag.ts';
import { type CoastReading, coastForce, coastReadings, sharedRange } from './reading.ts';

/** Coast-downs of a day: what each measured, how each stands against earlier ones, what the engine alone holds back. repeat: of one coast-down [1]. */
export interface CoastHealth extends HealthPart {
  readonly readings: readonly CoastReading[];
  readonly changes: readonly CoastChange[];
  readonly drags: readonly EngineDrag[];
  readonly dragChanges: readonly DragChange[];
  readonly repeat: KnownDeviation;
}

/** Health by coast-downs. @source limits: thresholds `coast.…` and `drag.…` */
export function coastHealth(entries: readonly HealthEntry[], facts: DayFacts, limits: HealthLimits): CoastHealth {
  const readings = coastReadings(entries, facts);
  const repeat = coastRepeat(readings, entries, limits);
  const changes = coastChanges(readings, { entries, limits, repeat });
  const { drags, unknown } = engineDrags(readings, { entries, facts, repeat: repeat.value });
  const byDrag = dragChanges(drags, limits, entries);
  return {
    ...{ readings, changes, drags, dragChanges: byDrag, repeat },
    findings: [
      ...changes.flatMap((change) => coastFinding(change, { limits, changes, drags: byDrag })),
      ...byDrag.flatMap((change) => dragFinding(change, { limits, changes })),
    ],
    unknown: [...unknown, ...whatIsMissing(readings, drags), ...notFitted(entries)],
  };
}

/** Deviation of a repeated coast-down [1]: belief, and pairs of the day without pull or change between. */
export function coastRepeat(
  readings: readonly CoastReading[],
  entries: readonly HealthEntry[],
  limits: HealthLimits,
): KnownDeviation {
  const groups = readings.slice(1).flatMap((second, i) => {
    const first = readings[i];
    const between = entries.slice(first.entry.order + 1, second.entry.order);
    const apart = first.clutch !== second.clutch || differingSettings(first.entry, second.entry).length > 0;
    const range = sharedRange([first, second]);
    if (apart || !range || between.some(({ facts }) => facts.kind === 'pull' || facts.kind === 'change')) return [];
    const speed = (range.low + range.high) / 2;
    return [[Math.log(coastForce(first, speed).value), Math.log(coastForce(second, speed).value)]];
  });
  const prior = { value: limits['coast.repeat'].value, degreesOfFreedom: limits['repeat.weight'].value };
  return repeatDeviation({ groups, prior });
}

/** Hotter than at the reference by this is a sign of its own [K]. @source common practice, no source */
const HOT = 10;

interface Beside {
  readonly limits: HealthLimits;
  readonly changes: readonly CoastChange[];
  readonly drags?: readonly DragChange[];
}

function coastFinding(change: CoastChange, { limits, changes, drags = [] }: Beside): readonly HealthFinding[] {
  const stopClass = coastClass(change, limits);
  if (stopClass === undefined) return [];
  const hot = [...change.warmer].filter(([, kelvin]) => kelvin > HOT);
  return [
    {
      ...{ kind: 'coast-force-rise', subject: 'driveline', entry: change.entry, changed: change.changed },
      stopClass: change.sameSettings || hot.length > 0 ? stopClass : capped(stopClass),
      rests: [change.entry, ...change.reference],
      values: [
        heldValue(
          'coast-down force over reference, less 1',
          change.change,
          limits[limitName(change.change.value, limits)],
        ),
        heldValue('as measured, temperature not allowed for', change.raw, { kind: 'fraction', source: 'measured' }),
        heldValue('in standard uncertainties', measured(change.deviations, 0), limits['coast.flag-deviations']),
        heldValue('force', change.force, { kind: 'force', source: 'coast-down fit' }),
        ...hot.map(([name, kelvin]) =>
          heldValue(`${name} above reference`, measured(kelvin, 0.5), {
            kind: 'temperature-difference',
            value: HOT,
            source: 'common practice, no source',
          }),
        ),
      ],
      why: whyCoast(change, changes, drags),
    },
  ];
}

function limitName(change: number, limits: HealthLimits): 'coast.note' | 'coast.flag' | 'coast.hold' {
  if (change > limits['coast.hold'].value) return 'coast.hold';
  return change > limits['coast.flag'].value ? 'coast.flag' : 'coast.note';
}

function coastClass({ change, deviations }: CoastChange, limits: HealthLimits): StopClass | undefined {
  const sure = deviations > limits['significance'].value;
  const flagged =
    (change.value > limits['coast.flag'].value && sure) || deviations > limits['coast.flag-deviations'].value;
  if (change.value > limits['coast.hold'].value && sure) return 2;
  if (flagged) return 1;
  return change.value > limits['coast.note'].value && sure ? 0 : undefined;
}

/** Where straps or other settings differ a rise has another simple cause: repeat the coast-down, no more. */
function capped(stopClass: StopClass): StopClass {
  return stopClass > 1 ? 1 : stopClass;
}

function whyCoast(change: CoastChange, changes: readonly CoastChange[], drags: readonly DragChange[]): string {
  const confounded = change.sameSettings ? '' : '; settings differ, which may be the whole cause';
  const shape = Number.isNaN(change.constant)
    ? 'how it goes with speed cannot be told'
    : change.constant > 0.7
      ? 'the same at every speed: dragging brake or a bearing’s preload'
      : change.constant < 0.3
        ? 'grows with speed: oil, bearings, tyres'
        : 'partly constant, partly growing with speed';
  if (change.clutch === 'open') return `not the engine: risen with the clutch open; ${shape}${confounded}`;
  const open = changes.some(
    (one) => one.clutch === 'open' && one.change.value > 0.5 * change.change.value && one.deviations > 2,
  );
  if (open) return `risen in gear and with the clutch open too: not the engine; ${shape}${confounded}`;
  const drag = drags.find(({ entry }) => entry === change.entry);
  return drag
    ? `risen in gear; the engine’s own part is told apart beside${confounded}`
    : `risen in gear; without one with the clutch open beside it engine and axle cannot be told apart${confounded}`;
}

function dragFinding(drag: DragChange, { limits }: Beside): readonly HealthFinding[] {
  const sure = drag.deviations > limits['significance'].value;
  const stop = limits['drag.stop'];
  const flag = limits['drag.flag'];
  const flagged = sure && (drag.change.value > flag.value || drag.deviations > limits['coast.flag-deviations'].value);
  if (!flagged) return [];
  const stopClass = drag.change.value > stop.value ? 3 : 2;
  return [
    {
      ...{ kind: 'engine-drag-rise', subject: 'loads', stopClass, entry: drag.entry, changed: drag.changed },
      rests: [drag.entry, drag.reference],
      values: [
        heldValue('engine drag over reference, less 1', drag.change, stopClass === 3 ? stop : flag),
        heldValue('in standard uncertainties', measured(drag.deviations, 0), limits['coast.flag-deviations']),
      ],
      why: `the engine itself holds back more${drag.corrected ? ' at equal oil temperature' : '; oil temperature unknown'}: with falling oil pressure a bearing, with crankcase pressure rings or piston`,
    },
  ];
}

function whatIsMissing(readings: readonly CoastReading[], drags: readonly EngineDrag[]): readonly HealthUnknown[] {
  if (readings.length === 0) return [{ what: 'coast-down force', entries: [], why: 'no coast-down on this day' }];
  const missing: HealthUnknown[] = [];
  const first = readings[0];
  if (readings.length === 1)
    missing.push({ what: 'change of the coast-down force', entries: [first.entry.id], why: 'one coast-down only' });
  if (drags.length === 0 && !readings.some(({ clutch }) => clutch === 'in gear')) {
    missing.push({ what: 'engine drag', entries: readings.map(({ entry }) => entry.id), why: 'no coast-down in gear' });
  }
  if (drags.length === 1)
    missing.push({ what: 'change of the engine drag', entries: [drags[0].entry], why: 'one coast-down in gear only' });
  const unknown = readings.filter(({ clutch }) => clutch === 'unknown').map(({ entry }) => entry.id);
  if (unknown.length > 0)
    missing.push({ what: 'coast-down force', entries: unknown, why: 'clutch not stated and not seen' });
  return missing;
}

/** Coast-downs with a log that gave no losses. */
function notFitted(entries: readonly HealthEntry[]): readonly HealthUnknown[] {
  const without = entries.filter(({ facts, open }) => facts.kind === 'coast-down' && open && open.losses.length === 0);
  if (without.length === 0) return [];
  const why = 'no losses could be fitted: too short, too narrow in speed, or no roll speed';
  return [{ what: 'coast-down force', entries: without.map(({ id }) => id), why }];
}
