/** Steps in each part of the closed cycle: compression, burning, expansion. */
export interface StepCounts {
  readonly compression: number;
  readonly burning: number;
  readonly expansion: number;
}

/** Enough for an energy balance better than 1e-6 and a torque within 1e-5 of eight times as many; burning a multiple of 4. @source our default, measured in docs/physics/cycle.md */
export const USUAL_STEPS: StepCounts = { compression: 28, burning: 40, expansion: 24 };

/** Enough for the temperature of residual gas, which is all that the passes before the last one are for. @source our default */
export const COARSE_STEPS: StepCounts = { compression: 8, burning: 12, expansion: 8 };

/** Places in {@link Workspace.frame}: what stays the same during one closed cycle. All SI. */
export const F = {
  freshConstant: 0,
  wall: 1,
  /** Woschni's law without p and V, with the w of compression, by ω; T̄ stands in it as p·V/(m·R). */
  motionHeat: 2,
  /** Factor of p − pm in w over the w of compression. */
  burning: 3,
  /** Motored pressure over `motored`. */
  startPressure: 4,
  /** Effective area of the leak by √(R·T) and ω. */
  leak: 5,
  crankcase: 6,
  reference: 7,
} as const;

/** Places in state, slope and step arrays: p, T of unburned gas, x·(h burned − h unburned), mass; then the running totals. */
export const S = { pressure: 0, unburned: 1, lag: 2, mass: 3, work: 4, heat: 5, leaked: 6, size: 7 } as const;

/** Places in {@link Workspace.gas}: R·T, its slopes with enthalpy and with ln p, temperature. */
export const G = { energy: 0, byEnthalpy: 1, byLogPressure: 2, temperature: 3 } as const;

/**
 * Arrays of one closed cycle, made once and overwritten by every cycle.
 *
 * Points stand at both ends and in the middle of each step. Parts do not share points: part k begins at `firstPoint[k]`.
 * Nodes are the ends of steps: as many as steps + 1.
 */
export interface Workspace {
  readonly steps: StepCounts;
  readonly frame: Float64Array;
  readonly state: Float64Array;
  readonly stage: Float64Array;
  readonly slope: Float64Array;
  readonly sum: Float64Array;
  readonly points: Points;
  readonly trace: Trace;
  /** Polynomial of the unburned gas and cells of the burned gas. */
  readonly unburned: Float64Array;
  /** Polynomial of the gas that leaves, see engine/pass.ts. */
  readonly leaving: Float64Array;
  /** The same polynomial as the slopes ask for it, see {@link CALORIC}. */
  readonly caloric: Float64Array;
  burned: Float64Array;
  /** What was last read from these cells, see {@link G}. */
  readonly gas: Float64Array;
  readonly lookup: Float64Array;
  readonly burnShape: BurnShape;
}

/**
 * Coefficients of heat capacity [J/(kg·K)], then of enthalpy [J/kg], in rising powers of temperature, whole numbers and gas constant multiplied out; those
 * for high temperatures stand `size` places behind those for low ones.
 */
export const CALORIC = { heatCapacity: 0, enthalpy: 5, size: 11 } as const;

/** Burning from its start on in steps of `step` durations [1]: share burned, t²·share left, share^⅔. Kept while the step stays. */
export interface BurnShape {
  step: number;
  readonly share: Float64Array;
  readonly rate: Float64Array;
  readonly walls: Float64Array;
}

/**
 * Volume [m³], its relative change [1/rad], wall area × volume^−0.55 as heat loss asks for it, motored pressure over that at the clearance volume, burned share,
 * its rate [1/rad], share of the walls that burned gas has.
 */
export interface Points {
  readonly volume: Float64Array;
  readonly relativeChange: Float64Array;
  readonly heatArea: Float64Array;
  readonly motored: Float64Array;
  readonly share: Float64Array;
  readonly rate: Float64Array;
  readonly hotWalls: Float64Array;
}

/** At each node: crank angle [rad], pressure [Pa], its slope [Pa/rad], temperatures [K], burned share, 1/τ [1/s]. */
export interface Trace {
  readonly angle: Float64Array;
  readonly pressure: Float64Array;
  readonly pressureSlope: Float64Array;
  readonly unburned: Float64Array;
  readonly burned: Float64Array;
  readonly share: Float64Array;
  readonly delayRate: Float64Array;
}

export function workspace(steps: StepCounts): Workspace {
  const whole = steps.compression + steps.burning + steps.expansion;
  const points = 2 * whole + 3;
  const make = (length: number): Float64Array => new Float64Array(length);
  return {
    steps,
    frame: make(8),
    state: make(S.size),
    stage: make(S.size),
    slope: make(S.size),
    sum: make(S.size),
    points: {
      volume: make(points),
      relativeChange: make(points),
      heatArea: make(points),
      motored: make(points),
      share: make(points),
      rate: make(points),
      hotWalls: make(points),
    },
    trace: {
      angle: make(whole + 1),
      pressure: make(whole + 1),
      pressureSlope: make(whole + 1),
      unburned: make(whole + 1),
      burned: make(whole + 1),
      share: make(whole + 1),
      delayRate: make(whole + 1),
    },
    unburned: make(14),
    leaving: make(14),
    caloric: make(2 * CALORIC.size),
    burned: make(0),
    gas: make(4),
    lookup: make(2),
    burnShape: {
      step: Number.NaN,
      share: make(2 * steps.burning + 1),
      rate: make(2 * steps.burning + 1),
      walls: make(2 * steps.burning + 1),
    },
  };
}
