import { type Force, force, type Power, type Ratio, ratio, type Speed, speed } from '../../quantities/index.ts';

/** What a roller may be asked; a limit that is not stated is infinite. */
export interface RollerLimits {
  /** At the roll surface [N]. */
  readonly force: Force;
  readonly power: Power;
  readonly speed: Speed;
}

/** What decides first. */
export type RollerLimit = 'force' | 'power' | 'speed';

/**
 * Largest force that the roller can hold at a surface speed [N]: the smaller of its force limit and P/v; 0 beyond its speed.
 *
 * @source  definition of power
 */
export function forceCapability({ force: most, power, speed: fastest }: RollerLimits, surface: Speed): Force {
  if (surface > fastest) return force(0);
  return force(surface > 0 ? Math.min(most, power / surface) : most);
}

/** margins: limit over need, less 1 [1]. tightest: the limit with the smallest margin. */
export interface RollerMargin {
  readonly margins: Readonly<Record<RollerLimit, Ratio>>;
  readonly tightest: RollerLimit;
}

/** Surface force over speed, for one gear, equally long. */
export interface SurfaceCurve {
  readonly speed: Float64Array;
  readonly force: Float64Array;
}

/**
 * Margin of a roller over a whole force curve: for each limit at the point that uses it most.
 *
 * Points with a missing speed or force are left out; NaN when none is left.
 *
 * @source  definitions
 */
export function rollerMargin(limits: RollerLimits, curve: SurfaceCurve): RollerMargin {
  if (curve.speed.length !== curve.force.length) throw new RangeError('speed and force of unequal length');
  const most = { force: Number.NaN, power: Number.NaN, speed: Number.NaN };
  const raise = (name: RollerLimit, value: number): void => {
    if (!(most[name] >= value)) most[name] = value;
  };
  for (let i = 0; i < curve.speed.length; i++) {
    const [v, F] = [curve.speed[i], curve.force[i]];
    if (Number.isNaN(v + F)) continue;
    raise('force', F);
    raise('power', F * v);
    raise('speed', v);
  }
  const margins = {
    force: ratio(limits.force / most.force - 1),
    power: ratio(limits.power / most.power - 1),
    speed: ratio(limits.speed / most.speed - 1),
  };
  const order = (['force', 'power', 'speed'] as const).toSorted((a, b) => margins[a] - margins[b]);
  return { margins, tightest: order[0] };
}

/** Speed beyond which power, not force, limits the roller [m/s]: P/F. @source definition of power */
export function speedOfFullForce({ force: most, power }: RollerLimits): Speed {
  return speed(power / most);
}
