import { median } from '../../../core/numerics/index.ts';
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
    const suspect = side.forceKind === 'brake' && !side.setting ? forceWhileSlowing(side) : undefined;
    if (suspect !== undefined && Math.abs(suspect) > 2 * spread) return suspectZero(suspect, spread);
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

/** Rolls that lose speed faster than this slow down by themselves or with the car [m/s²]; a brake at work shows more than this share of its top force. @source our default */
const SLOWING = 0.5;
const AT_WORK = 0.1;

/** Middle force while the rolls clearly slow down and the brake is not at work [N]; undefined where that lasts less than 50 samples. */
function forceWhileSlowing({ times, speed, force, pieces }: RollSide): number | undefined {
  const top = largest(force);
  const found: number[] = [];
  for (const { from, to } of pieces) {
    const reach = Math.max(2, Math.round((to - from) / 100));
    for (let i = from + reach; i < to - reach; i++) {
      const rate = (speed[i + reach] - speed[i - reach]) / (times[i + reach] - times[i - reach]);
      const here = force?.[i] ?? Number.NaN;
      if (rate < -SLOWING && Math.abs(here) < AT_WORK * top) found.push(here);
    }
  }
  return found.length < 50 ? undefined : median(found, 'skip');
}

/** Somewhere between zero and what was read: evenly spread (GUM 4.3.7). */
function suspectZero(force: number, spread: number): ForceZero {
  const origin = `zero taken as read; ${force.toFixed(0)} N while the rolls slow down speak against it`;
  return {
    zero: measured(0, Math.hypot(spread, force / Math.sqrt(3))),
    origin,
    own: false,
    findings: [
      {
        kind: 'force-zero-suspect',
        weight: 'doubt',
        message: `force reads about ${force.toFixed(0)} N while the rolls slow down by themselves, where a brake reads nothing: its zero is wrong, or the brake was on; powers are less certain by that much`,
        numbers: { force, standardUncertainty: spread },
        rule: 'a brake at rest reads nothing',
      },
    ],
  };
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
