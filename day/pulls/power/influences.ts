import type { Measured } from '../../../core/quantities/index.ts';
import type { BudgetLine } from '../curve.ts';
import { type ChainInputs, type PullSignals, powerChain } from './chain.ts';

/** One uncertain input: its name, one standard deviation, and how a shift by that much changes the inputs of the chain. */
export interface Influence {
  readonly name: string;
  readonly sharing: BudgetLine['sharing'];
  readonly origin: string;
  readonly shifted: (inputs: ChainInputs) => ChainInputs;
}

/** Effect of one standard deviation of one influence, along the pull [W]. */
export interface Effect {
  readonly influence: Pick<Influence, 'name' | 'sharing' | 'origin'>;
  readonly roll: Float64Array;
  readonly tyre: Float64Array;
  readonly engine: Float64Array;
}

/** Stated values with their uncertainties, and where each comes from. Absent: unknown or not needed. */
export interface UncertainInputs {
  readonly forceCalibration: Stated;
  readonly forceZero: Stated & { readonly own: boolean };
  readonly speedCalibration: Stated;
  readonly rollMass: Stated;
  readonly wheelMass: Stated;
  readonly engineInertia: Stated;
  readonly loadLoss: Stated;
  readonly torqueLoss: Stated;
  readonly slip: Stated;
  readonly coastMass: number;
  /** Standard uncertainty of the no-load loss that does not come from the masses [N], by speed. */
  readonly lossSpread: { readonly spread: (speed: number) => number; readonly origin: string } | undefined;
}

export interface Stated {
  readonly value: Measured;
  readonly origin: string;
}

/**
 * The influences of the chain. A mass acts twice: on the power that accelerates the rolls, and on the loss that was found from a
 * coast-down with the same mass; both in the same shift, so that their correlation is kept (GUM 5.2).
 */
export function influences(known: UncertainInputs): readonly Influence[] {
  const { forceCalibration, forceZero, speedCalibration, rollMass, wheelMass, engineInertia, torqueLoss, slip } = known;
  const list: Influence[] = [
    of('force calibration', forceCalibration, (inputs, u) => ({ ...inputs, forceGain: inputs.forceGain + u })),
    {
      ...of('force zero', forceZero, (inputs, u) => ({ ...inputs, forceShift: inputs.forceShift + u })),
      sharing: forceZero.own ? 'random' : 'shared',
    },
    of('speed calibration', speedCalibration, (inputs, u) =>
      lossesScaled({ ...inputs, speedGain: inputs.speedGain + u }, 1 + u),
    ),
    of('equivalent mass of the rolls', rollMass, (inputs, u) =>
      lossesScaled({ ...inputs, rollMass: inputs.rollMass + u }, coastScale(known, u)),
    ),
    of('inertia of the wheels', wheelMass, (inputs, u) =>
      lossesScaled({ ...inputs, wheelMass: inputs.wheelMass + u }, coastScale(known, u)),
    ),
    of('inertia of the engine', engineInertia, (inputs, u) => ({ ...inputs, engineInertia: inputs.engineInertia + u })),
    of('tyre loss under load', known.loadLoss, (inputs, u) => ({ ...inputs, loadLoss: inputs.loadLoss + u })),
    of('loss in the meshes', torqueLoss, (inputs, u) => ({ ...inputs, torqueLoss: inputs.torqueLoss + u })),
    of('slip reference', slip, (inputs, u) => ({ ...inputs, slipShift: inputs.slipShift + u })),
  ];
  const { lossSpread } = known;
  if (lossSpread) {
    const shifted = (inputs: ChainInputs): ChainInputs =>
      withLoss(inputs, (force, speed) => force + lossSpread.spread(speed));
    list.push({ name: 'rolling loss', sharing: 'shared', origin: lossSpread.origin, shifted });
  }
  return list;
}

/** Effect of each influence by recomputing the whole chain with it shifted by one standard deviation (GUM 5.1.3, note 2). */
export function effects(signals: PullSignals, inputs: ChainInputs, known: UncertainInputs): readonly Effect[] {
  const nominal = powerChain(signals, inputs);
  return influences(known).map(({ shifted, name, sharing, origin }) => {
    const moved = powerChain(signals, shifted(inputs));
    return {
      influence: { name, sharing, origin },
      roll: differences(moved.roll, nominal.roll),
      tyre: differences(moved.tyre, nominal.tyre),
      engine: differences(moved.engine, nominal.engine),
    };
  });
}

function of(name: string, stated: Stated, shift: (inputs: ChainInputs, u: number) => ChainInputs): Influence {
  const { standardUncertainty } = stated.value;
  return { name, sharing: 'shared', origin: stated.origin, shifted: (inputs) => shift(inputs, standardUncertainty) };
}

/** How much larger a loss found by coasting becomes when the coasting mass is larger by `extra` [1]. */
function coastScale(known: UncertainInputs, extra: number): number {
  return known.coastMass > 0 ? 1 + extra / known.coastMass : 1;
}

function lossesScaled(inputs: ChainInputs, scale: number): ChainInputs {
  return withLoss(inputs, (force) => force * scale);
}

function withLoss(inputs: ChainInputs, change: (force: number, speed: number) => number): ChainInputs {
  const { rollingLoss } = inputs;
  return rollingLoss ? { ...inputs, rollingLoss: (speed) => change(rollingLoss(speed), speed) } : inputs;
}

function differences(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((value, i) => value - b[i]);
}
