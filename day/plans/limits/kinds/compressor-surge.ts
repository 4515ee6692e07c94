import type { Measured } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { judgedFrom } from '../../model/held.ts';
import { around } from '../around.ts';
import { againstBorder, type LimitTitle } from '../balance.ts';
import type { Ledger } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { type FlowEnds, flowLimit } from './flow-limit.ts';

const TITLE: LimitTitle = {
  name: 'compressor surge',
  subject: 'charge-air',
  kind: 'mass-flow',
  source:
    'compressor map: smallest corrected flow at this pressure ratio; pulsation and volumes of the engine shift it: flow ± 5 %, our default',
};

/**
 * Smallest flow that the map has at this pressure ratio against the corrected flow. Below the speeds at which the day's pulls had such a pressure nothing is
 * said: there the turbine has not brought it about yet.
 *
 * Pulls that surged, and pulls that ran clean near the map's line or beyond it, move the border (`surgeFlowFactor`, see surgeFlowFactorOf).
 */
export function compressorSurge(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const from = judgedFrom(model, step.manifoldPressure);
  const seen = model.values.get('surgeFlowFactor');
  const balance = ({ flow, smallest }: FlowEnds, ledger: Ledger) => ({
    required: taught(smallest, ledger.look('surgeFlowFactor')),
    available: againstBorder(flow, seen),
  });
  return flowLimit(TITLE, { model, prediction, step, from }, balance);
}

/** Smallest flow as the day's pulls teach it: then what pulsation and volumes do has fallen out. */
function taught(smallest: Measured, factor: Measured | undefined): Measured {
  if (!factor) return smallest;
  const value = smallest.value * factor.value;
  return around(value, smallest.value * factor.standardUncertainty);
}
