import { answered, type Outcome, refused } from '../../../../core/quantities/index.ts';
import type { PredictedCurve, PredictedLine, Prediction, Step } from '../../model/engine-model.ts';
import type { Observation } from '../../model/observations.ts';
import { predicted } from '../balance.ts';
import type { Foresight } from '../foresight.ts';
import { compressorDuty } from '../kinds/compressor-duty.ts';
import { ledgerOf } from '../ledger.ts';

/**
 * Where the clean stretches of one pull stood on the compressor map; arrays as long as `speed` of the engine [rad/s], rising with time.
 *
 * flow: corrected [kg/s], pressureRatio [1], each with its standard uncertainty. measured: the air flow was logged; else it is that of the
 * calibrated engine at the pressure and temperature of the pull.
 */
export interface CompressorPoints {
  readonly entry: string;
  readonly speed: Float64Array;
  readonly manifoldPressure: Float64Array;
  readonly flow: Float64Array;
  readonly flowUncertainty: Float64Array;
  readonly pressureRatio: Float64Array;
  readonly pressureRatioUncertainty: Float64Array;
  readonly measured: boolean;
}

/** Manifold pressure sensor [1]. @source common practice, no source: 1 % of the reading */
const PRESSURE_SHARE = 0.01;
/** Logged air flow [1]. @source common practice, no source: 1.5 … 3 % */
const FLOW_SHARE = 0.02;

/** Every clean pull of the day on the map, in the order of the day. Refuses without a map. */
export function compressorPointsOf(
  foresight: Foresight,
  observations: readonly Observation[],
): Outcome<readonly CompressorPoints[]> {
  if (!foresight.model.map)
    return refused({ kind: 'missing-compressor-map', message: 'missing compressor map: state compressorMap' });
  const pulls = new Map<number, Observation[]>();
  for (const seen of observations) pulls.set(seen.pull, [...(pulls.get(seen.pull) ?? []), seen]);
  return answered([...pulls.values()].map((points) => pullPoints(foresight, points)));
}

function pullPoints(foresight: Foresight, points: readonly Observation[]): CompressorPoints {
  const placed = points.map((point) => pointOf(foresight, point));
  const column = (read: (at: number) => number) => Float64Array.from(points, (_, at) => read(at));
  return {
    entry: points[0].entry,
    speed: column((at) => points[at].speed),
    manifoldPressure: column((at) => points[at].manifoldPressure),
    flow: column((at) => placed[at].flow),
    flowUncertainty: column((at) => placed[at].flowUncertainty),
    pressureRatio: column((at) => placed[at].pressureRatio),
    pressureRatioUncertainty: column((at) => placed[at].pressureRatioUncertainty),
    measured: points.some(({ airFlow }) => Number.isFinite(airFlow)),
  };
}

interface Placed {
  readonly flow: number;
  readonly flowUncertainty: number;
  readonly pressureRatio: number;
  readonly pressureRatioUncertainty: number;
}

const NOWHERE: Placed = {
  flow: Number.NaN,
  flowUncertainty: Number.NaN,
  pressureRatio: Number.NaN,
  pressureRatioUncertainty: Number.NaN,
};

function pointOf({ model, predict }: Foresight, seen: Observation): Placed {
  const { map } = model;
  if (!map) return NOWHERE;
  const { manifoldPressure, ambientPressure, ambientTemperature, lambda } = seen;
  const step: Step = {
    ...{ manifoldPressure, ambientPressure, ambientTemperature },
    ...(Number.isFinite(lambda) && { lambda }),
  };
  const prediction = asSeen(predict(step, Float64Array.of(seen.speed)), seen);
  const ledger = ledgerOf(model);
  const duty = compressorDuty({ model, prediction, step, ledger }, map, 0);
  if (!duty) return NOWHERE;
  const air = predicted(prediction, 'air flow', 0);
  const spread = (name: string): number => ledger.look(name)?.standardUncertainty ?? 0;
  const { inlet, pressureRatio } = duty;
  return {
    flow: duty.correctedFlow,
    flowUncertainty: (duty.correctedFlow * air.standardUncertainty) / air.value,
    pressureRatio,
    pressureRatioUncertainty:
      Math.hypot(PRESSURE_SHARE * manifoldPressure, spread('coolerLoss'), pressureRatio * spread('inletLoss')) /
      inlet.pressure,
  };
}

/** The prediction with what was logged in place of what was foretold. */
function asSeen(prediction: Prediction, { airFlow, chargeTemperature }: Observation): Prediction {
  const lines = { ...prediction.lines };
  put('air flow', airFlow, FLOW_SHARE * airFlow);
  put('charge temperature', chargeTemperature, 2);
  return { ...prediction, lines };

  function put(line: PredictedLine, value: number, standardUncertainty: number): void {
    if (!Number.isFinite(value)) return;
    const { kind } = lines[line];
    const seen: PredictedCurve = {
      kind,
      value: Float64Array.of(value),
      standardUncertainty: Float64Array.of(standardUncertainty),
    };
    lines[line] = seen;
  }
}
