import type { Detection, Fault, FaultWindow } from '../../detector.ts';
import type { WeighingModel } from '../model.ts';

/** A window of an invented pull, s since its record began. */
export const window = (from: number, to: number): FaultWindow => ({ from, to, lowSpeed: 300, highSpeed: 500 });

/** A detection made by hand: seen in the middle of the pull unless told otherwise. */
export function made(fault: Fault, rest: Partial<Detection> = {}): Detection {
  return {
    ...{ fault, subject: 'driveline', answer: 'seen', windows: [window(7, 9)], features: [], strength: 0.8 },
    ...{ stopClass: 1, voids: 'power', lookAlikes: [], needs: [], missing: [] },
    ...rest,
  };
}

/** A model in which every fault is as frequent, its own detector nearly always sees it, and others seldom do. */
export function plainModel(faults: readonly Fault[], rest: Partial<WeighingModel> = {}): WeighingModel {
  const prior = 0.02;
  const weights = Object.fromEntries(
    faults.map((fault) => [
      `said:${fault}`,
      {
        [fault]: { sure: 3, clear: 3, faint: 2, no: -3 },
        nothing: { sure: -2, clear: -2, faint: -1, no: 0.1 },
      },
    ]),
  );
  return {
    priors: Object.fromEntries(faults.map((fault) => [fault, prior])),
    trust: Object.fromEntries(faults.map((fault) => [fault, { faint: 0.5, clear: 0.8, sure: 0.9 }])),
    general: Object.fromEntries(
      faults.map((fault) => [`said:${fault}`, { sure: 0.01, clear: 0.01, faint: 0.02, no: 0.96 }]),
    ),
    weights,
    explains: {},
    shrinkage: { said: 1, questions: 1 },
    calibration: { all: { slope: 1, intercept: 0 } },
    ...rest,
  };
}
