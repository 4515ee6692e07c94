import { normalCdf } from '../../numerics/index.ts';
import {
  type AbsolutePressure,
  type Angle,
  type AngularSpeed,
  absolutePressure,
  angle,
  angularSpeed,
  type Measured,
  measured,
  type Ratio,
  ratio,
} from '../../quantities/index.ts';

/**
 * margin: (available − demand)/demand [1]. failing: share of sparks whose demand is above what is available [1]; `likely` at the best
 * estimates, `upper` with both known only as well as stated, one standard uncertainty to the bad side.
 */
export interface SparkMargin {
  readonly margin: Measured;
  readonly failing: { readonly likely: Ratio; readonly upper: Ratio };
}

/** Scatter of the demand from spark to spark, relative standard deviation [1]. @source our default; statistical lag and gas motion */
export const SPARK_SCATTER = 0.08;

/**
 * Margin between the voltage a coil can give and the voltage the plug takes.
 *
 *     m = Va/Vd − 1,   u(m) = (Va/Vd)·√(u(Va)²/Va² + u(Vd)²/Vd²)
 *
 * @param available, demand [V]
 * @param scatter  of the demand from spark to spark, relative [1]
 * @valid   failing sparks assume normal scatter; the tails of a real engine are longer
 * @source  JCGM 100:2008, equation 12
 */
export function sparkMargin(available: Measured, demand: Measured, scatter: number = SPARK_SCATTER): SparkMargin {
  const quotient = available.value / demand.value;
  const relative = Math.hypot(
    available.standardUncertainty / available.value,
    demand.standardUncertainty / demand.value,
  );
  const share = (bad: number): Ratio =>
    ratio(1 - normalCdf((quotient * (1 - bad * relative) - 1) / Math.max(scatter, 1e-9)));
  return {
    margin: measured(quotient - 1, quotient * relative),
    failing: { likely: share(0), upper: share(1) },
  };
}

export interface MarginGridInput {
  readonly engineSpeeds: readonly AngularSpeed[];
  readonly manifoldPressures: readonly AbsolutePressure[];
  /** Spark angles, negative before top dead centre. */
  readonly sparks: readonly Angle[];
  readonly available: (speed: AngularSpeed) => Measured;
  readonly demand: (speed: AngularSpeed, manifold: AbsolutePressure, spark: Angle) => Measured;
}

/** margin and uncertainty: [(speed·pressures + pressure)·sparks + spark], best estimate and standard uncertainty [1]. */
export interface MarginGrid {
  readonly margin: Float64Array;
  readonly uncertainty: Float64Array;
  /** Smallest margin minus one standard uncertainty, and where it lies. */
  readonly tightest: {
    readonly engineSpeed: AngularSpeed;
    readonly manifoldPressure: AbsolutePressure;
    readonly spark: Angle;
    readonly margin: Measured;
  };
}

/** Margin over speed, manifold pressure and spark angle; throws without any point. */
export function sparkMarginGrid(input: MarginGridInput): MarginGrid {
  const { engineSpeeds, manifoldPressures, sparks } = input;
  const size = engineSpeeds.length * manifoldPressures.length * sparks.length;
  if (size === 0) throw new RangeError('empty grid of spark margins');
  const margin = new Float64Array(size);
  const uncertainty = new Float64Array(size);
  let worst = 0;
  for (let k = 0; k < size; k++) {
    const { speed, pressure, spark } = pointOf(input, k);
    const found = sparkMargin(input.available(speed), input.demand(speed, pressure, spark)).margin;
    margin[k] = found.value;
    uncertainty[k] = found.standardUncertainty;
    if (margin[k] - uncertainty[k] < margin[worst] - uncertainty[worst]) worst = k;
  }
  const { speed, pressure, spark } = pointOf(input, worst);
  return {
    margin,
    uncertainty,
    tightest: {
      engineSpeed: angularSpeed(speed),
      manifoldPressure: absolutePressure(pressure),
      spark: angle(spark),
      margin: measured(margin[worst], uncertainty[worst]),
    },
  };
}

function pointOf(
  { engineSpeeds, manifoldPressures, sparks }: MarginGridInput,
  k: number,
): { readonly speed: AngularSpeed; readonly pressure: AbsolutePressure; readonly spark: Angle } {
  const row = Math.floor(k / sparks.length);
  return {
    speed: engineSpeeds[Math.floor(row / manifoldPressures.length)],
    pressure: manifoldPressures[row % manifoldPressures.length],
    spark: sparks[k % sparks.length],
  };
}
