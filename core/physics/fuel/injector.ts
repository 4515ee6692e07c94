import {
  type AngularSpeed,
  type Duration,
  duration,
  type Mass,
  type MassFlow,
  mass,
  massFlow,
  type PressureDifference,
  pressureDifference,
  type Ratio,
  ratio,
} from '../../quantities/index.ts';

/**
 * Pressure that drives the injector [Pa]: rail minus manifold, both absolute or both gauge.
 *
 * Without a manifold reference on the regulator it falls as boost rises.
 *
 * @source  Bernoulli
 */
export function injectorPressureDifference<Kind extends number>(rail: Kind, manifold: Kind): PressureDifference {
  return pressureDifference(rail - manifold);
}

export interface InjectorRating {
  readonly flow: MassFlow;
  /** Pressure difference at which `flow` was measured [Pa], > 0. */
  readonly at: PressureDifference;
}

/**
 * Static injector flow at another pressure difference [kg/s]: Q2 = Q1·√(Δp2/Δp1); NaN below zero.
 *
 * @valid   same fuel and temperature, no cavitation; ± a factor of two in Δp
 * @source  Bernoulli
 */
export function injectorFlow(rating: InjectorRating, difference: PressureDifference): MassFlow {
  return massFlow(rating.flow * Math.sqrt(difference / rating.at));
}

/** Linear range of an injector. slope m [kg/s], offset X [s]. */
export interface InjectorLine {
  readonly slope: MassFlow;
  readonly offset: Duration;
}

/**
 * Fuel per injection [kg]: Qd = m·(PW − X), zero while the pulse is shorter than the offset.
 *
 * @valid   linear flow range of the injector; below it the flow is not a line
 * @source  SAE J1832 terms (scope seen); linear model
 */
export function injectedMass(line: InjectorLine, pulse: Duration): Mass {
  return mass(line.slope * Math.max(0, pulse - line.offset));
}

/** Pulse width for a fuel mass [s]; inverse of {@link injectedMass}. */
export function pulseWidth(line: InjectorLine, fuel: Mass): Duration {
  return duration(fuel / line.slope + line.offset);
}

/**
 * Share of the cycle in which the injector is open [1]: PW·ω/(4π) for one injection per four-stroke cycle. Above 1 it never closes.
 *
 * @source  one cycle is two revolutions
 */
export function injectorDuty(pulse: Duration, engineSpeed: AngularSpeed): Ratio {
  return ratio((pulse * engineSpeed) / (4 * Math.PI));
}

export interface InjectorNeed {
  readonly fuelFlow: MassFlow;
  readonly injectors: number;
  /** Largest share of time open [1], such as 0.85 (common practice). */
  readonly duty: Ratio;
}

/** Static flow that each injector must have [kg/s]. @source definition of duty */
export function injectorFlowNeeded({ fuelFlow, injectors, duty }: InjectorNeed): MassFlow {
  return massFlow(fuelFlow / (injectors * duty));
}
