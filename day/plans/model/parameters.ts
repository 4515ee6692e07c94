import { CYCLE_PARAMETERS, MAP_SPEED_SPREAD } from '../../../core/physics/index.ts';
import type { KnownValue } from './engine-model.ts';

/** One number that calibration may move: prior mean and standard deviation, and the range in which an engine can be. */
export interface Parameter {
  readonly name: string;
  readonly mean: number;
  readonly spread: number;
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

/** Places of the bends of filling over speed, as shares of the redline [1]. @source our default: as fine as ten points of a pull can tell */
export const KNOTS: readonly number[] = [0.35, 0.5, 0.62, 0.74, 0.86, 1];

/** Name of the parameter of one place. */
export const knotName = (share: number): string => `filling at ${Math.round(100 * share)} % of redline`;

/** Widest spread of a part's value that the day may still correct, from what is known of it. */
const PARTS = [
  'compressionRatio',
  'halfBurned',
  'turbineArea',
  'turbineEfficiency',
  'compressorEfficiency',
  'coolerEffectiveness',
  'inletLoss',
  'coolerLoss',
  'exhaustLoss',
  'injectorFlow',
  'injectorDeadTime',
] as const;

/** What the cycle model's own parameters do not cover. */
const OWN: readonly Parameter[] = [
  ...KNOTS.map((share) =>
    own(knotName(share), [0, 0.03], 'our default: waves in the intake, ± 3 % between neighbouring speeds'),
  ),
  own('phaseEffect', [0, 0.3], 'our default: filling by cam phase beyond that of the closing angle, ± 3 % per 6°'),
  own('phaseSlope', [0, 0.5], 'our default: change of that with speed, per redline'),
  own('phaseBend', [0, 1], 'our default: ± 1 % at 6°'),
  own(
    'workScale',
    [1, 0.03],
    'our default: what one burn law and mean-value gas exchange get wrong in the work of the cycle',
  ),
  own('workByPressure', [0, 0.04], 'our default: change of that with the logarithm of manifold pressure about 180 kPa'),
  own('workBySpeed', [0, 0.05], 'our default: the same over speed, per redline'),
  own('workByTiming', [0, 0.3], 'our default: change of work per radian of timing beside the habit, 1 % per 2°'),
  own('mapSpeed', [1, MAP_SPEED_SPREAD], 'spread of a map against the same machine on an engine'),
  own('mapEfficiency', [1, 0.03], 'our default: pulsating flow and build spread'),
  own('coolerFlow', [-0.1, 0.05], 'our default: effectiveness falls with flow'),
  own(
    'probeShortfall',
    [0, 80],
    'our default: a probe weighs the gas by time, the model by energy; port heat and position are not known',
  ),
  own('torqueScale', [1, 0.01], 'what the roller shows over the truth, shared by the pulls of the day'),
];

/**
 * Heat in the charge cooler: how far what cools the charge stands above the air outside (above its tank) when the load begins [K], and what
 * comes to it in a second of load [K/s], beside what the tank takes up.
 *
 * @source common practice, no source: behind a roller's fan a cooler starts 0 … 12 K above the air that is measured and gains 2 … 6 K in ten to fifteen seconds; an iced tank
 * is 0 … 4 K above the melting point where the pump takes its water
 */
function soakOf(coolant: 'air' | 'water'): readonly Parameter[] {
  const start = own('soakStart', coolant === 'air' ? [4, 4] : [2, 3], SOAK_SOURCE);
  const rate = own('soakRate', coolant === 'air' ? [0.3, 0.2] : [0, 0.05], SOAK_SOURCE);
  return [start, coolant === 'air' ? { ...rate, low: 0 } : rate];
}

const SOAK_SOURCE = 'common practice, no source';

function own(name: string, [mean, spread]: readonly [number, number], source: string): Parameter {
  return { name, mean, spread, low: mean - 6 * spread, high: mean + 6 * spread, source };
}

/** All parameters in their fixed order, with priors from what is known of the parts. */
export function parametersOf(values: ReadonlyMap<string, KnownValue>): readonly Parameter[] {
  const cycle = CYCLE_PARAMETERS.map(({ name, mean, spread, low, high, source }) => ({
    ...{ name, mean, spread, low, high, source },
  }));
  const parts = PARTS.flatMap((name) => {
    const known = values.get(name);
    if (!known || !(known.standardUncertainty > 0)) return [];
    const { value: mean, standardUncertainty: spread, source } = known;
    return [{ name, mean, spread, low: Math.max(0.2 * mean, mean - 5 * spread), high: mean + 5 * spread, source }];
  });
  const lag = {
    ...own('chargeLag', [2, 1.5], 'common practice, no source: 1 … 5 s of a thermometer in moving air'),
    low: 0,
  };
  const soak = (values.get('coolerWater')?.value ?? 0) > 0 ? soakOf('water') : soakOf('air');
  return [...cycle, ...OWN, lag, ...soak, ...parts];
}
