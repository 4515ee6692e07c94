import type { Finding } from '../../../core/quantities/index.ts';
import type { LossFit } from '../result.ts';
import { lossForce } from './coast-down.ts';

/** Rolling loss that holds for one pull: force and its standard uncertainty by speed [N], and the mass it was found with [kg]. */
export interface LossModel {
  readonly force: (speed: number) => number;
  readonly spread: (speed: number) => number;
  readonly coastMass: number;
  readonly origin: string;
  readonly findings: readonly Finding[];
  /** Everything that this model is made of, as text: two models of one key are the same. */
  readonly key: string;
}

/** A coast-down of the day: when it was made [s of the day], which changes of the car lie before it (counted), and its fits. */
export interface DayCoast {
  readonly entry: string;
  readonly clock: number;
  readonly block: number;
  readonly fit: LossFit;
}

/**
 * Loss for a pull at that time of the day from coast-downs with the clutch open in the same block (no change of the car between):
 * linear in time between the nearest before and after, else the nearest one. Half of the difference of the two, and the scatter of
 * the fits, make the uncertainty. Without one in the block the neighbours across the change are used, with a finding, because most
 * changes leave tyres and axle alone. Undefined when there is none at all.
 *
 * @source linear drift between references: common practice, no source
 */
export function lossModel(coasts: readonly DayCoast[], clock: number, block: number): LossModel | undefined {
  const open = coasts.filter((coast) => coast.fit.clutch === 'open');
  const own = open.filter((coast) => coast.block === block);
  const usable = own.length > 0 ? own : open;
  const before = nearest(
    usable.filter((coast) => coast.clock <= clock),
    clock,
  );
  const after = nearest(
    usable.filter((coast) => coast.clock > clock),
    clock,
  );
  const first = before ?? after;
  if (!first) return undefined;
  const last = before && after ? after : first;
  const share = last === first ? 0 : (clock - first.clock) / (last.clock - first.clock);
  const force = (speed: number): number =>
    lossForce(first.fit, speed) * (1 - share) + lossForce(last.fit, speed) * share;
  const spread = (speed: number): number =>
    Math.hypot(
      fitSpread(first.fit, speed),
      (lossForce(last.fit, speed) - lossForce(first.fit, speed)) / 2 / Math.sqrt(3),
    );
  const origin =
    last === first
      ? `coast-down ${first.entry}`
      : `coast-downs ${first.entry} and ${last.entry}, linear in time between them`;
  return {
    force,
    spread,
    coastMass: first.fit.mass.value,
    origin,
    findings: [...driftFindings(first, last), ...(own.length > 0 ? [] : [acrossChange(origin)])],
    key: JSON.stringify([origin, share, own.length > 0, first.fit, last.fit]),
  };
}

function nearest(coasts: readonly DayCoast[], clock: number): DayCoast | undefined {
  let best: DayCoast | undefined;
  for (const coast of coasts) if (!best || Math.abs(coast.clock - clock) < Math.abs(best.clock - clock)) best = coast;
  return best;
}

/** Standard uncertainty of the fitted force at a speed [N]: level, slope and bend about the middle of what was coasted through. */
function fitSpread({ middle, f1, f2 }: LossFit, speed: number): number {
  const away = speed - middle.speed;
  return Math.hypot(
    middle.force.standardUncertainty,
    f1.standardUncertainty * away,
    f2.standardUncertainty * away * away,
  );
}

/** Change of the loss between two coast-downs from which it is mentioned [1]. @source common practice, no source: note at 5 % */
const NOTED_DRIFT = 0.05;

function acrossChange(origin: string): Finding {
  return {
    kind: 'loss-across-change',
    weight: 'doubt',
    message: `rolling loss taken from ${origin}, with a change of the car between: if it touched tyres, brakes or axle, engine power is wrong by the difference`,
  };
}

function driftFindings(first: DayCoast, last: DayCoast): readonly Finding[] {
  const speed = (first.fit.segment.lowSpeed + first.fit.segment.highSpeed) / 2;
  const change = lossForce(last.fit, speed) / lossForce(first.fit, speed) - 1;
  if (!(Math.abs(change) > NOTED_DRIFT)) return [];
  return [
    {
      kind: 'loss-drift',
      weight: 'doubt',
      message: `rolling loss changed by ${(100 * change).toFixed(0)} % between coast-downs ${first.entry} and ${last.entry}: engine power between them is less certain`,
      numbers: { change, limit: NOTED_DRIFT, speed },
      rule: 'loss drift, common practice, no source',
    },
  ];
}
