import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import {
  type AbsolutePressure,
  absolutePressure,
  type MassFlow,
  type Measured,
  massFlow,
  measured,
  pressureDifference,
  type Ratio,
  ratio,
  type Temperature,
  type TemperatureDifference,
  temperature,
} from '../../quantities/index.ts';
import type { CompressorMap } from './compressor-map.ts';
import { correctedFlow, type GasState } from './corrected-flow.ts';
import { MAP_SPEED_SPREAD, mapPoint } from './map-point.ts';
import { dryAirDensity, type KnownLoss, pressureLoss } from './pressure-loss.ts';

export interface CompressorDemand {
  /** Total air flow of all compressors [kg/s]. */
  readonly airFlow: MassFlow;
  /** Compressors that share the flow evenly; default 1. */
  readonly compressors?: number;
  readonly manifoldPressure: AbsolutePressure;
  /** Charge temperature after the cooler [K]. */
  readonly chargeTemperature: Temperature;
  readonly ambient: GasState;
  /** From outside to the compressor inlet; default none. */
  readonly inletLoss?: KnownLoss;
  /** From compressor outlet to manifold; default none. */
  readonly coolerLoss?: KnownLoss;
  /** Warming of the air before the compressor [K]; default 0. */
  readonly inletWarming?: TemperatureDifference;
}

/** inlet: at the compressor. outletPressure: before the cooler. flow: per compressor, actual and corrected to the reference. */
export interface CompressorDuty {
  readonly inlet: GasState;
  readonly outletPressure: AbsolutePressure;
  readonly pressureRatio: Ratio;
  readonly flow: MassFlow;
  readonly correctedFlow: MassFlow;
}

/**
 * What the compressor must do for a manifold pressure and an air flow, on this day and at this height.
 *
 *     p1 = p0 − Δp_inlet,   p2 = MAP + Δp_cooler,   π = p2/p1
 *
 * Thinner air raises both pressure ratio and corrected flow: the same manifold pressure costs shaft speed.
 *
 * @valid   pressure ratio NaN where the inlet loss eats the whole ambient pressure; velocity heads in the ducts ignored
 * @source  definitions of pressure ratio and corrected flow
 */
export function compressorDemand(demand: CompressorDemand, reference: GasState): CompressorDuty {
  const { airFlow, manifoldPressure, chargeTemperature, ambient, inletLoss, coolerLoss } = demand;
  const T1 = temperature(ambient.temperature + (demand.inletWarming ?? 0));
  const outside = dryAirDensity(ambient.pressure, T1);
  const cooled = dryAirDensity(manifoldPressure, chargeTemperature);
  const p1 = ambient.pressure - (inletLoss ? pressureLoss(inletLoss, airFlow, outside) : 0);
  const p2 = manifoldPressure + (coolerLoss ? pressureLoss(coolerLoss, airFlow, cooled) : 0);
  const inlet = { temperature: T1, pressure: absolutePressure(p1 > 0 ? p1 : Number.NaN) };
  const flow = massFlow(airFlow / (demand.compressors ?? 1));
  return {
    inlet,
    outletPressure: absolutePressure(p2),
    pressureRatio: ratio(p2 / inlet.pressure),
    flow,
    correctedFlow: correctedFlow(flow, inlet, reference),
  };
}

/** Standard uncertainties of a demand, SI; those left out count as 0. mapSpread: relative, of the map's speeds. */
export interface DemandSpread {
  readonly airFlow?: number;
  readonly manifoldPressure?: number;
  readonly ambientPressure?: number;
  readonly ambientTemperature?: number;
  /** Relative, of both pressure losses together. */
  readonly losses?: number;
  readonly mapSpread?: number;
}

export interface DemandedSpeed {
  /** Actual shaft speed [rad/s]. */
  readonly speed: Measured;
  readonly contributions: readonly Contribution[];
}

/**
 * Actual shaft speed that a demand needs, with its standard uncertainty [rad/s]; undefined outside the map.
 *
 * Near a border a part of the spread may lie outside the map: then the uncertainty is NaN, and the speed alone is given.
 *
 * @source  JCGM 100:2008, equation 10; inputs independent
 */
export function demandedSpeed(
  map: CompressorMap,
  demand: CompressorDemand,
  spread: DemandSpread,
): DemandedSpeed | undefined {
  const speedOf = (values: readonly number[]): number => {
    const duty = compressorDemand(shifted(demand, values), map.reference);
    const point = mapPoint(map, duty.correctedFlow, duty.pressureRatio);
    if (point.kind === 'outside') return Number.NaN;
    return values[5] * point.speed * Math.sqrt(duty.inlet.temperature / map.reference.temperature);
  };
  const inputs = [
    { name: 'air flow', value: demand.airFlow, standardUncertainty: spread.airFlow ?? 0 },
    { name: 'manifold pressure', value: demand.manifoldPressure, standardUncertainty: spread.manifoldPressure ?? 0 },
    { name: 'ambient pressure', value: demand.ambient.pressure, standardUncertainty: spread.ambientPressure ?? 0 },
    {
      name: 'ambient temperature',
      value: demand.ambient.temperature,
      standardUncertainty: spread.ambientTemperature ?? 0,
    },
    { name: 'pressure losses', value: 1, standardUncertainty: spread.losses ?? 0 },
    { name: 'map', value: 1, standardUncertainty: spread.mapSpread ?? MAP_SPEED_SPREAD },
  ];
  if (Number.isNaN(speedOf(inputs.map(({ value }) => value)))) return undefined;
  const found = combinedUncertainty({ inputs, model: speedOf });
  return {
    speed: { ...measured(found.value, 0), standardUncertainty: found.standardUncertainty },
    contributions: found.contributions,
  };
}

function shifted(demand: CompressorDemand, values: readonly number[]): CompressorDemand {
  const [airFlow, manifoldPressure, pressure, T, losses] = values;
  const scaled = (loss: KnownLoss): KnownLoss => ({ ...loss, drop: pressureDifference(loss.drop * losses) });
  return {
    ...demand,
    airFlow: massFlow(airFlow),
    manifoldPressure: absolutePressure(manifoldPressure),
    ambient: { temperature: temperature(T), pressure: absolutePressure(pressure) },
    ...(demand.inletLoss ? { inletLoss: scaled(demand.inletLoss) } : {}),
    ...(demand.coolerLoss ? { coolerLoss: scaled(demand.coolerLoss) } : {}),
  };
}
