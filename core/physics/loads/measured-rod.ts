import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import {
  type AbsolutePressure,
  absolutePressure,
  angularSpeed,
  type Measured,
  mass,
  measured,
} from '../../quantities/index.ts';
import type { SliderCrank } from '../cycle/mechanism/slider-crank.ts';
import { rodForceAtTop } from './rod-forces.ts';

export interface MeasuredRodState {
  readonly crank: SliderCrank;
  /** Piston, rings, pin and small end [kg]. */
  readonly reciprocating: Measured;
  /** [rad/s] */
  readonly rotation: Measured;
  /** Highest cylinder pressure, absolute [Pa]. */
  readonly peakPressure: Measured;
  /** Cylinder pressure at overlap top dead centre, absolute [Pa]. */
  readonly overlapPressure: AbsolutePressure;
  readonly crankcasePressure: AbsolutePressure;
}

/** tension: at overlap, as a positive number. compression: at firing. Both [N]. */
export interface MeasuredRodLoads {
  readonly tension: Measured;
  readonly compression: Measured;
  readonly contributions: { readonly tension: readonly Contribution[]; readonly compression: readonly Contribution[] };
}

/**
 * Largest tension and compression of a rod, with their standard uncertainties.
 *
 * The peak pressure is taken at top dead centre, where inertia relieves the rod most: up to 3 % too little compression when it
 * lies 15° after. Low speed at high pressure is the worst compression, high speed without pressure the worst tension.
 *
 * @source  {@link rodForceAtTop}; JCGM 100:2008, equation 10
 */
export function measuredRodLoads(state: MeasuredRodState): MeasuredRodLoads {
  const moving = [
    { name: 'reciprocating mass', ...state.reciprocating },
    { name: 'engine speed', ...state.rotation },
  ];
  const at = (m: number, pressure: number, rotation: number): number => {
    const train = {
      crank: state.crank,
      reciprocating: mass(m),
      rotating: mass(0),
      crankcasePressure: state.crankcasePressure,
    };
    return rodForceAtTop(train, absolutePressure(pressure), angularSpeed(rotation));
  };
  const tension = combinedUncertainty({ inputs: moving, model: ([m, w]) => -at(m, state.overlapPressure, w) });
  const compression = combinedUncertainty({
    inputs: [...moving, { name: 'peak pressure', ...state.peakPressure }],
    model: ([m, w, p]) => at(m, p, w),
  });
  return {
    tension: measured(tension.value, tension.standardUncertainty),
    compression: measured(compression.value, compression.standardUncertainty),
    contributions: { tension: tension.contributions, compression: compression.contributions },
  };
}
