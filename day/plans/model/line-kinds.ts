import type { QuantityKind } from '../../../core/quantities/index.ts';
import type { PredictedCurve, PredictedLine, Prediction } from './engine-model.ts';

/**
 * Quantity of each line, and what the model itself may be wrong by, relative and absolute [SI], beside its numbers.
 *
 * @source  our defaults: mean-value gas exchange, steady air path, one burn law for all cycles, breakdown by a correlation (± 14 %) with wear unknown (± 7.5 %)
 */
export const LINE_KINDS: Readonly<
  Record<PredictedLine, { readonly kind: QuantityKind; readonly share: number; readonly spread: number }>
> = {
  'engine torque': { kind: 'torque', share: 0.006, spread: 0 },
  'engine power': { kind: 'power', share: 0.006, spread: 0 },
  'wheel power': { kind: 'power', share: 0.007, spread: 0 },
  'wheel force': { kind: 'force', share: 0.007, spread: 0 },
  'air flow': { kind: 'mass-flow', share: 0.01, spread: 0 },
  'charge temperature': { kind: 'temperature', share: 0, spread: 2.5 },
  'exhaust pressure': { kind: 'absolute-pressure', share: 0.03, spread: 0 },
  'turbocharger speed': { kind: 'turbo-speed', share: 0.01, spread: 0 },
  'fuel flow': { kind: 'mass-flow', share: 0.012, spread: 0 },
  'injector duty': { kind: 'fraction', share: 0.015, spread: 0 },
  'peak pressure': { kind: 'cylinder-pressure', share: 0.1, spread: 0 },
  'knock integral': { kind: 'ratio', share: 0.2, spread: 0 },
  'exhaust temperature': { kind: 'temperature', share: 0, spread: 30 },
  'spark voltage': { kind: 'high-voltage', share: 0.163, spread: 0 },
  timing: { kind: 'angle', share: 0, spread: 0 },
};

export const LINES: readonly PredictedLine[] = [
  'engine torque',
  'engine power',
  'wheel power',
  'wheel force',
  'air flow',
  'charge temperature',
  'exhaust pressure',
  'turbocharger speed',
  'fuel flow',
  'injector duty',
  'peak pressure',
  'knock integral',
  'exhaust temperature',
  'spark voltage',
  'timing',
];

/** A curve for each line. */
export function everyLine(curve: (line: PredictedLine) => PredictedCurve): Prediction['lines'] {
  return {
    'engine torque': curve('engine torque'),
    'engine power': curve('engine power'),
    'wheel power': curve('wheel power'),
    'wheel force': curve('wheel force'),
    'air flow': curve('air flow'),
    'charge temperature': curve('charge temperature'),
    'exhaust pressure': curve('exhaust pressure'),
    'turbocharger speed': curve('turbocharger speed'),
    'fuel flow': curve('fuel flow'),
    'injector duty': curve('injector duty'),
    'peak pressure': curve('peak pressure'),
    'knock integral': curve('knock integral'),
    'exhaust temperature': curve('exhaust temperature'),
    'spark voltage': curve('spark voltage'),
    timing: curve('timing'),
  };
}
