import type { Measured } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type Balance, type LimitTitle, limitFrom, predicted, unknownLimit } from '../balance.ts';
import { type Ledger, ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { compressorDuty } from './compressor-duty.ts';
import { mapEdges } from './map-edge.ts';

/** Corrected flow of the engine, and the ends of the map at its pressure ratio [kg/s]. */
export interface FlowEnds {
  readonly flow: Measured;
  readonly smallest: Measured;
  readonly largest: Measured;
}

/** Of the map's flow, at choke and at surge [1]. @source our default: build spread; pulsation and volumes of the engine at surge */
const CHOKE_SPREAD = 0.02;
const SURGE_SPREAD = 0.05;

/** What is asked. from: lowest engine speed that is judged [rad/s], 0 when absent. */
export interface FlowQuestion {
  readonly model: EngineModel;
  readonly prediction: Prediction;
  readonly step: Step;
  readonly from?: number;
}

/** A limit of flow at the engine's pressure ratio. Nothing is said where no measured line reaches that ratio. */
export function flowLimit(
  title: LimitTitle,
  asked: FlowQuestion,
  balance: (ends: FlowEnds, ledger: Ledger) => Balance,
): Limit {
  const { model, prediction, from = 0 } = asked;
  const ledger = ledgerOf(model);
  const { map } = model;
  if (!map) return unknownLimit(title, { prediction, ledger }, 'no compressor map: state compressorMap');
  return limitFrom(title, { prediction, ledger, why: 'outside the compressor map at every speed' }, (i) => {
    if (prediction.speed[i] < from) return undefined;
    const duty = compressorDuty({ ...asked, ledger }, map, i);
    const edges = duty && mapEdges(map, duty.pressureRatio);
    if (!duty || !edges) return undefined;
    const air = predicted(prediction, 'air flow', i);
    const share = air.standardUncertainty / air.value;
    // where another border ends the map, nothing was measured of this one
    const smallest = edges.smallest.border === 'surge' ? edges.smallest.flow : Number.NaN;
    const largest = edges.largest.border === 'choke' ? edges.largest.flow : Number.NaN;
    return balance(
      {
        flow: around(duty.correctedFlow, duty.correctedFlow * share),
        smallest: around(smallest, SURGE_SPREAD * smallest),
        largest: around(largest, CHOKE_SPREAD * largest),
      },
      ledger,
    );
  });
}
