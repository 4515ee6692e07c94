import { type Finding, type Measured, measured } from '../../../core/quantities/index.ts';
import type { RollerFacts } from '../facts.ts';
import type { RollSide } from './roll-side.ts';

/** Brake setting below which the brake absorbs nothing [1], and how long it must have been so [s]. @source our default */
export const BRAKE_OFF = 0.01;
export const BRAKE_SETTLING = 0.7;

/** Standard uncertainty of a force zero that nobody measured, of the largest force seen [1]. @source common practice, no source: 0.1–0.5 % of full scale */
export const DEFAULT_ZERO_SHARE = 0.002;

/** Zero of the force channel [N]: subtract it. */
export interface ForceZero {
  readonly zero: Measured;
  readonly origin: string;
  /** True when it was measured in this very record: then its uncertainty is not shared with other pulls. */
  readonly own: boolean;
  readonly findings: readonly Finding[];
}

/**
 * Where the brake is off, its load cell carries nothing: the mean there is the zero. Only for a force that leaves out the rolls' own
 * inertia. Otherwise zero is taken as read, with the stated or default uncertainty.
 *
 * @source eddy-current brake in trunnions with no exciting current; settling: our default
 */
export function forceZero(side: RollSide, roller: RollerFacts): ForceZero {
  const spread = roller.forceZero ?? DEFAULT_ZERO_SHARE * largest(side.force);
  const readings = side.forceKind === 'brake' && side.setting ? brakeOffForces(side, side.setting) : [];
  if (readings.length < 20) {
    const origin =
      roller.forceZero === undefined
        ? 'zero taken as read; 0.2 % of the largest force, our default'
        : 'zero taken as read; stated';
    return { zero: measured(0, spread), origin, own: false, findings: [] };
  }
  const mean = readings.reduce((sum, force) => sum + force, 0) / readings.length;
  const scatter = Math.sqrt(readings.reduce((sum, force) => sum + (force - mean) ** 2, 0) / (readings.length - 1));
  // Frame resonance and ripple make neighbours alike: one independent reading per five samples, our default.
  const zero = measured(mean, scatter / Math.sqrt(readings.length / 5));
  return {
    zero,
    origin: `mean of ${readings.length} samples with the brake off`,
    own: true,
    findings: [zeroFinding(zero)],
  };
}

function brakeOffForces(side: RollSide, setting: Float64Array): number[] {
  const forces: number[] = [];
  let offSince = Number.NaN;
  for (let i = 0; i < setting.length; i++) {
    if (!(setting[i] <= BRAKE_OFF)) {
      offSince = Number.NaN;
      continue;
    }
    if (Number.isNaN(offSince)) offSince = side.times[i];
    const force = side.force?.[i] ?? Number.NaN;
    if (side.times[i] - offSince >= BRAKE_SETTLING && Number.isFinite(force)) forces.push(force);
  }
  return forces;
}

function zeroFinding(zero: Measured): Finding {
  return {
    kind: 'force-zero',
    weight: 'note',
    message: `force zero ${zero.value.toFixed(1)} ± ${zero.standardUncertainty.toFixed(1)} N taken off: read with the brake off`,
    numbers: { zero: zero.value, standardUncertainty: zero.standardUncertainty },
    rule: 'an unexcited brake carries nothing',
  };
}

function largest(force: Float64Array | undefined): number {
  let most = 0;
  for (const sample of force ?? []) if (Number.isFinite(sample)) most = Math.max(most, Math.abs(sample));
  return most;
}
