/** Signals of the engine side before any sensor: one value per simulation step. kPa, °C, krpm, °CA, fractions, V. */
export const SIGNALS = [
  'rpm',
  'rpmShown',
  'throttle',
  'pedal',
  'map',
  'target',
  'boost',
  'inlet',
  'charge',
  'turbo',
  'p3',
  'egt',
  'lambdaA',
  'lambdaB',
  'lambdaTarget',
  'lambdaDelay',
  'timing',
  'duty',
  'fuelPressure',
  'wastegate',
  'volts',
  'camA',
  'camB',
  'camTarget',
  'sync',
  'cut',
  'load',
  'coolantPressure',
  'knock3',
  'knock5',
  'retard3',
  'retard5',
  'peakPressure',
  'sparkNeed',
  'sparkAvailable',
  'cleanTorque',
] as const;

export type Signal = (typeof SIGNALS)[number];

/** Values of one step. */
export type SignalRow = Record<Signal, number>;

/** All signals of one run, as long as the run. */
export type Trace = Readonly<Record<Signal, readonly number[]>>;

/** An empty trace that rows can be put into. */
export function newTrace(): Record<Signal, number[]> {
  return {
    rpm: [],
    rpmShown: [],
    throttle: [],
    pedal: [],
    map: [],
    target: [],
    boost: [],
    inlet: [],
    charge: [],
    turbo: [],
    p3: [],
    egt: [],
    lambdaA: [],
    lambdaB: [],
    lambdaTarget: [],
    lambdaDelay: [],
    timing: [],
    duty: [],
    fuelPressure: [],
    wastegate: [],
    volts: [],
    camA: [],
    camB: [],
    camTarget: [],
    sync: [],
    cut: [],
    load: [],
    coolantPressure: [],
    knock3: [],
    knock5: [],
    retard3: [],
    retard5: [],
    peakPressure: [],
    sparkNeed: [],
    sparkAvailable: [],
    cleanTorque: [],
  };
}

/** Appends one step. */
export function record(trace: Record<Signal, number[]>, row: SignalRow): void {
  for (const name of SIGNALS) trace[name].push(row[name]);
}
