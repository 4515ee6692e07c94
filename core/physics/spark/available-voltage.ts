import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import { duration, type Measured, measured, ratio, voltage } from '../../quantities/index.ts';
import { type Coil, coilEnergy, primaryCurrent, type Secondary, secondaryVoltage } from './coil.ts';

/** A coil as far as it is known; SI. */
export interface MeasuredCoil {
  /** At the coil circuit while it charges [V]. */
  readonly volts: Measured;
  /** [s] */
  readonly dwell: Measured;
  /** Whole primary circuit [Ω]. */
  readonly resistance: Measured;
  /** [H] */
  readonly inductance: Measured;
  /** Of winding, lead and plug [F]. */
  readonly capacitance: Measured;
  /** Share of core energy that reaches it [1]. */
  readonly transfer: Measured;
  readonly saturation?: Pick<Coil, 'saturationCurrent' | 'saturatedInductance'>;
  readonly limits?: Pick<Secondary, 'turns' | 'clamp'>;
}

/** current at the end of dwell [A], energy stored [J], voltage [V]: best estimates; voltage with its uncertainty and whence it comes. */
export interface AvailableVoltage {
  readonly current: number;
  readonly energy: number;
  readonly voltage: Measured;
  readonly contributions: readonly Contribution[];
}

/**
 * Voltage that a coil has for a spark, with its standard uncertainty, inputs independent.
 *
 * @valid   as {@link primaryCurrent} and {@link secondaryVoltage}
 * @source  JCGM 100:2008, equation 10
 */
export function availableVoltage(input: MeasuredCoil): AvailableVoltage {
  const { volts, dwell, resistance, inductance, capacitance, transfer } = input;
  const stored = ([U, t, R, L]: readonly number[]) => {
    const coil = { resistance: R, inductance: L, ...input.saturation };
    const current = primaryCurrent(coil, voltage(U), duration(t));
    return { current, energy: coilEnergy(coil, current) };
  };
  const found = combinedUncertainty({
    inputs: [
      { name: 'supply voltage', ...volts },
      { name: 'dwell', ...dwell },
      { name: 'resistance', ...resistance },
      { name: 'inductance', ...inductance },
      { name: 'capacitance', ...capacitance },
      { name: 'transfer', ...transfer },
    ],
    model: (values) =>
      secondaryVoltage({ capacitance: values[4], transfer: ratio(values[5]), ...input.limits }, stored(values).energy),
  });
  return {
    ...stored([volts.value, dwell.value, resistance.value, inductance.value]),
    voltage: measured(found.value, found.standardUncertainty),
    contributions: found.contributions,
  };
}
