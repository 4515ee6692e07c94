import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { quantile } from '../../core/numerics/index.ts';
import { DEGREE, INVENTED_ENGINE, stateAt } from '../../core/physics/cycle/testing/invented-engine.ts';
import { type CycleEngine, cycleSolver, gasModel, petrol } from '../../core/physics/index.ts';
import { absolutePressure, angle, length, ratio } from '../../core/quantities/index.ts';

const DATA = join(import.meta.dirname, '../../../shared/data/regulation-vehicles-full-load');
/** Mean piston speed at rated speed from which the unknown stroke is taken [m/s]. @source common practice, no source: 15 … 19 */
const RATED_PISTON_SPEED = 17;
/** Rated speeds of spark-ignition engines begin about here, and without boost the best torque is above this share of it. @source our default */
const SPARK_IGNITION = 5000;
const UNBOOSTED_SHARE = 0.55;

interface Curve {
  readonly speeds: readonly number[];
  readonly torques: readonly number[];
  readonly rated: number;
}

export interface Spread {
  readonly vehicles: number;
  readonly points: number;
  /** Shares of relative error of torque: 5, 25, 50, 75, 95 %. */
  readonly quantiles: readonly number[];
  readonly rootMeanSquare: number;
}

/**
 * Full-load torque of the model with nothing fitted but one scale per vehicle, against the curves of the regulation's vehicles.
 * Displacement, bore and boost are not in that data: the scale takes displacement from the rated point, so only the shape over speed
 * is judged. Undefined without the data.
 */
export function fullLoadErrors(): { readonly likely: Spread; readonly all: Spread } | undefined {
  if (!existsSync(DATA)) return undefined;
  const curves = [...readCurves().values()].filter(({ rated }) => rated >= SPARK_IGNITION);
  const unboosted = curves.filter((curve) => {
    const best = curve.torques.indexOf(Math.max(...curve.torques));
    return curve.speeds[best] >= UNBOOSTED_SHARE * curve.rated;
  });
  return { likely: spreadOf(unboosted), all: spreadOf(curves) };
}

function readCurves(): Map<string, Curve> {
  const table = (name: string): readonly (readonly string[])[] => {
    const [, ...lines] = readFileSync(join(DATA, name), 'utf8').trim().split('\n');
    return lines.map((line) => line.split(','));
  };
  const rated = new Map(table('vehicle.csv').map((row) => [row[0], Number(row[4])]));
  const curves = new Map<string, { speeds: number[]; torques: number[]; rated: number }>();
  for (const [vehicle, rpm, kilowatt] of table('engine.csv')) {
    const curve = curves.get(vehicle) ?? { speeds: [], torques: [], rated: rated.get(vehicle) ?? Number.NaN };
    curves.set(vehicle, curve);
    curve.speeds.push(Number(rpm));
    curve.torques.push((Number(kilowatt) * 1e3) / ((Number(rpm) * Math.PI) / 30));
  }
  return curves;
}

const GAS = gasModel(petrol(95));

/** Relative errors between 30 and 100 % of rated speed, the rated point itself left out. */
function errorsOf({ speeds, torques, rated }: Curve): readonly number[] {
  const stroke = (RATED_PISTON_SPEED * 30) / rated;
  const engine: CycleEngine = {
    ...INVENTED_ENGINE,
    bore: length(stroke),
    stroke: length(stroke),
    rodLength: length(1.66 * stroke),
    compressionRatio: ratio(10.5),
  };
  const solver = cycleSolver(engine, GAS);
  const model = (rpm: number): number => {
    const state = stateAt({ rpm, bar: 0.98, lambda: 0.9, half: 10 });
    const exhaustPressure = absolutePressure(1.013e5 + 0.2e5 * (rpm / rated) ** 2);
    const found = solver.solve({ ...state, exhaustPressure, intakePhase: angle(15 * DEGREE * (1 - rpm / rated)) });
    return found.ok ? found.value.brakeTorque : Number.NaN;
  };
  const near = speeds.reduce((best, rpm, i) => (Math.abs(rpm - rated) < Math.abs(speeds[best] - rated) ? i : best), 0);
  const scale = torques[near] / model(speeds[near]);
  return speeds.flatMap((rpm, i) =>
    i === near || rpm < 0.3 * rated || rpm > rated ? [] : [(scale * model(rpm)) / torques[i] - 1],
  );
}

function spreadOf(curves: readonly Curve[]): Spread {
  const errors = curves.flatMap(errorsOf);
  const sorted = Float64Array.from(errors);
  return {
    vehicles: curves.length,
    points: errors.length,
    quantiles: [0.05, 0.25, 0.5, 0.75, 0.95].map((share) =>
      quantile({ samples: sorted, probability: share, missing: 'skip' }),
    ),
    rootMeanSquare: Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length),
  };
}

export function fullLoadText(found: ReturnType<typeof fullLoadErrors>): string {
  if (!found) return 'Full-load curves: the data folder is absent, so not measured.';
  const line = (name: string, { vehicles, points, quantiles, rootMeanSquare }: Spread): string =>
    `  ${name}: ${vehicles} vehicles, ${points} points; 5, 25, 50, 75, 95 %: ${quantiles.map((q) => `${(100 * q).toFixed(1)} %`).join(', ')}; root mean square ${(100 * rootMeanSquare).toFixed(1)} %`;
  return [
    'Torque over speed at full load, one scale per vehicle, nothing else fitted:',
    line('likely without boost', found.likely),
    line('all of 5000 rpm rated and more', found.all),
  ].join('\n');
}

if (import.meta.main) console.log(fullLoadText(fullLoadErrors()));
