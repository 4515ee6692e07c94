import { type Measured, measured } from '../../../../core/quantities/index.ts';
import type { DayFacts } from '../../../pulls/index.ts';
import { changedBetween, type HealthEntry } from '../entries.ts';
import type { HealthUnknown } from '../result.ts';
import type { HealthLimits } from '../thresholds.ts';
import { type CoastReading, coastForce, firstGroup, sharedRange } from './reading.ts';

/**
 * What the engine alone holds back, from a coast-down in gear and those with the clutch open. At `speed` of the roll [m/s] and `engineSpeed`
 * [rad/s]: force at the tyre [N] and torque at the crank [N·m]; shared: the part of the torque's uncertainty that every drag of the day has in
 * common. bySpeed: the same over the shared range. pressure: as mean effective pressure [Pa], when the displacement is known.
 */
export interface EngineDrag {
  readonly entry: string;
  readonly open: readonly string[];
  readonly speed: number;
  readonly engineSpeed: number;
  readonly force: Measured;
  readonly torque: Measured;
  readonly shared: number;
  readonly pressure: Measured | undefined;
  readonly bySpeed: readonly { readonly engineSpeed: number; readonly torque: Measured }[];
  readonly oilTemperature: number;
  readonly changed: readonly string[];
  readonly reading: CoastReading;
}

/** One drag against the first of the day at equal engine speed; at equal oil temperature where both are known. */
export interface DragChange {
  readonly entry: string;
  readonly reference: string;
  readonly change: Measured;
  readonly deviations: number;
  readonly corrected: boolean;
  readonly changed: readonly string[];
}

/**
 * Engine drag of every coast-down in gear.
 *
 *     torque = (F_in gear − F_open)/ratio,   ratio = engine speed over roll speed [rad/m]
 *
 * Both forces at the same roll speed; the open ones of the same block, the nearest before and after, linear in time. Loss in the meshes is in
 * the drag: a few percent of it. Without one with the clutch open the drag cannot be told from the axle's.
 *
 * @source power = torque·speed at both ends of a train without slip; coast-downs in pairs: common practice, no source
 */
export function engineDrags(
  readings: readonly CoastReading[],
  {
    entries,
    facts,
    repeat,
  }: { readonly entries: readonly HealthEntry[]; readonly facts: DayFacts; readonly repeat: number },
): { readonly drags: readonly EngineDrag[]; readonly unknown: readonly HealthUnknown[] } {
  const drags: EngineDrag[] = [];
  const unknown: HealthUnknown[] = [];
  const open = readings.filter(({ clutch }) => clutch === 'open');
  for (const reading of readings.filter(({ clutch }) => clutch === 'in gear')) {
    const own = open.filter(({ entry }) => entry.block === reading.entry.block);
    const partners = nearest(reading, own.length > 0 ? own : open, entries);
    const range = partners.length > 0 ? sharedRange([reading, ...partners]) : undefined;
    if (!range || reading.ratio === undefined) {
      const why =
        reading.ratio === undefined
          ? 'missing engine speed: the ratio is unknown'
          : 'no coast-down with the clutch open through the same speeds: the axle’s part is unknown';
      unknown.push({ what: 'engine drag', entries: [reading.entry.id], why });
      continue;
    }
    drags.push(dragOf(reading, partners, { range, entries, facts, repeat, ratio: reading.ratio }));
  }
  return { drags, unknown };
}

/** Nearest before and after in time; those without a pull or a change between come first, alone where there are any. */
function nearest(
  reading: CoastReading,
  others: readonly CoastReading[],
  entries: readonly HealthEntry[],
): readonly CoastReading[] {
  const before = others.filter(({ entry }) => entry.order < reading.entry.order).at(-1);
  const after = others.find(({ entry }) => entry.order > reading.entry.order);
  const both = [before, after].filter((one): one is CoastReading => one !== undefined);
  const beside = both.filter(
    (one) =>
      firstGroup(
        [one, reading].sort((a, b) => a.entry.order - b.entry.order),
        entries,
      ).length === 2,
  );
  return beside.length > 0 ? beside : both;
}

interface About {
  readonly range: { readonly low: number; readonly high: number };
  readonly entries: readonly HealthEntry[];
  readonly facts: DayFacts;
  readonly repeat: number;
  readonly ratio: number;
}

function dragOf(reading: CoastReading, partners: readonly CoastReading[], about: About): EngineDrag {
  const { range, ratio, facts, entries } = about;
  const speed = (range.low + range.high) / 2;
  const force = addedForce(reading, partners, { speed, repeat: about.repeat });
  const share =
    reading.engineMass.standardUncertainty /
    (reading.fit.mass.value + (reading.scale > 1 ? reading.engineMass.value : 0));
  const shared = (share * coastForce(reading, speed).value) / ratio;
  const torque = measured(force.value / ratio, Math.hypot(force.standardUncertainty / ratio, shared));
  const { displacement, strokesPerCycle = 4 } = facts.engine;
  const perTorque = displacement ? (strokesPerCycle * Math.PI) / displacement.value : Number.NaN;
  return {
    ...{
      entry: reading.entry.id,
      open: partners.map(({ entry }) => entry.id),
      speed,
      engineSpeed: ratio * speed,
      force,
      torque,
      shared,
    },
    pressure: displacement && measured(torque.value * perTorque, torque.standardUncertainty * perTorque),
    bySpeed: [0.1, 0.3, 0.5, 0.7, 0.9].map((place) => {
      const at = range.low + place * (range.high - range.low);
      const here = addedForce(reading, partners, { speed: at, repeat: about.repeat });
      return {
        engineSpeed: ratio * at,
        torque: measured(here.value / ratio, Math.hypot(here.standardUncertainty / ratio, shared)),
      };
    }),
    oilTemperature: reading.oilTemperature,
    changed: partners[0]
      ? changedBetween(entries, partners[0].entry, reading.entry).filter((one) => !one.startsWith('clutch'))
      : [],
    reading,
  };
}

/** Force in gear beyond that of the open coast-downs, linear in time between them [N]. */
function addedForce(
  reading: CoastReading,
  partners: readonly CoastReading[],
  { speed, repeat }: { readonly speed: number; readonly repeat: number },
): Measured {
  const [first, last = first] = partners;
  const gone = last.entry.clock - first.entry.clock;
  const share = gone > 0 ? Math.max(0, Math.min(1, (reading.entry.clock - first.entry.clock) / gone)) : 0.5;
  const [a, b, own] = [coastForce(first, speed), coastForce(last, speed), coastForce(reading, speed)];
  const open = a.value * (1 - share) + b.value * share;
  const drift = Math.abs(b.value - a.value) / 2 / Math.sqrt(3);
  const spread = Math.hypot(a.standardUncertainty * (1 - share), b.standardUncertainty * share, repeat * open, drift);
  return measured(own.value - open, Math.hypot(own.standardUncertainty, spread, repeat * own.value));
}

/** Each drag against the first of the day. @source friction falls with oil temperature: threshold `drag.per-kelvin` */
export function dragChanges(
  drags: readonly EngineDrag[],
  limits: HealthLimits,
  entries: readonly HealthEntry[],
): readonly DragChange[] {
  const [first, ...later] = drags;
  if (!first) return [];
  return later.flatMap((drag) => {
    const engineSpeed = Math.min(highest(first), highest(drag), Math.max(first.engineSpeed, drag.engineSpeed));
    const [here, there] = [torqueAt(drag, engineSpeed), torqueAt(first, engineSpeed)];
    if (!here || !there || !(there.value > 0)) return [];
    const warmer = drag.oilTemperature - first.oilTemperature;
    const corrected = Number.isFinite(warmer);
    const share = corrected ? limits['drag.per-kelvin'].value * warmer : 0;
    const own = (one: Measured, shared: number): number =>
      Math.sqrt(Math.max(0, one.standardUncertainty ** 2 - shared ** 2)) / one.value;
    const random = Math.hypot(
      own(here, drag.shared),
      own(there, first.shared),
      limits['drag.repeat'].value * Math.SQRT2,
    );
    const ratio = here.value / there.value;
    const change = measured(
      ratio * (1 + share) - 1,
      Math.hypot(ratio * random, share * limits['coast.per-kelvin-spread'].value),
    );
    return [
      {
        ...{ entry: drag.entry, reference: first.entry, change, corrected },
        deviations: change.value / change.standardUncertainty,
        changed: changedBetween(entries, first.reading.entry, drag.reading.entry),
      },
    ];
  });
}

function highest({ bySpeed }: EngineDrag): number {
  return bySpeed[bySpeed.length - 1]?.engineSpeed ?? Number.NaN;
}

/** Drag at an engine speed, straight between the listed ones; undefined outside them. */
function torqueAt({ bySpeed }: EngineDrag, engineSpeed: number): Measured | undefined {
  for (let i = 1; i < bySpeed.length; i++) {
    const [a, b] = [bySpeed[i - 1], bySpeed[i]];
    if (!(a.engineSpeed <= engineSpeed && engineSpeed <= b.engineSpeed)) continue;
    const place = (engineSpeed - a.engineSpeed) / (b.engineSpeed - a.engineSpeed);
    return measured(
      a.torque.value + place * (b.torque.value - a.torque.value),
      a.torque.standardUncertainty + place * (b.torque.standardUncertainty - a.torque.standardUncertainty),
    );
  }
  return undefined;
}
