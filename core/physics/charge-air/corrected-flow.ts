import {
  type AbsolutePressure,
  type AngularSpeed,
  absolutePressure,
  angularSpeed,
  type MassFlow,
  massFlow,
  type Temperature,
  temperature,
} from '../../quantities/index.ts';

/** Stagnation state of a gas: of a map's reference, or at the compressor inlet. */
export interface GasState {
  readonly temperature: Temperature;
  readonly pressure: AbsolutePressure;
}

/**
 * Reference states that occur on compressor maps. The state belongs to the map; a map without one cannot be read.
 *
 * @source common practice, no source; the first is the sea level of the US Standard Atmosphere 1976
 */
export const MAP_REFERENCES = {
  'standard-sea-level': { temperature: temperature(288.15), pressure: absolutePressure(101325) },
  '298K-100kPa': { temperature: temperature(298.15), pressure: absolutePressure(100e3) },
  '545R-28.4inHg': { temperature: temperature(302.78), pressure: absolutePressure(96.17e3) },
} as const satisfies Record<string, GasState>;

/**
 * Mass flow that the machine would pass at the reference state, at the same Mach numbers [kg/s].
 *
 *     Wc = W·√(T/Tref)/(p/pref)
 *
 * @param flow  W [kg/s] @param inlet T [K], p [Pa] at the compressor inlet @param reference of the map
 * @valid   same gas; Reynolds number has no effect
 * @source  similarity of turbomachines: Dixon & Hall, Fluid Mechanics and Thermodynamics of Turbomachinery, ch. 2 (from memory)
 */
export function correctedFlow(flow: MassFlow, inlet: GasState, reference: GasState): MassFlow {
  return massFlow((flow * Math.sqrt(inlet.temperature / reference.temperature) * reference.pressure) / inlet.pressure);
}

/** Mass flow behind a corrected one [kg/s]; inverse of {@link correctedFlow}. */
export function actualFlow(corrected: MassFlow, inlet: GasState, reference: GasState): MassFlow {
  return massFlow(
    (corrected * Math.sqrt(reference.temperature / inlet.temperature) * inlet.pressure) / reference.pressure,
  );
}

/** Shaft speed at the reference temperature with the same Mach numbers [rad/s]: n·√(Tref/T). @source similarity, as {@link correctedFlow} */
export function correctedSpeed(speed: AngularSpeed, inlet: GasState, reference: GasState): AngularSpeed {
  return angularSpeed(speed * Math.sqrt(reference.temperature / inlet.temperature));
}

/** Shaft speed behind a corrected one [rad/s]; inverse of {@link correctedSpeed}. */
export function actualSpeed(corrected: AngularSpeed, inlet: GasState, reference: GasState): AngularSpeed {
  return angularSpeed(corrected * Math.sqrt(inlet.temperature / reference.temperature));
}
