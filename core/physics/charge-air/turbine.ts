import { bracketedRoot } from '../../numerics/index.ts';
import {
  type AbsolutePressure,
  type Area,
  absolutePressure,
  area,
  type MassFlow,
  massFlow,
  type Power,
  power,
  type Ratio,
  ratio,
  type Temperature,
  temperature,
} from '../../quantities/index.ts';
import { EXHAUST, type PerfectGas } from './compression.ts';
import { nozzleFlow } from './nozzle-flow.ts';

/** A turbine as one nozzle and one efficiency. */
export interface Turbine {
  /** Of one turbine [m²]; of the whole set if several share the flow. */
  readonly effectiveArea: Area;
  /** Total to static [1], 0 … 1. */
  readonly efficiency: Ratio;
  /** Share of the turbine power that reaches the compressor [1]. */
  readonly mechanicalEfficiency: Ratio;
}

export interface ExhaustState {
  /** All exhaust, gate and turbine together [kg/s]. */
  readonly flow: MassFlow;
  /** Before the turbine [K]. */
  readonly temperature: Temperature;
  /** After the turbine [Pa]. */
  readonly outletPressure: AbsolutePressure;
  /** Default {@link EXHAUST}. */
  readonly gas?: PerfectGas;
}

/** Flow through a turbine at a pressure before it [kg/s]. @source one-dimensional nozzle; gas constant from cp and k */
export function turbineFlow(turbine: Turbine, exhaust: ExhaustState, inletPressure: AbsolutePressure): MassFlow {
  const { heatCapacity, heatRatio } = exhaust.gas ?? EXHAUST;
  return nozzleFlow({
    effectiveArea: turbine.effectiveArea,
    upstreamPressure: inletPressure,
    upstreamTemperature: exhaust.temperature,
    downstreamPressure: exhaust.outletPressure,
    heatRatio,
    gasConstant: (heatCapacity * (heatRatio - 1)) / heatRatio,
  });
}

/**
 * Power that reaches the compressor at a pressure before the turbine [W].
 *
 *     P = ηm·ηt·ṁt·cp·T3·(1 − (p4/p3)^((k−1)/k))
 *
 * @valid   steady flow, constant efficiency; pulsating flow can be worth several percent more
 * @source  isentropic expansion; Watson & Janota, ch. 6 (from memory)
 */
export function turbinePower(turbine: Turbine, exhaust: ExhaustState, inletPressure: AbsolutePressure): Power {
  const { heatCapacity, heatRatio } = exhaust.gas ?? EXHAUST;
  const drop = 1 - (exhaust.outletPressure / inletPressure) ** ((heatRatio - 1) / heatRatio);
  const flow = turbineFlow(turbine, exhaust, inletPressure);
  return power(turbine.mechanicalEfficiency * turbine.efficiency * flow * heatCapacity * exhaust.temperature * drop);
}

/**
 * inletPressure: before the turbine [Pa]. gateShare: of the exhaust that passes the gate [1].
 * outletTemperature: of turbine and gate flow mixed [K].
 */
export type TurbineBalance =
  | {
      readonly kind: 'balanced';
      readonly inletPressure: AbsolutePressure;
      readonly turbineFlow: MassFlow;
      readonly gateShare: Ratio;
      readonly outletTemperature: Temperature;
    }
  /** Even with the gate shut the turbine gives only `available` [W] at this exhaust flow: the boost cannot be held. */
  | { readonly kind: 'short of power'; readonly available: Power; readonly inletPressure: AbsolutePressure };

/**
 * Pressure before the turbine and gate flow at which the turbine gives just the power that the compressor takes.
 *
 * With the gate shut all exhaust passes the turbine, and the pressure before it follows from its nozzle. Below that pressure
 * the power rises with pressure, so the balance is unique.
 *
 * @valid   steady speed; compressor power ≥ 0
 * @source  power balance of the shaft
 */
export function turbineBalance(turbine: Turbine, exhaust: ExhaustState, compressorPower: Power): TurbineBalance {
  const outlet = exhaust.outletPressure;
  const shut = shutGatePressure(turbine, exhaust);
  const available = turbinePower(turbine, exhaust, shut);
  if (available < compressorPower) return { kind: 'short of power', available, inletPressure: shut };
  const excess = (pressure: number): number =>
    turbinePower(turbine, exhaust, absolutePressure(pressure)) - compressorPower;
  const inletPressure = absolutePressure(bracketedRoot(excess, { lower: outlet, upper: shut }));
  const through = turbineFlow(turbine, exhaust, inletPressure);
  const { heatCapacity } = exhaust.gas ?? EXHAUST;
  const taken = compressorPower / turbine.mechanicalEfficiency / (exhaust.flow * heatCapacity);
  return {
    kind: 'balanced',
    inletPressure,
    turbineFlow: massFlow(through),
    gateShare: ratio(1 - through / exhaust.flow),
    outletTemperature: temperature(exhaust.temperature - taken),
  };
}

/** Pressure before the turbine with the gate shut [Pa]: its nozzle passes all exhaust. @source continuity */
export function shutGatePressure(turbine: Turbine, exhaust: ExhaustState): AbsolutePressure {
  const missing = (pressure: number): number =>
    turbineFlow(turbine, exhaust, absolutePressure(pressure)) - exhaust.flow;
  let upper = 2 * exhaust.outletPressure;
  while (missing(upper) < 0) upper *= 2;
  return absolutePressure(bracketedRoot(missing, { lower: exhaust.outletPressure, upper }));
}

/**
 * Effective gate area that a share of the exhaust takes [m²]: what the gate must open to. A gate that has less lets boost creep.
 *
 * @param share gate flow over all exhaust [1]
 * @source  one-dimensional nozzle, as {@link turbineFlow}
 */
export function gateArea(exhaust: ExhaustState, inletPressure: AbsolutePressure, share: Ratio): Area {
  const unit: Turbine = { effectiveArea: area(1), efficiency: ratio(1), mechanicalEfficiency: ratio(1) };
  return area((share * exhaust.flow) / turbineFlow(unit, exhaust, inletPressure));
}
