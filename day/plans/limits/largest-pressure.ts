import type { Step } from '../model/engine-model.ts';
import type { Foresight } from './foresight.ts';
import type { Limit, LimitName } from './limit.ts';
import { usualSpeeds } from './speeds.ts';
import { firstCrossing, limitOverSweep, type Sweep, sweepOf } from './sweep.ts';

export interface PressureQuestion {
  readonly name: LimitName;
  /** Share of the bare limit to keep in hand [1]; default: what the limit keeps itself. */
  readonly margin?: number;
  /** [rad/s]; default from low speed to the redline. */
  readonly speeds?: Float64Array;
}

/**
 * Arrays as long as `speed`. manifoldPressure: with even odds the limit less its margin is just reached [Pa]; NaN where it is not reached
 * up to `within` [Pa], the highest pressure that was still inside, or where nothing can be said (`within` NaN too).
 */
export interface LargestPressure {
  readonly name: LimitName;
  readonly margin: number;
  readonly speed: Float64Array;
  readonly manifoldPressure: Float64Array;
  readonly standardUncertainty: Float64Array;
  readonly within: Float64Array;
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
  const speeds = question.speeds ?? usualSpeeds(foresight.model);
  const sweep = sweepOf(foresight, step, speeds);
  const limits = limitOverSweep(foresight, { sweep, step }, question.name);
  const margin = question.margin ?? limits[0].kept ?? 0;
  const column = () => new Float64Array(speeds.length).fill(Number.NaN);
  const found = { manifoldPressure: column(), standardUncertainty: column(), within: column() };
  for (let i = 0; i < speeds.length; i++) {
    const here = largestAt(sweep, { limits, margin }, i);
    found.manifoldPressure[i] = here.pressure;
    found.standardUncertainty[i] = here.spread;
    found.within[i] = here.within;
  }
  const { why, missing, assumed } = limits[limits.length - 1].why === undefined ? limits[limits.length - 1] : limits[0];
  return {
    name: question.name,
    margin,
    speed: speeds,
    ...found,
    ...(why === undefined ? {} : { why }),
    missing,
    assumed,
  };
}

function largestAt(
  { pressures }: Sweep,
  { limits, margin }: { readonly limits: readonly Limit[]; readonly margin: number },
  i: number,
): { readonly pressure: number; readonly spread: number; readonly within: number } {
  const bare = (limit: Limit): number => (limit.available[i] / (1 - (limit.kept ?? 0))) * (1 - margin);
  const use = limits.map((limit) => limit.required[i] / bare(limit) - 1);
  let within = Number.NaN;
  use.forEach((value, k) => {
    if (value < 0) within = pressures[k];
  });
  const crossing = firstCrossing(pressures, use);
  if (!crossing) return { pressure: Number.NaN, spread: Number.NaN, within };
  const spread = (limit: Limit): number =>
    Math.hypot(limit.requiredUncertainty[i] / bare(limit), limit.availableUncertainty[i] / limit.available[i]);
  const { index, share, slope, pressure } = crossing;
  const there = (1 - share) * spread(limits[index]) + share * spread(limits[index + 1]);
  return { pressure, spread: there / slope, within: pressure };
}
