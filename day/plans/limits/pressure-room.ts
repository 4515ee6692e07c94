import type { Step } from '../model/engine-model.ts';
import { highestPressure } from './applies.ts';
import type { Foresight } from './foresight.ts';
import { largestPressureOf, type PressureQuestion } from './largest-pressure.ts';
import { ledgerOf } from './ledger.ts';
import type { LimitName } from './limit.ts';
import { LIMIT_NAMES } from './limits-of.ts';
import { outsideAir } from './surroundings.ts';

/** A pressure [Pa] and the limit that sets it. */
export interface SetBy {
  readonly manifoldPressure: number;
  readonly name: LimitName;
}

/**
 * How far one engine speed may be taken. even: with even odds nothing known is passed below it; safe: nineteen times of twenty. Absent: nothing known is
 * passed up to `within` [Pa]. passed: limits that are passed whatever the pressure. judged: see {@link LargestPressure}.
 */
export interface SpeedRoom {
  readonly speed: number;
  readonly even?: SetBy & { readonly standardUncertainty: number };
  readonly safe?: SetBy;
  readonly within: number;
  readonly passed: readonly LimitName[];
  readonly judged: boolean;
}

/** rows: by rising engine speed. unknown: limits of which nothing can be said: with them the room may be smaller. */
export interface PressureRoom {
  readonly rows: readonly SpeedRoom[];
  readonly unknown: readonly LimitName[];
}

/** One-sided normal quantile of nineteen in twenty [1]. @source standard normal table */
const NINETEEN_IN_TWENTY = 1.645;

/**
 * Highest manifold pressure by engine speed that every known limit, or one, allows.
 *
 * The wastegate's authority is left out of all limits together: a pressure that the turbine cannot make breaks nothing.
 *
 * @source  {@link largestPressureOf}; each limit for itself
 */
export function pressureRoomOf(
  foresight: Foresight,
  step: Step,
  question: Omit<PressureQuestion, 'name'> & { readonly name?: LimitName } = {},
): PressureRoom {
  const { name, ...rest } = question;
  const names = name === undefined ? LIMIT_NAMES.filter((one) => one !== 'wastegate authority') : [name];
  const all = names.map((one) => largestPressureOf(foresight, step, { ...rest, name: one }));
  const known = all.filter(({ why }) => why === undefined);
  const [first] = all;
  const ceiling = highestPressure(foresight.model, outsideAir(step, ledgerOf(foresight.model)).pressure);
  const rows = [...first.speed].map((speed, i): SpeedRoom => {
    const reached = known.flatMap(({ name: own, manifoldPressure, standardUncertainty }) =>
      manifoldPressure[i] <= ceiling
        ? [{ name: own, manifoldPressure: manifoldPressure[i], standardUncertainty: standardUncertainty[i] }]
        : [],
    );
    const even = least(reached);
    const safe = least(
      reached.map(({ standardUncertainty, manifoldPressure, name: own }) => ({
        name: own,
        manifoldPressure: manifoldPressure - NINETEEN_IN_TWENTY * (standardUncertainty || 0),
      })),
    );
    const looked = known.flatMap(({ within }) => (Number.isFinite(within[i]) ? [Math.min(within[i], ceiling)] : []));
    return {
      speed,
      ...(even ? { even } : {}),
      ...(safe ? { safe } : {}),
      within: looked.length > 0 ? Math.min(...looked) : Number.NaN,
      passed: known.filter(({ everywhere }) => everywhere[i]).map(({ name: own }) => own),
      judged: known.every(({ judged }) => judged[i]),
    };
  });
  return { rows, unknown: all.filter(({ why }) => why !== undefined).map(({ name: own }) => own) };
}

function least<Row extends SetBy>(rows: readonly Row[]): Row | undefined {
  return rows.reduce<Row | undefined>(
    (best, row) => (best && best.manifoldPressure <= row.manifoldPressure ? best : row),
    undefined,
  );
}
