import {
  type MassFlow,
  massFlow,
  type Power,
  type Ratio,
  ratio,
  type SpecificEnergy,
  type TemperatureDifference,
  temperatureDifference,
} from '../../quantities/index.ts';

/** Fuel flow for a power [kg/s]: P·b. @param consumption brake specific fuel consumption b [kg/J]; 330 g/kWh is 330e-3/3.6e6 */
export function fuelFlowFor(power: Power, consumption: number): MassFlow {
  return massFlow(power * consumption);
}

/**
 * Brake thermal efficiency [1]: η = 1/(b·LHV).
 *
 * @param consumption b [kg/J] @param heatingValue lower heating value [J/kg]
 * @source  definition
 */
export function brakeEfficiency(consumption: number, heatingValue: SpecificEnergy): Ratio {
  return ratio(1 / (consumption * heatingValue));
}

/** Lambda [1]: air/fuel mass ratio over the stoichiometric one of the same fuel. @source definition */
export function lambdaOf(airFuelRatio: Ratio, stoichiometric: Ratio): Ratio {
  return ratio(airFuelRatio / stoichiometric);
}

/** Equivalence ratio [1]: 1/λ. @source definition */
export function equivalenceRatio(lambda: Ratio): Ratio {
  return ratio(1 / lambda);
}

export interface GaugeReading {
  /** Air/fuel ratio as the gauge shows it. */
  readonly shown: Ratio;
  /** Stoichiometric ratio with which the gauge was scaled. */
  readonly gaugeScale: Ratio;
  /** Stoichiometric ratio of the fuel in the tank. */
  readonly fuel: Ratio;
}

/**
 * True lambda and air/fuel ratio behind a gauge scaled for another fuel.
 *
 * @source  the sensor answers to λ; the gauge multiplies
 */
export function gaugeCorrected({ shown, gaugeScale, fuel }: GaugeReading): {
  readonly lambda: Ratio;
  readonly airFuelRatio: Ratio;
} {
  const lambda = shown / gaugeScale;
  return { lambda: ratio(lambda), airFuelRatio: ratio(lambda * fuel) };
}

/** Fuel flow to an air flow [kg/s]: ṁa/(λ·AFRst). @source definition of λ */
export function fuelFlowOfAir(
  air: MassFlow,
  mixture: { readonly lambda: Ratio; readonly stoichiometric: Ratio },
): MassFlow {
  return massFlow(air / (mixture.lambda * mixture.stoichiometric));
}

/** Specific heat of air at constant pressure [J/(kg·K)]. @source common textbook value */
const AIR_HEAT_CAPACITY = 1005;

/**
 * Largest fall of the charge temperature by evaporating fuel [K]: hv/(AFR·cp).
 *
 * @valid   upper bound: all fuel evaporates and all heat comes from the air; heating of the fuel itself is ignored
 * @source  energy balance
 */
export function evaporationCooling(latentHeat: SpecificEnergy, airFuelRatio: Ratio): TemperatureDifference {
  return temperatureDifference(latentHeat / (airFuelRatio * AIR_HEAT_CAPACITY));
}
