import { AIR, isentropicRise } from '../../../core/physics/index.ts';
import { ratio, STANDARD_ATMOSPHERE } from '../../../core/quantities/index.ts';
import type { Fault } from '../fault.ts';
import type { PullScene } from '../scene/scene.ts';
import { middle } from '../scene/series.ts';
import type { Limits } from '../thresholds.ts';
import { heldAgainst, meanRatio, nearPressure, startLevel } from './references.ts';

/**
 * Turbo speed here over that of the references, as the surrounding air and the pressure reached alone would have it [1]; 1 where nothing is known.
 *
 * @source similarity: work per kilogram goes as the square of the rim speed, T·(Π^((γ−1)/γ) − 1) for the same efficiency
 */
export function expectedTurbo(scene: PullScene, limits: Limits, spoiling: readonly Fault[]): number {
  const held = heldAgainst(scene, limits, { meaning: 'manifold-pressure', spoiling });
  if (!held) return 1;
  const others = nearPressure(scene, limits, spoiling);
  const level = (each: PullScene, meaning: 'ambient-temperature' | 'barometric-pressure'): number =>
    startLevel(each, meaning);
  const warmer =
    level(scene, 'ambient-temperature') / middle(others.map((other) => level(other, 'ambient-temperature')));
  const air = level(scene, 'barometric-pressure');
  const usualAir = middle(others.map((other) => level(other, 'barometric-pressure')));
  const known = Number.isFinite(air + usualAir);
  const there = middle(held.there);
  const work = (pressure: number, outside: number): number => isentropicRise(ratio(pressure / outside), AIR);
  const risen =
    work(there * (1 + meanRatio(held)), known ? air : STANDARD_ATMOSPHERE) /
    work(there, known ? usualAir : STANDARD_ATMOSPHERE);
  const square = risen * (Number.isFinite(warmer) ? warmer : 1);
  return square > 0 ? Math.sqrt(square) : 1;
}
