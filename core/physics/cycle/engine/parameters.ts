import type { CycleEngine, CycleFit } from './engine.ts';

/** One number that a fit may move, with what is believed of it before any measurement: mean ± spread (one standard deviation). */
export interface CycleParameter {
  readonly name: keyof CycleFit;
  readonly meaning: string;
  readonly mean: number;
  readonly spread: number;
  /** Values outside make no engine. */
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

/**
 * What a calibration may fit, in a fixed order.
 *
 * The model is smooth in all of them: steps move with burning, nothing is rounded to a grid, and the number of passes is fixed.
 */
export const CYCLE_PARAMETERS: readonly CycleParameter[] = [
  {
    name: 'filling',
    meaning: 'pressure at intake closing over what valve flow alone gives, at 12 m/s mean piston speed',
    mean: 1.05,
    spread: 0.06,
    low: 0.6,
    high: 1.5,
    source: 'common practice, no source: four-valve engines fill to 0.9 … 1.0 of their displacement',
  },
  {
    name: 'fillingSlope',
    meaning: 'change of filling with speed, per 12 m/s',
    mean: 0,
    spread: 0.06,
    low: -0.6,
    high: 0.6,
    source: 'our default',
  },
  {
    name: 'fillingBend',
    meaning: 'bend of filling over speed, per (12 m/s)²',
    mean: -0.05,
    spread: 0.08,
    low: -0.8,
    high: 0.8,
    source: 'our default: a tuned intake is best in the middle',
  },
  {
    name: 'intakeLag',
    meaning: 'crank angle over which the cylinder fills up after bottom dead centre, times 28°',
    mean: 1,
    spread: 0.3,
    low: 0.2,
    high: 3,
    source: 'our default',
  },
  {
    name: 'burnDelay',
    meaning: 'angle from spark to 10 % burned',
    mean: 1,
    spread: 0.2,
    low: 0.3,
    high: 3,
    source: 'our default',
  },
  {
    name: 'burnDuration',
    meaning: 'angle from 10 to 90 % burned at 12 m/s mean piston speed',
    mean: 1,
    spread: 0.2,
    low: 0.3,
    high: 3,
    source: 'our default',
  },
  {
    name: 'burnDurationSlope',
    meaning: 'change of that with speed, per 12 m/s',
    mean: 0,
    spread: 0.15,
    low: -0.6,
    high: 0.6,
    source: 'our default',
  },
  {
    name: 'heatLoss',
    meaning: 'heat transfer coefficient',
    mean: 1.2,
    spread: 0.25,
    low: 0.2,
    high: 4,
    source: 'common practice, no source: the law was made on a compression-ignition engine and reads low on others',
  },
  {
    name: 'friction',
    meaning: 'friction mean effective pressure',
    mean: 1,
    spread: 0.25,
    low: 0.2,
    high: 3,
    source: 'our default',
  },
  {
    name: 'pumping',
    meaning: 'loss of the valves in the pumping work',
    mean: 1,
    spread: 0.4,
    low: 0,
    high: 5,
    source: 'our default',
  },
  {
    name: 'ignitionDelay',
    meaning: 'ignition delay of the end gas',
    mean: 1,
    spread: 0.3,
    low: 0.1,
    high: 10,
    source: 'our default: scatter of fuels of one octane number',
  },
  {
    name: 'exhaustHeat',
    meaning: 'heat transfer between exhaust valve and the place of the probe',
    mean: 1,
    spread: 0.3,
    low: 0,
    high: 5,
    source: 'our default',
  },
];

/** The means of {@link CYCLE_PARAMETERS}. */
export const USUAL_FIT: CycleFit = {
  filling: 1.05,
  fillingSlope: 0,
  fillingBend: -0.05,
  intakeLag: 1,
  burnDelay: 1,
  burnDuration: 1,
  burnDurationSlope: 0,
  heatLoss: 1.2,
  friction: 1,
  pumping: 1,
  ignitionDelay: 1,
  exhaustHeat: 1,
};

/** The engine with other values of some parameters. */
export function withParameters(engine: CycleEngine, values: Partial<CycleFit>): CycleEngine {
  return { ...engine, fit: { ...engine.fit, ...values } };
}
