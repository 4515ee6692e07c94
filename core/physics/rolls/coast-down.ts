import { quadrature } from '../../numerics/index.ts';
import { type Duration, duration, type Mass, type Speed, speed } from '../../quantities/index.ts';
import { type RoadLoad, roadLoadForce } from './road-load.ts';

export interface CoastDown {
  /** Everything that slows down, rotating parts and roll included, as mass at the surface [kg]. */
  readonly mass: Mass;
  readonly load: RoadLoad;
  readonly from: Speed;
  readonly to: Speed;
}

/**
 * Time to coast from one speed down to another [s].
 *
 *     t = M·∫ dv/(A + B·v + C·v²)
 *
 * NaN when the force is not above zero over the whole range: it would never get there.
 *
 * @valid   from ≥ to; losses that depend on speed alone
 * @source  Newton's second law; adaptive quadrature
 */
export function coastDownTime({ mass, load, from, to }: CoastDown): Duration {
  if (!(lowestForce(load, from, to) > 0) || from < to) return duration(Number.NaN);
  return duration(mass * quadrature((v) => 1 / roadLoadForce(load, speed(v)), { from: to, to: from }));
}

/** Least force between two speeds [N]: at an end, or at the vertex of the parabola between them. */
function lowestForce(load: RoadLoad, from: Speed, to: Speed): number {
  const vertex = -load.linear / (2 * load.square);
  const speeds = vertex > to && vertex < from ? [from, to, vertex] : [from, to];
  return Math.min(...speeds.map((v) => roadLoadForce(load, speed(v))));
}
