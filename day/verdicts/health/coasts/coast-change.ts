import type { KnownDeviation } from '../../../../core/numerics/index.ts';
import { type Measured, measured } from '../../../../core/quantities/index.ts';
import { changedBetween, differingSettings, type HealthEntry } from '../entries.ts';
import type { HealthLimits, HealthThresholdName } from '../thresholds.ts';
import { COAST_TEMPERATURES, type CoastReading, coastForce, firstGroup, sharedRange } from './reading.ts';

/**
 * One coast-down against an earlier group of its kind. raw: as measured; change: at the reference's temperatures; both force over reference, less 1
 * [1]. deviations: change over its standard uncertainty. speed: where they are compared [m/s]. constant: share of the change in force that
 * does not depend on speed [1]; NaN when it cannot be told. against: `block` = nothing was changed between; `day` = the day's first ones.
 */
export interface CoastChange {
  readonly entry: string;
  readonly clutch: CoastReading['clutch'];
  readonly against: 'block' | 'day';
  readonly reference: readonly string[];
  readonly speed: number;
  readonly force: Measured;
  readonly referenceForce: Measured;
  readonly raw: Measured;
  readonly change: Measured;
  readonly deviations: number;
  readonly constant: number;
  /** Warmer than the reference by so much [K]; empty where no temperature is known in both. */
  readonly warmer: ReadonlyMap<string, number>;
  readonly notCorrected: string | undefined;
  readonly changed: readonly string[];
  readonly sameSettings: boolean;
}

interface Known {
  readonly entries: readonly HealthEntry[];
  readonly limits: HealthLimits;
  readonly repeat: KnownDeviation;
}

/** Every coast-down against the first ones of its block and against the first ones of the day; the references themselves have none. */
export function coastChanges(readings: readonly CoastReading[], known: Known): readonly CoastChange[] {
  return readings.flatMap((reading, at) => {
    const earlier = readings.slice(0, at).filter(({ clutch }) => clutch === reading.clutch && clutch !== 'unknown');
    const alike = earlier.filter((one) => differingSettings(one.entry, reading.entry).length === 0);
    const own = alike.filter(({ entry }) => entry.block === reading.entry.block);
    const byBlock = changeAgainst(reading, firstGroup(own, known.entries), { known, against: 'block' });
    const day = firstGroup(alike.length > 0 ? alike : earlier, known.entries);
    const same = byBlock && day[0] && byBlock.reference.includes(day[0].entry.id);
    const byDay = same ? undefined : changeAgainst(reading, day, { known, against: 'day' });
    return [byBlock, byDay].filter((one): one is CoastChange => one !== undefined);
  });
}

function changeAgainst(
  reading: CoastReading,
  group: readonly CoastReading[],
  { known, against }: { readonly known: Known; readonly against: CoastChange['against'] },
): CoastChange | undefined {
  const range = group.length > 0 ? sharedRange([reading, ...group]) : undefined;
  const first = group[0];
  if (!range || !first) return undefined;
  const speed = (range.low + range.high) / 2;
  const here = coastForce(reading, speed);
  const there = meanForce(group, speed);
  const repeat = known.repeat.value * Math.sqrt(1 + 1 / group.length);
  const random = Math.hypot(here.standardUncertainty / here.value, there.standardUncertainty / there.value, repeat);
  const raw = measured(here.value / there.value - 1, random * (here.value / there.value));
  const { share, spread, warmer } = temperatureShare(reading, group, known.limits);
  const change = measured((1 + raw.value) * (1 + share) - 1, Math.hypot(raw.standardUncertainty, spread));
  return {
    ...{
      entry: reading.entry.id,
      clutch: reading.clutch,
      against,
      speed,
      force: here,
      referenceForce: there,
      raw,
      change,
      warmer,
    },
    reference: group.map(({ entry }) => entry.id),
    deviations: change.value / change.standardUncertainty,
    constant: constantShare(reading, group, range),
    notCorrected: warmer.size > 0 ? undefined : 'no axle, gearbox or tyre temperature in both: compared as measured',
    changed: changedBetween(known.entries, first.entry, reading.entry),
    sameSettings: differingSettings(first.entry, reading.entry).length === 0,
  };
}

function meanForce(group: readonly CoastReading[], speed: number): Measured {
  const forces = group.map((one) => coastForce(one, speed));
  const mean = forces.reduce((sum, { value }) => sum + value, 0) / forces.length;
  return measured(mean, Math.hypot(...forces.map((one) => one.standardUncertainty)) / forces.length);
}

const PER_KELVIN: Readonly<Record<string, HealthThresholdName>> = {
  'axle-temperature': 'coast.axle-per-kelvin',
  'gearbox-temperature': 'coast.gearbox-per-kelvin',
  'tyre-temperature': 'coast.tyre-per-kelvin',
};

/** What warmer oil and tyres take off the force, as a share of it, with its spread [1]. */
function temperatureShare(reading: CoastReading, group: readonly CoastReading[], limits: HealthLimits) {
  const warmer = new Map<string, number>();
  let share = 0;
  let square = 0;
  for (const meaning of COAST_TEMPERATURES) {
    const there = group.reduce((sum, one) => sum + (one.temperatures.get(meaning) ?? Number.NaN), 0) / group.length;
    const apart = (reading.temperatures.get(meaning) ?? Number.NaN) - there;
    if (!Number.isFinite(apart)) continue;
    warmer.set(meaning, apart);
    const part = limits[PER_KELVIN[meaning]].value * apart;
    share += part;
    square += (part * limits['coast.per-kelvin-spread'].value) ** 2;
  }
  return { share, spread: Math.sqrt(square), warmer };
}

/**
 * Share of the added force that is the same at every speed: 1 for a dragging brake or a preload, 0 for what grows with speed.
 * NaN when the added force, or its slope, is not known well enough. @source our default: slope known to half of the added force
 */
function constantShare(
  reading: CoastReading,
  group: readonly CoastReading[],
  { low, high }: { readonly low: number; readonly high: number },
): number {
  const [slow, fast] = [low + 0.15 * (high - low), high - 0.15 * (high - low)];
  const added = (speed: number): Measured => {
    const [here, there] = [coastForce(reading, speed), meanForce(group, speed)];
    return measured(here.value - there.value, Math.hypot(here.standardUncertainty, there.standardUncertainty));
  };
  const [a, b] = [added(slow), added(fast)];
  const mean = (a.value + b.value) / 2;
  const slope = (b.value - a.value) / (fast - slow);
  const slopeSpread = Math.hypot(a.standardUncertainty, b.standardUncertainty) / (fast - slow);
  const speed = (slow + fast) / 2;
  if (!(slopeSpread * speed < 0.5 * Math.abs(mean))) return Number.NaN;
  return Math.max(0, Math.min(1, 1 - (slope * speed) / mean));
}
