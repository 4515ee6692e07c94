import type { EngineModel, Held } from './engine-model.ts';
import type { Observation } from './observations.ts';

/** Share of the lowest speed at which pulls had a pressure, down to which it may come about [1]. @source our default: another ramp is there a little earlier */
const SLOWER = 0.95;

/** Share of a pull's usual pressure from which on it counts as held [1]. @source our default */
const THERE = 0.96;

/** From which engine speed on each pull held its pressure, rising pressure. */
export function heldOf(points: readonly Observation[]): readonly Held[] {
  const byPull = new Map<number, Observation[]>();
  for (const point of points) byPull.set(point.pull, [...(byPull.get(point.pull) ?? []), point]);
  return [...byPull.values()]
    .map((own) => {
      const sorted = own.map(({ manifoldPressure }) => manifoldPressure).sort((a, b) => a - b);
      const pressure = sorted[Math.floor(sorted.length / 2)];
      const there = own.filter(({ manifoldPressure }) => manifoldPressure >= THERE * pressure);
      return { pressure, from: Math.min(...there.map(({ speed }) => speed)) };
    })
    .sort((a, b) => a.pressure - b.pressure);
}

/** Share of a pressure that a pull must have come to for telling from which speed on it is there [1]. @source our default */
const NEAR = 0.9;

/**
 * Lowest engine speed at which a manifold pressure was held by pulls that came near it, or by those that came nearest [rad/s]; 0 without a pull.
 */
export function heldFrom(held: readonly Held[], pressure: number): number {
  const highest = held[held.length - 1]?.pressure ?? 0;
  const near = held.filter((one) => one.pressure >= Math.min(NEAR * pressure, highest));
  return near.length > 0 ? Math.min(...near.map(({ from }) => from)) : 0;
}

/**
 * Lowest engine speed at which a manifold pressure is judged [rad/s]: a little below the lowest at which pulls held it; 0 without a pull. Further
 * down the turbine has not brought it about yet, and no limit is met there.
 */
export function judgedFrom({ held = [] }: Pick<EngineModel, 'held'>, pressure: number): number {
  return SLOWER * heldFrom(held, pressure);
}
