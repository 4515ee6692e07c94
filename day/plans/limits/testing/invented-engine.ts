import { sparkDemand } from '../../../../core/physics/index.ts';
import { absolutePressure, length, type Measured, ratio, temperature } from '../../../../core/quantities/index.ts';
import type { EngineModel, PredictedLine, Step } from '../../model/engine-model.ts';
import { everyLine } from '../../model/line-kinds.ts';
import { priorModel } from '../../model/prior-model.ts';
import { inventedMap } from '../../model/testing/invented-map.ts';
import type { Foresight } from '../foresight.ts';
import { BUILD_SHEET, DEGREE, RPM } from './build-sheet.ts';

/** Relative standard uncertainty that a day of pulls leaves on each line of this invented engine. */
const SPREADS: Readonly<Record<PredictedLine, number>> = {
  'engine torque': 0.01,
  'engine power': 0.01,
  'wheel power': 0.01,
  'wheel force': 0.01,
  'air flow': 0.01,
  'charge temperature': 0.005,
  'exhaust pressure': 0.03,
  'turbocharger speed': 0.01,
  'fuel flow': 0.01,
  'injector duty': 0.01,
  'peak pressure': 0.02,
  'knock integral': 0.05,
  'exhaust temperature': 0.01,
  'spark voltage': 0.03,
  timing: 0,
};

const FILLING = [0.935, 0.97, 0.985, 0.955, 0.925];
const RPM_GRID = [3500, 4500, 5500, 6500, 7000];
const KPA_GRID = [150, 170, 185, 200, 208, 215, 230];
/** Rows by manifold pressure: torque [N·m], shaft speed [krpm], charge temperature [°C], exhaust pressure [kPa], injector duty [%]. */
const TORQUE = [
  [320, 328, 327, 309, 296],
  [362, 370, 368, 348, 333],
  [393, 402, 398, 376, 359],
  [423, 432, 428, 402, 384],
  [439, 448, 443, 416, 397],
  [453, 462, 456, 428, 408],
  [483, 491, 483, 452, 431],
];
const SHAFT = [
  [76.7, 79.4, 84.1, 88.8, 90.6],
  [85.3, 88.3, 93.6, 99, 101.1],
  [90.9, 94.2, 100, 106, 108.3],
  [95.9, 99.5, 106, 112.7, 115.2],
  [98.3, 102.2, 109.1, 116.1, 118.8],
  [100.4, 104.5, 111.7, 119, 121.9],
  [104.6, 109.2, 117.2, 125.2, 128.4],
];
const CHARGE = [
  [48, 49, 50, 52, 53],
  [52, 53, 55, 57, 58],
  [55, 56, 58, 61, 63],
  [57, 59, 62, 66, 67],
  [59, 60, 64, 68, 70],
  [60, 62, 66, 70, 72],
  [62, 65, 70, 75, 77],
];
const EXHAUST = [
  [134, 146, 161, 174, 179],
  [148, 164, 184, 202, 208],
  [160, 179, 203, 224, 232],
  [172, 194, 223, 247, 257],
  [179, 203, 233, 260, 270],
  [184, 210, 243, 272, 282],
  [197, 226, 264, 297, 309],
];
const DUTY = [
  [34, 45, 56, 63, 66],
  [38, 50, 62, 71, 73],
  [41, 54, 67, 76, 79],
  [44, 58, 71, 81, 84],
  [45, 60, 74, 84, 87],
  [47, 62, 76, 86, 89],
  [50, 66, 80, 91, 94],
];

/** Straight between the cells and straight beyond the edges. */
function cell(table: readonly (readonly number[])[], rpm: number, kPa: number): number {
  const at = (grid: readonly number[], value: number) => {
    let k = 0;
    while (k < grid.length - 2 && grid[k + 1] < value) k++;
    return { k, share: (value - grid[k]) / (grid[k + 1] - grid[k]) };
  };
  const [p, n] = [at(KPA_GRID, kPa), at(RPM_GRID, rpm)];
  const row = (k: number): number => table[k][n.k] + n.share * (table[k][n.k + 1] - table[k][n.k]);
  return row(p.k) + p.share * (row(p.k + 1) - row(p.k));
}

/** The invented flat six as a day of pulls would have told it: straight from its own formulas and tables, not from the engine model. */
export function inventedForesight(more: Readonly<Record<string, Measured>> = {}): Foresight {
  const model = withValues(priorModel(BUILD_SHEET, inventedMap()), more);
  return {
    model,
    predict: (step, speeds) => {
      const rows = [...speeds].map((speed) => lineAt(model, step, speed));
      const curve = (line: PredictedLine) => {
        const value = Float64Array.from(rows, (row) => row[line]);
        return {
          kind: 'ratio' as const,
          value,
          standardUncertainty: value.map((one) => Math.abs(one) * SPREADS[line]),
        };
      };
      return { speed: speeds, lines: everyLine(curve), missing: [], assumed: [] };
    },
  };
}

/** The model with more stated values. */
export function withValues(model: EngineModel, more: Readonly<Record<string, Measured>>): EngineModel {
  const values = new Map(model.values);
  for (const [name, value] of Object.entries(more)) {
    values.set(name, { name, kind: 'ratio', ...value, origin: 'stated', source: 'stated in a test' });
  }
  return { ...model, values };
}

/** The model without some values. */
export function withoutValues(model: EngineModel, names: readonly string[]): EngineModel {
  return { ...model, values: new Map([...model.values].filter(([name]) => !names.includes(name))) };
}

function lineAt(model: EngineModel, step: Step, speed: number): Record<PredictedLine, number> {
  const rpm = speed / RPM;
  const kPa = step.manifoldPressure / 1e3;
  const torque = cell(TORQUE, rpm, kPa);
  const charge = cell(CHARGE, rpm, kPa);
  const dip = rpm > 3200 && rpm < 4100 ? 0.9 : 0;
  const knockLimit = 19.5 - 0.095 * (kPa - 160) - 0.06 * (charge - 45) - dip;
  const best = 22 - 0.075 * (kPa - 160) + 0.0016 * (rpm - 3500);
  const timing = knockLimit - 1 + (step.timing ?? 0) / DEGREE;
  const filling = cell(
    KPA_GRID.map(() => FILLING),
    rpm,
    kPa,
  );
  const T = charge + 273.15;
  const air = (filling * step.manifoldPressure * 2.48e-3 * speed) / (4 * Math.PI * 287.05 * T);
  const gear = step.overallRatio ?? 4.402;
  const v = (speed / gear) * 0.33;
  const force = (torque * (1 - 0.055) * gear) / 0.33 - 180 - 3.2 * v;
  return {
    'engine torque': torque,
    'engine power': torque * speed,
    'wheel power': force * v,
    'wheel force': force,
    'air flow': air,
    'charge temperature': T,
    'exhaust pressure': cell(EXHAUST, rpm, kPa) * 1e3,
    'turbocharger speed': step.altitude === undefined ? cell(SHAFT, rpm, kPa) * 1e3 * RPM : Number.NaN,
    'fuel flow': air / (10.6 * (step.lambda ?? 0.8)),
    'injector duty': cell(DUTY, rpm, kPa) / 100,
    'peak pressure': 1e5 * (60 * (kPa / 100) * (1 - 0.01 * (best - timing)) + 4),
    'knock integral': 1 + 0.08 * (timing - knockLimit),
    'exhaust temperature': 1153 + 0.018 * (rpm - 6500) + 0.25 * (kPa - 180),
    'spark voltage': sparkNeed(model, step, { kPa, timing }),
    timing: timing * DEGREE,
  };
}

/** Polytropic compression of the charge from 50° after bottom dead centre, 345 K, with the worn-plug correlation. */
function sparkNeed(model: EngineModel, step: Step, at: { readonly kPa: number; readonly timing: number }): number {
  const { stroke, rodLength: rod, compressionRatio } = model.engine;
  const volume = (angle: number): number => {
    const r = stroke / 2;
    const travel = r * (1 - Math.cos(angle)) + rod - Math.sqrt(rod * rod - (r * Math.sin(angle)) ** 2);
    return stroke / (compressionRatio - 1) + travel;
  };
  const squeeze = volume(130 * DEGREE) / volume(at.timing * DEGREE);
  return sparkDemand({
    pressure: absolutePressure(at.kPa * 1e3 * squeeze ** 1.32),
    temperature: temperature(345 * squeeze ** 0.32),
    gap: length(step.plugGap ?? model.values.get('plugGap')?.value ?? Number.NaN),
    electrodes: 'worn',
    lambda: ratio(step.lambda ?? 0.8),
  }).demand.value;
}
