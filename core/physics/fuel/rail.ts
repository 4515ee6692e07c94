import { bracketedRoot } from '../../numerics/index.ts';
import {
  answered,
  type Density,
  type GaugePressure,
  gaugePressure,
  type MassFlow,
  type Measured,
  massFlow,
  measured,
  type Outcome,
  type PressureDifference,
  pressureDifference,
  type Ratio,
  ratio,
  refused,
  type Voltage,
} from '../../quantities/index.ts';
import { measuredUpTo, type Pump, pumpFlow } from './pump.ts';

/** Pressure lost between pump and rail: linear·Q + square·Q². @source laminar in the element, turbulent in lines and fittings */
export interface FeedLoss {
  /** [Pa/(m³/s)] */
  readonly linear: number;
  /** [Pa/(m³/s)²] */
  readonly square: number;
}

export interface FuelSupply {
  readonly pump: Pump;
  /** Alike and side by side; default 1. */
  readonly pumps?: number;
  /** At the pump, under load [V]. */
  readonly voltage: Voltage;
  readonly loss: FeedLoss;
  readonly density: Density;
  /** Rail pressure that the regulator holds with the manifold at air pressure [Pa gauge]. */
  readonly base: GaugePressure;
  /** Part of manifold gauge pressure that the regulator adds [1]: 1 when its hose goes to the manifold, 0 without. */
  readonly reference: Ratio;
}

/**
 * rail: gauge. difference: over the injectors. capacity: fuel that the pumps bring at the pressure the regulator wants.
 * margin: capacity over demand, less 1. kind `short`: the regulator has closed and the rail falls until the pumps bring the demand.
 */
export interface RailState {
  readonly kind: 'held' | 'short';
  readonly rail: GaugePressure;
  readonly difference: PressureDifference;
  readonly capacity: MassFlow;
  readonly margin: Ratio;
}

/**
 * Rail pressure for a fuel demand and a manifold pressure.
 *
 * Refuses when the wanted pressure lies beyond the measured pump line, and when the pumps cannot bring the demand at any pressure.
 *
 * @valid   steady; the tank is at air pressure. With a return at the rail the whole pump flow passes filter and lines, as taken for
 *          the capacity
 * @source  pump line against system line
 */
export function railState(supply: FuelSupply, demand: MassFlow, manifold: GaugePressure): Outcome<RailState> {
  const wanted = supply.base + supply.reference * manifold;
  const capacity = capacityAt(supply, wanted);
  if (Number.isNaN(capacity)) {
    const numbers = { value: wanted, limit: measuredUpTo(supply.pump) };
    return refused({ kind: 'pump-line-passed', message: 'pump pressure out of validity', numbers });
  }
  const known = { capacity: massFlow(capacity), margin: ratio(capacity / demand - 1) };
  const state = (kind: RailState['kind'], rail: number): Outcome<RailState> =>
    answered({ kind, rail: gaugePressure(rail), difference: pressureDifference(rail - manifold), ...known });
  if (capacity >= demand) return state('held', wanted);
  const missing = (rail: number): number => capacityAt(supply, rail) - demand;
  const rail = bracketedRoot(missing, { lower: lowestKnown(supply, demand), upper: wanted });
  if (!Number.isNaN(rail)) return state('short', rail);
  const numbers = { demand, capacity };
  return refused({
    kind: 'pump-too-small',
    message: 'fuel demand out of reach at any pressure the pump line covers',
    numbers,
  });
}

/** Mass flow into a rail at a pressure [kg/s], filter and lines passed by all of it. */
function capacityAt(supply: FuelSupply, rail: number): number {
  const count = supply.pumps ?? 1;
  const at = (volume: number): number => {
    const behind = rail + feedLoss(supply.loss, volume);
    return count * pumpFlow(supply.pump, behind, supply.voltage) - volume;
  };
  // the largest volume that the pump line still covers behind the filter
  const last = measuredUpTo(supply.pump);
  if (!(rail <= last)) return Number.NaN;
  const most = Math.min(volumeOfLoss(supply.loss, last - rail), count * pumpFlow(supply.pump, rail, supply.voltage));
  if (!(most > 0)) return most === 0 ? 0 : Number.NaN;
  const found = bracketedRoot(at, { lower: 0, upper: most });
  return found * supply.density;
}

function lowestKnown({ pump, loss, density }: FuelSupply, demand: MassFlow): number {
  const first = Math.max(...pump.lines.map(({ curve }) => curve.x[0]));
  return Math.max(first, first - feedLoss(loss, demand / density));
}

function feedLoss({ linear, square }: FeedLoss, volume: number): number {
  return linear * volume + square * volume * volume;
}

/** Flow at which the feed loses this pressure [m³/s]; infinite without loss. */
function volumeOfLoss({ linear, square }: FeedLoss, drop: number): number {
  if (square > 0) return (Math.sqrt(linear * linear + 4 * square * drop) - linear) / (2 * square);
  return linear > 0 ? drop / linear : Number.POSITIVE_INFINITY;
}

/**
 * Room of a fuel supply over its demand [1]: capacity/demand − 1, with its standard uncertainty.
 *
 * @param capacity of the pumps [kg/s]; give a pump of unknown age ± 5 % (our default) @param demand [kg/s]
 * @source  JCGM 100:2008, equation 12
 */
export function supplyMargin(capacity: Measured, demand: Measured): Measured {
  const quotient = capacity.value / demand.value;
  const relative = Math.hypot(capacity.standardUncertainty / capacity.value, demand.standardUncertainty / demand.value);
  return measured(quotient - 1, quotient * relative);
}
