import type { Step } from '../../model/engine-model.ts';
import type { Foresight } from '../foresight.ts';
import { sparkVoltage } from '../kinds/spark-voltage.ts';

export interface MapAxes {
  /** [rad/s] */
  readonly speeds: Float64Array;
  /** [Pa] */
  readonly pressures: Float64Array;
}

/** Row after row, one row per pressure: value of (pressure k, speed i) at k·speeds + i. margin [1], over: probability [0 … 1]. */
export interface SparkMarginMap extends MapAxes {
  readonly margin: Float64Array;
  readonly marginUncertainty: Float64Array;
  readonly over: Float64Array;
  readonly why?: string;
  readonly assumed: readonly string[];
}

/** Spark margin over engine speed and manifold pressure, everything else as in the step. */
export function sparkMarginMapOf(foresight: Foresight, step: Step, axes: MapAxes): SparkMarginMap {
  const { speeds, pressures } = axes;
  const size = speeds.length * pressures.length;
  const margin = new Float64Array(size).fill(Number.NaN);
  const marginUncertainty = new Float64Array(size).fill(Number.NaN);
  const over = new Float64Array(size).fill(Number.NaN);
  let why: string | undefined;
  let assumed: readonly string[] = [];
  pressures.forEach((manifoldPressure, k) => {
    const here = { ...step, manifoldPressure };
    const limit = sparkVoltage(foresight.model, foresight.predict(here, speeds), here);
    margin.set(limit.margin, k * speeds.length);
    marginUncertainty.set(limit.marginUncertainty, k * speeds.length);
    over.set(limit.over, k * speeds.length);
    why ??= limit.why;
    assumed = limit.assumed;
  });
  return { speeds, pressures, margin, marginUncertainty, over, ...(why === undefined ? {} : { why }), assumed };
}
