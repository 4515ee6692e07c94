/** What is recorded at every step of a run, before any sensor. SI; angles in degrees of the crank, shares [1]. */
export const SIGNALS = [
  'engineSpeed',
  'engineTorque',
  'cleanTorque',
  'shownSpeed',
  'map',
  'target',
  'boost',
  'inlet',
  'exhaustPressure',
  'charge',
  'outlet',
  'turbo',
  'duty',
  'airFlow',
  'throttle',
  'lambda',
  'lambdaTarget',
  'lambdaDelay',
  'pulse',
  'injectorDuty',
  'rail',
  'fuelFlow',
  'timing',
  'dwell',
  'coilCurrent',
  'volts',
  'knockLevel',
  'knockRetard',
  'knockCount',
  'camTarget',
  'cam',
  'coolant',
  'oil',
  'gearbox',
  'axle',
  'exhaust',
  'coolantPressure',
  'oilPressure',
  'crankcase',
  'sync',
  'cut',
  'need',
  'supply',
  'missed',
  'phase',
  'wheelSpeed',
] as const;

export type Signal = (typeof SIGNALS)[number];
export type Signals = Record<Signal, number[]>;
export type SignalRow = Record<Signal, number>;

/** Empty columns for a run. */
export function emptySignals(): Signals {
  const entries = SIGNALS.map((name): [Signal, number[]] => [name, []]);
  const signals: Record<string, number[]> = Object.fromEntries(entries);
  if (!holdsAll(signals)) throw new Error('a signal has no column');
  return signals;
}

function holdsAll(signals: Record<string, number[]>): signals is Signals {
  return SIGNALS.every((name) => name in signals);
}
