import { clamp } from '../interpolate.ts';

/** Specific gas constant of dry air [J/(kg·K)]. @source CODATA gas constant over the molar mass of dry air */
export const GAS = 287.05;

/** Air through an engine at full load [kg/s] for a speed [rad/s] and a manifold pressure [Pa], at 320 K; four strokes. */
export function flowOf(engine: Breathing & { displacement: number }, speed: number, pressure: number): number {
  return (fillingOf(engine, speed) * pressure * engine.displacement * speed) / (4 * Math.PI * GAS * 320);
}

/** How an engine breathes: best volumetric efficiency, where over the redline, how steeply it falls. */
export interface Breathing {
  readonly filling: number;
  readonly peakShare: number;
  readonly fall: number;
  readonly redline: number;
}

/** Volumetric efficiency at a speed [rad/s], without what cams and back pressure change [1]. */
export function fillingOf(engine: Breathing, speed: number): number {
  const away = speed / engine.redline - engine.peakShare;
  return engine.filling * clamp(1 - 0.9 * engine.fall * away ** 2, 0.45, 1.2);
}
