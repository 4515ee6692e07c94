/**
 * What faults may change at a moment; every number is neutral as made. The physics reads it, nothing else does.
 * Shares and factors [1], pressures [Pa], torque [N·m], force [N], voltage [V], angles [°], temperatures [K].
 */
export interface Knobs {
  /** Factor of the spark voltage needed (worn electrodes, wide gap). */
  need: number;
  /** Factor of the spark voltage there is. */
  supply: number;
  volts: number;
  coilResistance: number;
  lost: boolean;
  /** What the speed reads then: 0, 1 (the last one) or 2 times the true one. */
  lostShows: number;
  /** Share of the firings that the control unit leaves out. */
  cut: number;
  /** Size of the injectors, known to the control unit. */
  injector: number;
  /** Fuel delivered over fuel commanded. */
  fuel: number;
  /** Share of the pressure difference at the injectors that is missing, and its quick scatter. */
  railLost: number;
  railRough: number;
  lambdaTarget: number;
  /** Knock limit moved earlier [°]: negative is worse. */
  knockLimit: number;
  /** Chance of a pre-ignition per firing of the first cylinder. */
  preIgnition: number;
  /** The map of the timing itself moved [°]. */
  timing: number;
  slip: number;
  clutchSlip: number;
  converterSlip: number;
  axleTorque: number;
  drag: number;
  /** Air lost between compressor and throttle, over the engine's air at full boost. */
  leak: number;
  gateExtra: number;
  gateLimit: number;
  /** Lag of the gate [s]. */
  gateLag: number;
  turbineEfficiency: number;
  /** Narrowest area of the compressor over that of the wheel's disc; Infinity: in nobody's way. */
  throat: number;
  /** Least and most that the gate opens. */
  gateLeast: number;
  gateMost: number;
  inletDrop: number;
  exhaustDrop: number;
  soak: number;
  effectiveness: number;
  /** Amplitude of a pressure swing over the pressure, and its frequency [Hz]. */
  surge: number;
  surgeHertz: number;
  camError: number;
  camSlew: number;
  /** Mean share of the work lost by valves that do not follow. */
  valves: number;
  friction: number;
  /** The engine stops when the clutch opens at the end of a coast-down. */
  stalls: boolean;
  hiddenLoss: number;
  oilPressure: number;
  oilHeat: number;
  coolantPressure: number;
  coolantHeat: number;
  crankcase: number;
  gearHeat: number;
  axleHeat: number;
  /** Factor of the work: of everything that is no fault but luck. */
  luck: number;
  /** Exhaust gas hotter [K]. */
  exhaustHeat: number;
  mapTarget: number;
}

const NEUTRAL: Readonly<Knobs> = {
  need: 1,
  supply: 1,
  volts: 0,
  coilResistance: 1,
  lost: false,
  lostShows: 0,
  cut: 0,
  injector: 1,
  fuel: 1,
  railLost: 0,
  railRough: 0,
  lambdaTarget: 0,
  knockLimit: 0,
  preIgnition: 0,
  timing: 0,
  slip: 0,
  clutchSlip: 0,
  converterSlip: 0,
  axleTorque: 0,
  drag: 0,
  leak: 0,
  gateExtra: 0,
  gateLimit: 1,
  gateLag: 0.08,
  turbineEfficiency: 1,
  throat: Number.POSITIVE_INFINITY,
  gateLeast: 0,
  gateMost: 1,
  inletDrop: 0,
  exhaustDrop: 0,
  soak: 0,
  effectiveness: 1,
  surge: 0,
  surgeHertz: 0,
  camError: 0,
  camSlew: 1,
  valves: 0,
  friction: 1,
  stalls: false,
  hiddenLoss: 0,
  oilPressure: 1,
  oilHeat: 0,
  coolantPressure: 0,
  coolantHeat: 0,
  crankcase: 0,
  gearHeat: 0,
  axleHeat: 0,
  luck: 1,
  exhaustHeat: 0,
  mapTarget: 0,
};

/** Knobs that change nothing. */
export function neutralKnobs(): Knobs {
  return { ...NEUTRAL };
}
