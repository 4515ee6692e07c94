import {
  type CompressorDuty,
  type CompressorMap,
  MAP_SPEED_SPREAD,
  measuredMapSpeed,
  speedOfTip,
  USUAL_TIP_LIMIT,
} from '../../../../core/physics/index.ts';
import { length, type Measured, speed } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, predicted, UNKNOWN, unknownLimit } from '../balance.ts';
import { type Ledger, ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { compressorDuty, type DutyQuestion } from './compressor-duty.ts';
import { beyondFastestLine } from './map-edge.ts';

/** Share of the speed limit kept in hand [1], unless `compressorSpeedMargin` says otherwise. @source our default */
export const KEPT_SPEED = 0.03;

/**
 * Shaft speed of the compressor against its limit, less what is kept in hand.
 *
 * The limit as stated, else from the wheel's diameter and usual tip speeds. Beyond the fastest measured line the speed is carried on by
 * similarity with a wide spread.
 */
export function compressorSpeed(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const kept = ledger.look('compressorSpeedMargin')?.value ?? KEPT_SPEED;
  const title: LimitTitle = {
    name: 'compressor speed',
    subject: 'charge-air',
    kind: 'turbo-speed',
    source: `compressor map at this air flow and height; limit as stated or from usual tip speeds (from memory); ${kept * 100} % kept in hand: our default`,
    kept,
  };
  const limit = speedLimit(ledger);
  if (!limit) {
    const why = 'limit unknown: state turboSpeedLimit or compressorWheel';
    return unknownLimit(title, { prediction, ledger }, why);
  }
  const available = around(limit.value * (1 - kept), limit.standardUncertainty * (1 - kept));
  const why = model.map === undefined ? 'no compressor map, and the shaft speed is not predicted' : undefined;
  return limitFrom(title, { prediction, ledger, ...(why ? { why } : {}) }, (i) => {
    const told = predicted(prediction, 'turbocharger speed', i);
    const required = Number.isFinite(told.value) ? told : speedOfMap({ model, prediction, step, ledger }, i);
    return { required, available };
  });
}

function speedLimit(ledger: Ledger): Measured | undefined {
  const stated = ledger.look('turboSpeedLimit');
  if (stated) return stated;
  const wheel = ledger.look('compressorWheel');
  if (!wheel) {
    ledger.need('turboSpeedLimit');
    return undefined;
  }
  const { low, high } = USUAL_TIP_LIMIT;
  const middle = (low + high) / 2;
  const tip = ledger.take('compressorTipLimit', {
    value: middle,
    standardUncertainty: (high - low) / Math.sqrt(12),
    source: 'from memory',
  });
  const value = speedOfTip(length(wheel.value), speed(tip.value));
  const relative = Math.hypot(tip.standardUncertainty / tip.value, wheel.standardUncertainty / wheel.value);
  return around(value, value * relative);
}

/** Shaft speed from the map itself where the prediction has none [rad/s]; a little beyond the fastest line by similarity. */
function speedOfMap(question: DutyQuestion, index: number): Measured {
  const { map } = question.model;
  const duty = map && compressorDuty(question, map, index);
  if (!map || !duty || Number.isNaN(duty.pressureRatio)) return UNKNOWN;
  const air = predicted(question.prediction, 'air flow', index);
  const point = measuredMapSpeed(map, {
    flow: around(duty.correctedFlow, (duty.correctedFlow * air.standardUncertainty) / air.value),
    pressureRatio: around(duty.pressureRatio, RATIO_SPREAD * duty.pressureRatio),
  });
  const corrected = point.kind === 'inside' ? point.speed : carriedOn(map, duty);
  const seen = question.model.parameters.find(({ name }) => name === 'mapSpeed')?.value ?? 1;
  const factor = seen * Math.sqrt(duty.inlet.temperature / map.reference.temperature);
  return around(factor * corrected.value, factor * corrected.standardUncertainty);
}

/** Of the pressure ratio, losses and barometer together [1]. @source our default */
const RATIO_SPREAD = 0.01;

function carriedOn(map: CompressorMap, { correctedFlow, pressureRatio }: CompressorDuty): Measured {
  const found = beyondFastestLine(map, { flow: correctedFlow, pressureRatio });
  if (!found) return UNKNOWN;
  // the carried part is known to a half of itself
  return around(found.speed, found.speed * Math.hypot(1.5 * MAP_SPEED_SPREAD, found.beyond / 2));
}
