import type { Signal } from './signals.ts';
import type { UnitKind } from './units.ts';

export type Level = 'poor' | 'basic' | 'medium' | 'rich';

/**
 * A sensor on the engine's side. signal: what it looks at; from: least level of logging that has it; hertz: fastest; lag: s; noise: normal, relative to
 * the size in `scale` (SI or share); pulse: pulsation with the firings, same scale; step: of its own resolution; offset: that it reads off.
 */
export interface Channel {
  readonly signal: Signal;
  readonly kind: UnitKind;
  readonly from: Level;
  readonly hertz: number;
  readonly lag: number;
  readonly noise: number;
  readonly pulse: number;
  readonly step: number;
  readonly offset: number;
  readonly low: number;
  readonly high: number;
  readonly boostedOnly: boolean;
  readonly sparkOnly: boolean;
}

const sensor = ([signal, kind, from]: readonly [Signal, UnitKind, Level], rest: Partial<Channel> = {}): Channel => ({
  signal,
  kind,
  from,
  hertz: 100,
  lag: 0,
  noise: 0,
  pulse: 0,
  step: 0,
  offset: 0,
  low: Number.NEGATIVE_INFINITY,
  high: Number.POSITIVE_INFINITY,
  boostedOnly: false,
  sparkOnly: false,
  ...rest,
});
const boost = { boostedOnly: true } as const;
const spark = { sparkOnly: true } as const;

/**
 * Engine-side channels by their meaning. SI, angles in degrees, shares [1].
 *
 * @source rates, noise, lags and pulsations: common practice, no source
 */
export const CHANNELS = {
  'engine-speed': sensor(['shownSpeed', 'rotation', 'poor'], { hertz: 500, noise: 0.4 }),
  'manifold-pressure': sensor(['map', 'pressure', 'poor'], { hertz: 500, lag: 0.008, noise: 350, pulse: 0.02 }),
  throttle: sensor(['throttle', 'share', 'poor'], { noise: 0.001, low: 0, high: 1 }),
  lambda: sensor(['lambda', 'lambda', 'basic'], { hertz: 50, lag: 0.06, noise: 0.003, low: 0.65, high: 1.6 }),
  'ignition-timing': sensor(['timing', 'degrees', 'basic'], { step: 0.1, ...spark }),
  'charge-temperature': sensor(['charge', 'temperature', 'basic'], { hertz: 10, lag: 1.8, noise: 0.12, step: 0.2 }),
  'coolant-temperature': sensor(['coolant', 'temperature', 'basic'], { hertz: 5, lag: 4, noise: 0.08, step: 0.5 }),
  'battery-voltage': sensor(['volts', 'voltage', 'basic'], { hertz: 20, noise: 0.03 }),
  'manifold-target': sensor(['target', 'pressure', 'medium'], { hertz: 20, ...boost }),
  'wastegate-duty': sensor(['duty', 'share', 'medium'], { hertz: 50, noise: 0.002, low: 0, high: 1, ...boost }),
  'lambda-target': sensor(['lambdaTarget', 'lambda', 'medium'], { hertz: 20, ...spark }),
  'injector-duty': sensor(['injectorDuty', 'share', 'medium'], { hertz: 50, noise: 0.002, low: 0 }),
  'fuel-pressure-difference': sensor(['rail', 'difference', 'medium'], {
    hertz: 50,
    lag: 0.03,
    noise: 2e3,
    pulse: 0.02,
    ...spark,
  }),
  'oil-temperature': sensor(['oil', 'temperature', 'medium'], { hertz: 5, lag: 4, noise: 0.08, step: 0.5 }),
  'oil-pressure': sensor(['oilPressure', 'gauge', 'medium'], { hertz: 20, lag: 0.05, noise: 2e3, pulse: 0.01 }),
  'knock-retard': sensor(['knockRetard', 'degrees', 'medium'], { hertz: 50, step: 0.1, ...spark }),
  'sync-errors': sensor(['sync', 'count', 'medium'], { hertz: 50 }),
  'wheel-speed': sensor(['wheelSpeed', 'velocity', 'medium'], { hertz: 50, noise: 0.02 }),
  'boost-pressure': sensor(['boost', 'pressure', 'rich'], {
    hertz: 100,
    lag: 0.006,
    noise: 350,
    pulse: 0.008,
    ...boost,
  }),
  'compressor-inlet-pressure': sensor(['inlet', 'pressure', 'rich'], { hertz: 20, noise: 100, ...boost }),
  'exhaust-pressure': sensor(['exhaustPressure', 'pressure', 'rich'], {
    hertz: 50,
    lag: 0.02,
    noise: 900,
    pulse: 0.04,
  }),
  'compressor-outlet-temperature': sensor(['outlet', 'temperature', 'rich'], {
    hertz: 10,
    lag: 2.5,
    noise: 0.2,
    ...boost,
  }),
  'turbo-speed': sensor(['turbo', 'rotation', 'rich'], { hertz: 50, noise: 15, ...boost }),
  'air-flow': sensor(['airFlow', 'flow', 'rich'], { hertz: 50, lag: 0.03, noise: 2e-4, pulse: 0.01 }),
  'injector-pulse': sensor(['pulse', 'pulse', 'rich'], { step: 1e-5 }),
  'fuel-flow': sensor(['fuelFlow', 'flow', 'rich'], { hertz: 20, lag: 0.15, noise: 2e-5 }),
  dwell: sensor(['dwell', 'pulse', 'rich'], { hertz: 50, step: 1e-5, ...spark }),
  'coil-current': sensor(['coilCurrent', 'current', 'rich'], { hertz: 50, noise: 0.05, ...spark }),
  'knock-level': sensor(['knockLevel', 'voltage', 'rich'], { hertz: 100, ...spark }),
  'knock-count': sensor(['knockCount', 'count', 'rich'], { hertz: 50, ...spark }),
  'cam-target': sensor(['camTarget', 'degrees', 'rich'], { hertz: 50 }),
  'cam-angle': sensor(['cam', 'degrees', 'rich'], { hertz: 50, noise: 0.35, step: 0.1 }),
  'gearbox-temperature': sensor(['gearbox', 'temperature', 'rich'], { hertz: 5, lag: 3, noise: 0.08, step: 0.5 }),
  'axle-temperature': sensor(['axle', 'temperature', 'rich'], { hertz: 5, lag: 3, noise: 0.08, step: 0.5 }),
  'exhaust-temperature': sensor(['exhaust', 'temperature', 'rich'], {
    hertz: 20,
    lag: 1.2,
    noise: 1.5,
    step: 1,
    offset: -30,
  }),
  'coolant-pressure': sensor(['coolantPressure', 'gauge', 'rich'], { hertz: 20, lag: 0.05, noise: 500 }),
  'crankcase-pressure': sensor(['crankcase', 'gauge', 'rich'], { hertz: 50, lag: 0.03, noise: 80, pulse: 0.2 }),
  'cut-status': sensor(['cut', 'count', 'rich'], { hertz: 100 }),
} as const satisfies Record<string, Channel>;

export type ChannelName = keyof typeof CHANNELS;
export const LEVELS: readonly Level[] = ['poor', 'basic', 'medium', 'rich'];

/** Names of all engine-side channels. */
export function channelNames(): ChannelName[] {
  return Object.keys(CHANNELS).filter((name): name is ChannelName => name in CHANNELS);
}
