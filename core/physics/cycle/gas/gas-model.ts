import { cooledGas } from './burned-gas.ts';
import { burnedTable, CELL, GRID } from './burned-table.ts';
import { type ChargeParts, type ChargeShares, chargeParts, chargeShares, type Mixture, sharesAtoms } from './charge.ts';
import type { Fuel } from './fuel.ts';
import { stoichiometricRatio } from './fuel.ts';
import { polynomialEnthalpy } from './polynomial.ts';
import { MOLAR_GAS_CONSTANT } from './species.ts';

/** What the closed cycle asks of one mixture. One record per model: the next call with another mixture overwrites it. */
export interface MixtureGas {
  /** Burned gas: cells as described in burned-table.ts. */
  readonly burned: Float64Array;
  /** Enthalpy from which these cells count [J/kg]. */
  burnedReference: number;
  /** Polynomial of the fresh charge and of residual gas, per kilogram. */
  readonly fresh: Float64Array;
  readonly residual: Float64Array;
  /** Gas constants [J/(kg·K)]. */
  freshConstant: number;
  residualConstant: number;
  /** Shares of the fresh charge by mass. */
  shares: ChargeShares;
}

/** Gas properties of one fuel over λ and humidity, computed as needed and kept. */
export interface GasModel {
  readonly fuel: Fuel;
  readonly of: (mixture: Mixture) => MixtureGas;
}

/** Mixtures that can be asked for: λ, and water per dry air. @source our default: burns with margin; more water than air at 35 °C can hold */
export const MIXTURE_RANGE = { lambda: [0.55, 2], humidityRatio: [0, 0.04] } as const;
/** λ of the tables, closest where the composition turns. @source our default, after the measurement in docs/physics/cycle.md */
const LAMBDAS: readonly number[] = [
  ...Array.from({ length: 18 }, (_, i) => MIXTURE_RANGE.lambda[0] + 0.025 * i),
  ...[0.9875, 0.995, 1, 1.005, 1.0125],
  ...Array.from({ length: 40 }, (_, i) => 1.025 + 0.025 * i),
];
/** Water in the charge of the wet tables, by mass. @source our default */
const WET_SHARE = 0.04;
/** Temperature of the reference enthalpy [K]. @source our default */
const REFERENCE_TEMPERATURE = 1000;

/** Gas properties of a fuel. Tables of λ are made when first asked for: some milliseconds each, up to four for a first state. */
export function gasModel(fuel: Fuel): GasModel {
  const parts = chargeParts(fuel);
  const node = nodeKeeper(fuel);
  const gas: MixtureGas = {
    burned: new Float64Array(GRID.cells * CELL),
    burnedReference: 0,
    fresh: new Float64Array(14),
    residual: new Float64Array(14),
    freshConstant: 0,
    residualConstant: 0,
    shares: { air: 1, water: 0, fuel: 0 },
  };
  let last: Mixture = { lambda: Number.NaN, humidityRatio: Number.NaN };
  return {
    fuel,
    of: ({ lambda, humidityRatio }) => {
      if (lambda === last.lambda && humidityRatio === last.humidityRatio) return gas;
      last = { lambda, humidityRatio };
      gas.shares = chargeShares(fuel, last);
      freshInto(gas, parts);
      blendInto(gas, corners(fuel, last, gas.shares), node);
      return gas;
    },
  };
}

interface Node {
  readonly table: Float64Array;
  readonly reference: number;
  readonly residual: Float64Array;
  readonly amount: number;
}

type NodeKeeper = (place: number, wet: boolean) => Node;

/** Tables by place in the grid of λ, dry and wet. */
function nodeKeeper(fuel: Fuel): NodeKeeper {
  const kept = new Map<number, Node>();
  return (place, wet) => {
    const key = 2 * place + (wet ? 1 : 0);
    const found = kept.get(key);
    if (found) return found;
    const dry = dryFuelShare(fuel, place);
    const rest = wet ? 1 - WET_SHARE : 1;
    const atoms = sharesAtoms(fuel, { air: rest * (1 - dry), water: 1 - rest, fuel: rest * dry });
    const cooled = cooledGas(atoms);
    const reference = polynomialEnthalpy(cooled.polynomial, REFERENCE_TEMPERATURE);
    const made = {
      table: burnedTable(atoms, reference),
      reference,
      residual: cooled.polynomial,
      amount: cooled.amount,
    };
    kept.set(key, made);
    return made;
  };
}

/** Fuel in air and fuel without water, by mass, at a place of the grid. */
function dryFuelShare(fuel: Fuel, place: number): number {
  return 1 / (1 + LAMBDAS[place] * stoichiometricRatio(fuel));
}

interface Corners {
  readonly place: number;
  readonly part: number;
  readonly wet: number;
}

/** Between which tables, and where. Shares by mass are the coordinates: atoms are linear in them. */
function corners(fuel: Fuel, { lambda }: Mixture, shares: ChargeShares): Corners {
  let place = 0;
  while (place < LAMBDAS.length - 2 && LAMBDAS[place + 1] <= lambda + 1e-12) place++;
  const rich = dryFuelShare(fuel, place);
  const part = (shares.fuel / (1 - shares.water) - rich) / (dryFuelShare(fuel, place + 1) - rich);
  return { place, part, wet: shares.water / WET_SHARE };
}

function blendInto(gas: MixtureGas, { place, part, wet }: Corners, node: NodeKeeper): void {
  const first = node(place, false);
  const next = Math.abs(part) < 1e-9 ? first : node(place + 1, false);
  const firstWet = wet === 0 ? first : node(place, true);
  const nextWet = wet === 0 ? next : next === first ? firstWet : node(place + 1, true);
  const [a, b, c, d] = [(1 - part) * (1 - wet), part * (1 - wet), (1 - part) * wet, part * wet];
  const mixed = (of: (n: Node) => number): number => a * of(first) + b * of(next) + c * of(firstWet) + d * of(nextWet);
  const into = gas.burned;
  const [ta, tb, tc, td] = [first.table, next.table, firstWet.table, nextWet.table];
  if (wet === 0) for (let i = 0; i < into.length; i++) into[i] = a * ta[i] + b * tb[i];
  else for (let i = 0; i < into.length; i++) into[i] = a * ta[i] + b * tb[i] + c * tc[i] + d * td[i];
  for (let i = 0; i < 14; i++) gas.residual[i] = mixed((n) => n.residual[i]);
  gas.burnedReference = mixed((n) => n.reference);
  gas.residualConstant = mixed((n) => n.amount) * MOLAR_GAS_CONSTANT;
}

function freshInto(gas: MixtureGas, parts: ChargeParts): void {
  const { air, water, fuel } = gas.shares;
  for (let k = 0; k < 14; k++) gas.fresh[k] = air * parts.air[k] + water * parts.water[k] + fuel * parts.fuel[k];
  const { amounts } = parts;
  gas.freshConstant = MOLAR_GAS_CONSTANT * (air * amounts.air + water * amounts.water + fuel * amounts.fuel);
}
