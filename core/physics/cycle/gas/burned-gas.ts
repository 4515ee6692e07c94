import {
  type Atoms,
  type Composition,
  completeCombustion,
  compositionEnthalpy,
  compositionPolynomial,
  equilibrium,
} from './equilibrium.ts';
import { MOLAR_GAS_CONSTANT } from './species.ts';

/**
 * Below this temperature the composition of burned gas stays what it was there [K].
 *
 * @source  exhaust compositions of spark-ignition engines match an equilibrium near 1700 … 1750 K: Heywood (1988), ch. 4 (from memory)
 */
export const FREEZING_TEMPERATURE = 1700;
/** Width over which the composition comes to rest [K]. @source our default: no kink for the integration to trip over */
const FREEZING_WIDTH = 60;

/** Temperature whose composition the gas has [K]: its own when hot, the freezing temperature when cool. */
export function compositionTemperature(T: number): number {
  const over = (T - FREEZING_TEMPERATURE) / FREEZING_WIDTH;
  return FREEZING_TEMPERATURE + FREEZING_WIDTH * (over > 30 ? over : Math.log1p(Math.exp(over)));
}

/** Enthalpy with formation [J/kg], gas constant times temperature [J/kg], and the composition behind them. */
export interface BurnedState {
  readonly enthalpy: number;
  readonly gasEnergy: number;
  readonly composition: Composition;
}

export interface BurnedPoint {
  readonly temperature: number;
  readonly pressure: number;
  readonly start?: Composition;
}

/**
 * Burned gas at a temperature and pressure: in equilibrium when hot, of unchanging composition below
 * {@link FREEZING_TEMPERATURE}.
 *
 * @source  equilibrium: gas/equilibrium.ts; freezing: our model, error against full equilibrium in docs/physics/cycle.md
 */
export function burnedState(atoms: Atoms, { temperature, pressure, start }: BurnedPoint): BurnedState {
  const composition = equilibrium(atoms, {
    temperature: compositionTemperature(temperature),
    pressure,
    ...(start ? { start } : {}),
  });
  return stateOf(composition, { temperature, argon: atoms.argon });
}

/** As {@link burnedState}, in equilibrium at every temperature. */
export function equilibriumState(atoms: Atoms, { temperature, pressure, start }: BurnedPoint): BurnedState {
  const composition = equilibrium(atoms, { temperature, pressure, ...(start ? { start } : {}) });
  return stateOf(composition, { temperature, argon: atoms.argon });
}

/** As {@link burnedState}, without any dissociation: complete combustion. */
export function undissociatedState(atoms: Atoms, { temperature }: BurnedPoint): BurnedState {
  return stateOf(completeCombustion(atoms), { temperature, argon: atoms.argon });
}

function stateOf(composition: Composition, at: { readonly temperature: number; readonly argon: number }): BurnedState {
  return {
    enthalpy: compositionEnthalpy(composition, at.temperature, at.argon),
    gasEnergy: composition.total * MOLAR_GAS_CONSTANT * at.temperature,
    composition,
  };
}

/** Pressure at which the composition of residual gas is taken [Pa]; it hardly matters there. @source our default */
const RESIDUAL_PRESSURE = 3e5;

/** Polynomial and amount [mol/kg] of burned gas that has cooled below the freezing temperature: residual gas. */
export function cooledGas(atoms: Atoms): { readonly polynomial: Float64Array; readonly amount: number } {
  const composition = equilibrium(atoms, { temperature: FREEZING_TEMPERATURE, pressure: RESIDUAL_PRESSURE });
  return { polynomial: compositionPolynomial(composition, atoms.argon), amount: composition.total };
}
