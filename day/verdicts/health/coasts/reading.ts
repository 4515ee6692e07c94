import { type Measured, measured } from '../../../../core/quantities/index.ts';
import type { Meaning } from '../../../channels/index.ts';
import { type DayFacts, DEFAULTS, type LossFit, lossForce } from '../../../pulls/index.ts';
import { middle } from '../../scene/series.ts';
import { onTimes, valuesBetween } from '../../scene/track.ts';
import type { HealthEntry } from '../entries.ts';

/**
 * One coast-down as health compares it. ratio: engine speed over roll speed [rad/m], in gear only. scale: what the fitted forces have to be
 * multiplied by where the turning engine's mass was left out of the fit [1]. temperatures: of what turns, middle of the coast-down [K].
 */
export interface CoastReading {
  readonly entry: HealthEntry;
  readonly clutch: LossFit['clutch'];
  readonly fit: LossFit;
  readonly scale: number;
  readonly ratio: number | undefined;
  readonly engineMass: Measured;
  readonly temperatures: ReadonlyMap<Meaning, number>;
  readonly oilTemperature: number;
}

/** Temperatures on which a coast-down's force depends. */
export const COAST_TEMPERATURES: readonly Meaning[] = ['axle-temperature', 'gearbox-temperature', 'tyre-temperature'];

/** Every fitted coast-down of the day, in order. */
export function coastReadings(entries: readonly HealthEntry[], facts: DayFacts): readonly CoastReading[] {
  return entries.flatMap((entry) => (entry.open?.losses ?? []).map((fit) => readingOf(entry, fit, facts)));
}

function readingOf(entry: HealthEntry, fit: LossFit, facts: DayFacts): CoastReading {
  const { fromTime, toTime } = fit.segment;
  const level = (meaning: Meaning): number => {
    const of = (tracks: HealthEntry['tracks'], from: number, to: number): number =>
      middle(tracks.filter((track) => track.meaning === meaning).flatMap((track) => valuesBetween(track, from, to)));
    const joined = of(entry.tracks, fromTime, toTime);
    // On another clock the whole record stands for it: these temperatures hardly move in a coast-down.
    return Number.isFinite(joined) ? joined : of(entry.apart, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
  };
  const ratio =
    fit.clutch === 'in gear' ? (fit.segment.ratio ?? ratioSeen(entry, fit) ?? ratioStated(facts)) : undefined;
  const inertia = facts.engine.inertia ?? DEFAULTS.engineInertia;
  const engineMass =
    ratio === undefined
      ? measured(0, 0)
      : measured(inertia.value * ratio ** 2, inertia.standardUncertainty * ratio ** 2);
  const left = ratio !== undefined && fit.segment.ratio === undefined;
  return {
    ...{ entry, fit, clutch: fit.clutch, ratio, engineMass },
    scale: left ? (fit.mass.value + engineMass.value) / fit.mass.value : 1,
    temperatures: new Map(COAST_TEMPERATURES.map((meaning) => [meaning, level(meaning)])),
    oilTemperature: level('oil-temperature'),
  };
}

/** Middle ratio of engine speed and roll speed while the rolls slow down [rad/m]. */
function ratioSeen({ tracks }: HealthEntry, { segment }: LossFit): number | undefined {
  const roll = tracks.find(({ meaning }) => meaning === 'roll-speed');
  const engine = tracks.find(({ meaning }) => meaning === 'engine-speed');
  if (!roll || !engine) return undefined;
  const at = Float64Array.from(
    { length: 60 },
    (_, i) => segment.fromTime + ((i + 0.5) / 60) * (segment.toTime - segment.fromTime),
  );
  const speeds = onTimes(roll, at);
  const ratio = middle([...onTimes(engine, at)].map((omega, i) => omega / speeds[i]));
  return Number.isFinite(ratio) ? ratio : undefined;
}

function ratioStated({ vehicle }: DayFacts): number | undefined {
  return vehicle.overallRatio && vehicle.tyreRadius ? vehicle.overallRatio.value / vehicle.tyreRadius.value : undefined;
}

/** Force of a reading at a speed with the random part of its uncertainty: the fit's; the masses are shared by all coast-downs of one kind [N]. */
export function coastForce({ fit, scale }: CoastReading, speed: number): Measured {
  const away = speed - fit.middle.speed;
  const spread = Math.hypot(
    fit.middle.force.standardUncertainty,
    fit.f1.standardUncertainty * away,
    fit.f2.standardUncertainty * away * away,
  );
  return measured(scale * lossForce(fit, speed), scale * spread);
}

/** Speed range that coast-downs share [m/s]; undefined where it is too narrow to compare a slope in. @source a tenth: our default */
export function sharedRange(
  readings: readonly CoastReading[],
): { readonly low: number; readonly high: number } | undefined {
  const low = Math.max(...readings.map(({ fit }) => fit.segment.lowSpeed));
  const high = Math.min(...readings.map(({ fit }) => fit.segment.highSpeed));
  return high > 1.1 * low ? { low, high } : undefined;
}

/** The first ones in a row, with no pull and no change between them. */
export function firstGroup(
  readings: readonly CoastReading[],
  entries: readonly HealthEntry[],
): readonly CoastReading[] {
  const group: CoastReading[] = [];
  for (const reading of readings) {
    const last = group[group.length - 1];
    const between = last
      ? entries
          .slice(last.entry.order + 1, reading.entry.order)
          .some(({ facts }) => facts.kind === 'pull' || facts.kind === 'change')
      : false;
    if (between) break;
    group.push(reading);
  }
  return group;
}
