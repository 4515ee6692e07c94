import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import {
  type AngularSpeed,
  type Duration,
  duration,
  type MassFlow,
  type Measured,
  massFlow,
  measured,
  type PressureDifference,
  pressureDifference,
  type Ratio,
  ratio,
} from '../../quantities/index.ts';
import { type InjectorRating, injectorDuty, injectorFlow } from './injector.ts';

export interface InjectorLoad {
  readonly rating: InjectorRating;
  /** Of all injectors together [kg/s]. */
  readonly fuelFlow: MassFlow;
  readonly injectors: number;
  /** Rail minus manifold [Pa]. */
  readonly difference: PressureDifference;
  readonly deadTime: Duration;
  readonly engineSpeed: AngularSpeed;
}

/** pulse: from command to closing [s]. duty: of the cycle [1]. */
export interface InjectorUse {
  readonly pulse: Duration;
  readonly duty: Ratio;
}

/**
 * Pulse and duty for a fuel flow, one injection per four-stroke cycle.
 *
 *     PW = ṁ·4π/(ω·n·Q(Δp)) + X        duty = PW·ω/(4π)
 *
 * @valid   linear range; NaN for a pressure difference below zero, duty above 1 cannot be delivered
 * @source  definition of duty; square root of pressure as {@link injectorFlow}
 */
export function injectorUse(load: InjectorLoad): InjectorUse {
  const perCycle = (load.fuelFlow / load.injectors) * cycleTime(load.engineSpeed);
  const pulse = duration(perCycle / injectorFlow(load.rating, load.difference) + load.deadTime);
  return { pulse, duty: injectorDuty(pulse, load.engineSpeed) };
}

/**
 * Lowest pressure difference at which the duty stays at a limit [Pa]; infinite when the dead time alone fills it.
 *
 * @param limit largest duty [1], such as 0.85 (common practice, no source)
 * @source  inverse of {@link injectorUse}
 */
export function leastDifference(load: Omit<InjectorLoad, 'difference'>, limit: Ratio): PressureDifference {
  const cycle = cycleTime(load.engineSpeed);
  const open = limit * cycle - load.deadTime;
  const needed = ((load.fuelFlow / load.injectors) * cycle) / open;
  return pressureDifference(open > 0 ? load.rating.at * (needed / load.rating.flow) ** 2 : Number.POSITIVE_INFINITY);
}

/** Room of the pressure difference above the least one [1]: Δp/Δp_least − 1; below 0 the duty passes its limit. @source {@link leastDifference} */
export function pressureMargin(load: InjectorLoad, limit: Ratio): Ratio {
  return ratio(load.difference / leastDifference(load, limit) - 1);
}

/** Most fuel that the injectors give at a duty limit [kg/s]; 0 when the dead time fills it. @source inverse of {@link injectorUse} */
export function mostFuel(load: Omit<InjectorLoad, 'fuelFlow'>, limit: Ratio): MassFlow {
  const open = limit - load.deadTime / cycleTime(load.engineSpeed);
  return massFlow(Math.max(0, open) * load.injectors * injectorFlow(load.rating, load.difference));
}

/** As {@link InjectorLoad}, uncertain where a day leaves it uncertain; SI. */
export interface MeasuredInjectorLoad {
  /** Static flow of one injector at `ratedAt` [kg/s]. */
  readonly rated: Measured;
  readonly ratedAt: PressureDifference;
  readonly fuelFlow: Measured;
  readonly injectors: number;
  readonly difference: Measured;
  readonly deadTime: Measured;
  readonly engineSpeed: AngularSpeed;
}

/** Duty with its standard uncertainty [1], inputs independent. @source JCGM 100:2008, equation 10 */
export function measuredInjectorDuty(load: MeasuredInjectorLoad): {
  readonly duty: Measured;
  readonly contributions: readonly Contribution[];
} {
  const found = combinedUncertainty({
    inputs: [
      { name: 'injector flow', ...load.rated },
      { name: 'fuel flow', ...load.fuelFlow },
      { name: 'pressure difference', ...load.difference },
      { name: 'dead time', ...load.deadTime },
    ],
    model: ([rated, fuelFlow, difference, dead]) =>
      injectorUse({
        rating: { flow: massFlow(rated), at: load.ratedAt },
        fuelFlow: massFlow(fuelFlow),
        injectors: load.injectors,
        difference: pressureDifference(difference),
        deadTime: duration(dead),
        engineSpeed: load.engineSpeed,
      }).duty,
  });
  return { duty: measured(found.value, found.standardUncertainty), contributions: found.contributions };
}

/** Time of two revolutions [s]. */
function cycleTime(engineSpeed: AngularSpeed): number {
  return (4 * Math.PI) / engineSpeed;
}
