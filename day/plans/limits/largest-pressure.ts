import type { Step } from '../model/engine-model.ts';
import { judgedFrom } from '../model/held.ts';
import type { Foresight } from './foresight.ts';
import type { Limit, LimitName } from './limit.ts';
import { usualSpeeds } from './speeds.ts';
import { limitOverSweep, passedFrom, type Sweep, sweepOf } from './sweep.ts';

export interface PressureQuestion {
  readonly name: LimitName;
  /** Share of the bare limit to keep in hand [1]; default: what the limit keeps itself. */
  readonly margin?: number;
  /** [rad/s]; default from low speed to the redline. */
  readonly speeds?: Float64Array;
}

/**
 * Arrays as long as `speed`. manifoldPressure: with even odds the limit less its margin is just reached [Pa]; NaN where it is not reached
 * up to `within` [Pa], the highest pressure that was still inside, or where nothing can be said (`within` NaN too). everywhere: passed at every
 * pressure that was looked at. judged: the day's pulls held such a pressure there, or no pull tells.
 */
export interface LargestPressure {
  readonly name: LimitName;
  readonly margin: number;
  readonly speed: Float64Array;
  readonly manifoldPressure: Float64Array;
  readonly standardUncertainty: Float64Array;
  readonly within: Float64Array;
  readonly everywhere: readonly boolean[];
  readonly judged: readonly boolean[];
  readonly why?: string;
  readonly missing: readonly string[];
  readonly assumed: readonly string[];
}

/**
 * Highest manifold pressure that a limit allows over engine speed, with something kept in hand.
 *
 *     required(p) = bare limit·(1 − margin)
 *
 * @source  root between pressures 5 % apart; JCGM 100:2008, equation 10
 */
export function largestPressureOf(foresight: Foresight, step: Step, question: PressureQuestion): LargestPressure {
  const { model } = foresight;
  const speeds = question.speeds ?? usualSpeeds(model);
  const sweep = sweepOf(foresight, step, speeds);
  const limits = limitOverSweep(foresight, { sweep, step }, question.name);
  const margin = question.margin ?? limits[0].kept ?? 0;
  const rows = [...speeds].map((_, i) => largestAt(sweep, { limits, margin }, i));
  const { why, missing, assumed } = limits[limits.length - 1].why === undefined ? limits[limits.length - 1] : limits[0];
  return {
    ...{ name: question.name, margin, speed: speeds, missing, assumed },
    manifoldPressure: Float64Array.from(rows, ({ pressure }) => pressure),
    standardUncertainty: Float64Array.from(rows, ({ spread }) => spread),
    within: Float64Array.from(rows, ({ within }) => within),
    everywhere: rows.map(({ everywhere }) => everywhere),
    judged: rows.map(({ pressure, within }, i) => {
      const at = Number.isFinite(pressure) ? pressure : within;
      return !(speeds[i] < judgedFrom(model, Number.isFinite(at) ? at : step.manifoldPressure));
    }),
    ...(why === undefined ? {} : { why }),
  };
}

interface LargestHere {
  readonly pressure: number;
  readonly spread: number;
  readonly within: number;
  readonly everywhere: boolean;
}

function largestAt(
  sweep: Sweep,
  { limits, margin }: { readonly limits: readonly Limit[]; readonly margin: number },
  i: number,
): LargestHere {
  const { pressures } = sweep;
  const bare = (limit: Limit): number => (limit.available[i] / (1 - (limit.kept ?? 0))) * (1 - margin);
  const use = limits.map((limit) => limit.required[i] / bare(limit) - 1);
  const passed = passedFrom(sweep, use);
  if (passed?.kind !== 'crossing') {
    let within = Number.NaN;
    use.forEach((value, k) => {
      if (value <= 0) within = pressures[k];
    });
    const everywhere = passed?.kind === 'everywhere';
    return { pressure: Number.NaN, spread: Number.NaN, within: everywhere ? Number.NaN : within, everywhere };
  }
  const spread = (limit: Limit): number =>
    Math.hypot(limit.requiredUncertainty[i] / bare(limit), limit.availableUncertainty[i] / limit.available[i]);
  const { index, share, slope, pressure } = passed.crossing;
  const there = (1 - share) * spread(limits[index]) + share * spread(limits[index + 1]);
  return { pressure, spread: there / slope, within: pressure, everywhere: false };
}
