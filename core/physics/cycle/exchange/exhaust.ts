import { polynomialEnthalpy, polynomialHeatCapacity } from '../gas/polynomial.ts';

/** Temperature of a mixture with this enthalpy [K]. @source Newton's method on the polynomials */
export function temperatureOf(polynomial: Float64Array, enthalpy: number, start: number): number {
  let T = start;
  for (let step = 0; step < 8; step++) {
    const change = (enthalpy - polynomialEnthalpy(polynomial, T)) / polynomialHeatCapacity(polynomial, T);
    T += change;
    if (Math.abs(change) < 1e-9 * T) break;
  }
  return T;
}

/** End of the closed part and what remains; SI. */
export interface ExhaustInput {
  readonly pressureAtEnd: number;
  readonly burnedTemperatureAtEnd: number;
  /** R/cp of burned gas there. */
  readonly exponentAtEnd: number;
  readonly exhaustPressure: number;
  readonly wallTemperature: number;
}

/** Share of the difference to the wall that gas left in the cylinder gives to it before the intake opens [1]. @source our default */
const RESIDUAL_COOLING = 0.12;

/**
 * Temperature of the gas left in the cylinder [K]: expanded without loss from exhaust opening to exhaust pressure, then cooled a little.
 *
 * @source  isentropic expansion of the gas that stays, Heywood (1988), ch. 5 (from memory); cooling is our default
 */
export function residualTemperature(input: ExhaustInput): number {
  const expanded = input.burnedTemperatureAtEnd * (input.exhaustPressure / input.pressureAtEnd) ** input.exponentAtEnd;
  return expanded - RESIDUAL_COOLING * (expanded - input.wallTemperature);
}

/** Energies of one cylinder over the exhaust stroke [J], masses [kg]. */
export interface ExhaustEnthalpyInput {
  readonly energyAtEnd: number;
  readonly blowdownWork: number;
  readonly massAtEnd: number;
  readonly residual: number;
  readonly residualEnergy: number;
  readonly exhaustPressure: number;
  readonly displacement: number;
}

/**
 * Mean enthalpy of the gas that leaves the cylinder [J/kg], with formation, before any heat is lost in the port.
 *
 *     (U_evo − W_blowdown + pe·Vd − U_left)/(m − m_left)
 *
 * @source  first law from exhaust opening to the end of the exhaust stroke; heat given there is taken with the port's
 */
export function exhaustEnthalpy(input: ExhaustEnthalpyInput): number {
  const given = input.energyAtEnd - input.blowdownWork + input.exhaustPressure * input.displacement;
  return (given - input.residualEnergy) / (input.massAtEnd - input.residual);
}

/**
 * Wall of exhaust valve and port as the gas sees it [K], and number of transfer units at the flow of 10 m/s mean piston speed and 1 bar.
 * What the gas gives up in the cylinder after the exhaust opens is in it.
 *
 * @source  exponent: Nusselt number of exhaust ports ∝ Re^0.6, Malchow et al. SAE 790309 (from memory); the rest our defaults: 200 K
 *          lost at full load of a naturally aspirated engine at middle speed
 */
export const PORT = { wall: 550, units: 0.35, speed: 10, pressure: 1e5, exponent: -0.4 } as const;

/** Temperature behind the port [K]. @param factor fit of the number of transfer units @source ε–NTU against a wall, units falling with flow */
export function behindPort(
  temperature: number,
  at: { readonly meanPistonSpeed: number; readonly manifoldPressure: number; readonly factor: number },
): number {
  const flow = (at.meanPistonSpeed / PORT.speed) * (at.manifoldPressure / PORT.pressure);
  const units = at.factor * PORT.units * flow ** PORT.exponent;
  return PORT.wall + (temperature - PORT.wall) * Math.exp(-units);
}
