import {
  type CompressorDemand,
  type CompressorDuty,
  type CompressorMap,
  compressorDemand,
  dryAirDensity,
  type KnownLoss,
} from '../../../../core/physics/index.ts';
import { absolutePressure, massFlow, pressureDifference, temperature } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { predicted } from '../balance.ts';
import type { Ledger } from '../ledger.ts';
import { outsideAir } from '../surroundings.ts';

export interface DutyQuestion {
  readonly model: EngineModel;
  readonly prediction: Prediction;
  readonly step: Step;
  readonly ledger: Ledger;
}

/** What the compressor does at one engine speed; undefined where the air flow is not known. @source {@link compressorDemand} */
export function compressorDuty(question: DutyQuestion, map: CompressorMap, index: number): CompressorDuty | undefined {
  const demand = demandOf(question, index);
  return demand && compressorDemand(demand, map.reference);
}

function demandOf({ prediction, step, ledger }: DutyQuestion, index: number): CompressorDemand | undefined {
  const air = predicted(prediction, 'air flow', index).value;
  const T = predicted(prediction, 'charge temperature', index).value;
  if (Number.isNaN(air + T)) return undefined;
  const rated = ledger.look('ratedAirFlow')?.value;
  const inlet = (ledger.take('inletLoss', USUAL_INLET).value ?? 0) + (step.inletLoss ?? 0);
  const cooler = ledger.take('coolerLoss', USUAL_COOLER).value;
  const compressors = ledger.look('compressors')?.value;
  return {
    airFlow: massFlow(air),
    manifoldPressure: absolutePressure(step.manifoldPressure),
    chargeTemperature: temperature(T),
    ambient: outsideAir(step, ledger),
    ...(rated ? { inletLoss: lossOf(inlet, rated, INLET_STATE), coolerLoss: lossOf(cooler, rated, COOLER_STATE) } : {}),
    ...(compressors ? { compressors } : {}),
  };
}

function lossOf(drop: number, flow: number, at: { readonly p: number; readonly T: number }): KnownLoss {
  return {
    drop: pressureDifference(drop),
    flow: massFlow(flow),
    density: dryAirDensity(absolutePressure(at.p), temperature(at.T)),
  };
}

/** States at which losses are usually stated. @source our default */
const INLET_STATE = { p: 95e3, T: 298 };
const COOLER_STATE = { p: 200e3, T: 333 };
const USUAL_INLET = { value: 2e3, standardUncertainty: 1e3, source: 'common practice, no source' };
const USUAL_COOLER = { value: 10e3, standardUncertainty: 4e3, source: 'common practice, no source: 5 … 15 kPa' };
