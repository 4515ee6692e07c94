import type { Measured } from '../../../core/quantities/index.ts';
import type { Step } from '../model/engine-model.ts';
import { judgedFrom } from '../model/held.ts';
import { highestPressure } from './applies.ts';
import { around } from './around.ts';
import type { Foresight } from './foresight.ts';
import { ledgerOf } from './ledger.ts';
import type { LimitName } from './limit.ts';
import { limitsOf } from './limits-of.ts';
import { usualSpeeds } from './speeds.ts';
import { outsideAir } from './surroundings.ts';
import { firstCrossing, type Sweep, sweepOf } from './sweep.ts';

/** What is wanted at the crankshaft: torque [N·m] or power [W], and where [rad/s]; without a speed every speed is asked. */
export type Goal = ({ readonly torque: number } | { readonly power: number }) & { readonly at?: number };

/** One limit on the way to a goal, with the probability that it is passed [0 … 1]. */
export interface OnTheWay {
  readonly name: LimitName;
  readonly over: number;
}

/**
 * The goal at one engine speed. manifoldPressure: needed [Pa]; value NaN where no pressure that was looked at gives it.
 * limits: what is known, likeliest first. unknown: limits of which nothing can be said: a chance without them is too good.
 * chance: that no known limit is passed, if they were independent; it is at most `1 − limits[0].over`.
 */
export interface GoalRow {
  readonly speed: number;
  readonly torque: number;
  readonly manifoldPressure: Measured;
  readonly limits: readonly OnTheWay[];
  readonly unknown: readonly LimitName[];
  readonly chance: number;
}

/** rows: one per engine speed. best: the row with the largest chance; undefined when the goal is out of reach everywhere. */
export interface GoalAnswer {
  readonly rows: readonly GoalRow[];
  readonly best: GoalRow | undefined;
}

/**
 * Whether these parts can reach a goal: manifold pressure that it takes by engine speed, and the limits that it would pass.
 *
 * Without a compressor no more pressure than that outside is looked at. The pressure is known only as well as the predicted torque; the probabilities are averaged over it (three-point Gauss–Hermite).
 *
 * @valid   limits taken as independent; pressures from half to 1.75 times the step's
 * @source  root of predicted torque; Abramowitz & Stegun 25.4.46 (Gauss–Hermite, from memory)
 */
export function goalOf(foresight: Foresight, goal: Goal, step: Step): GoalAnswer {
  const speeds = goal.at === undefined ? usualSpeeds(foresight.model) : Float64Array.of(goal.at);
  const sweep = sweepOf(foresight, step, speeds);
  const rows = [...speeds].map((speed, i) => rowAt(foresight, { goal, step, sweep }, { speed, index: i }));
  const { model } = foresight;
  const there = ({ speed, manifoldPressure }: GoalRow): boolean => speed >= judgedFrom(model, manifoldPressure.value);
  const able = rows.filter(({ chance }) => Number.isFinite(chance));
  // below the boost threshold the pressure does not come about: such a speed is taken only where there is no other
  const reached = able.some(there) ? able.filter(there) : able;
  const best = reached.reduce<GoalRow | undefined>(
    (top, row) => (top && top.chance >= row.chance ? top : row),
    undefined,
  );
  return { rows, best };
}

function rowAt(
  foresight: Foresight,
  asked: { readonly goal: Goal; readonly step: Step; readonly sweep: Sweep },
  { speed, index }: { readonly speed: number; readonly index: number },
): GoalRow {
  const { goal, step, sweep } = asked;
  const torque = 'torque' in goal ? goal.torque : goal.power / speed;
  const needed = pressureFor(sweep, torque, index);
  const { model } = foresight;
  const highest = highestPressure(model, outsideAir(step, ledgerOf(model)).pressure);
  const manifoldPressure = needed.value > highest ? around(Number.NaN, Number.NaN) : needed;
  if (Number.isNaN(manifoldPressure.value)) {
    return { speed, torque, manifoldPressure, limits: [], unknown: [], chance: Number.NaN };
  }
  const over = new Map<LimitName, number>();
  const none = new Set<LimitName>();
  for (const { offset, weight } of POINTS) {
    const pressure = manifoldPressure.value + offset * manifoldPressure.standardUncertainty;
    for (const limit of limitsOf(foresight, { ...step, manifoldPressure: pressure }, Float64Array.of(speed))) {
      if (limit.applies === false) none.add(limit.name);
      over.set(limit.name, (over.get(limit.name) ?? 0) + weight * limit.over[0]);
    }
  }
  const known = [...over]
    .filter(([, chance]) => !Number.isNaN(chance))
    .map(([name, chance]) => ({ name, over: chance }));
  return {
    speed,
    torque,
    manifoldPressure,
    limits: known.sort((a, b) => b.over - a.over),
    unknown: [...over].filter(([name, chance]) => Number.isNaN(chance) && !none.has(name)).map(([name]) => name),
    chance: known.reduce((product, limit) => product * (1 - limit.over), 1),
  };
}

const POINTS = [
  { offset: -Math.sqrt(3), weight: 1 / 6 },
  { offset: 0, weight: 2 / 3 },
  { offset: Math.sqrt(3), weight: 1 / 6 },
] as const;

function pressureFor({ pressures, predictions }: Sweep, torque: number, index: number): Measured {
  const lines = predictions.map(({ lines }) => lines['engine torque']);
  const crossing = firstCrossing(
    pressures,
    lines.map(({ value }) => value[index] - torque),
  );
  if (!crossing) return around(Number.NaN, Number.NaN);
  const spread = lines[crossing.index].standardUncertainty[index];
  return around(crossing.pressure, Math.max(spread || 0, 0) / crossing.slope);
}
