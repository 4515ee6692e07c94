import type { Measured } from '../../../../core/quantities/index.ts';
import type { LossFit } from '../../../pulls/index.ts';
import { differingSettings, isUnmeasured } from '../entries.ts';
import { equalState, expectedCells } from '../lines/equal-state.ts';
import { powerSpec } from '../lines/line-table.ts';
import { type LineRule, stateCells } from '../lines/pull-line.ts';
import type { PullState } from '../pull-state.ts';
import type { HealthLimits } from '../thresholds.ts';

/** What is asked: the power of this pull at its own manifold pressure, charge temperature, timing and mixture. */
export interface PowerQuestion {
  readonly pull: PullState;
  /** Clean pulls before it in the same gear, in order. */
  readonly earlier: readonly PullState[];
  /** Losses of the last coast-down before a pull that was not found to have risen; undefined without one. */
  readonly lossOf: (pull: PullState) => LossFit | undefined;
  readonly limits: HealthLimits;
}

/**
 * What it should make. power: by step of engine speed (`SPEED_STEP`) [W]. uncertainty: relative standard uncertainty of the level as a whole,
 * the pull's own repeatability not in it [1]. rests: entries it was computed from; origin: how.
 */
export interface PowerPrediction {
  readonly power: ReadonlyMap<number, number>;
  readonly uncertainty: number;
  readonly rests: readonly string[];
  readonly origin: string;
  readonly slopes?: readonly { readonly name: string; readonly slope: Measured }[];
  readonly remarks: readonly string[];
  /**
   * Settings that it allows for although too few earlier pulls had them, each with what it may do to power, relative [1]: that is in the
   * uncertainty. Absent: settings are not allowed for.
   */
  readonly notSeen?: readonly { readonly setting: string; readonly effect: Measured }[];
}

/** A way to expect power; `why` when it cannot. The place where a model of the engine is put instead of sensitivities. */
export type Predict = (question: PowerQuestion) => PowerPrediction | { readonly why: string };

/**
 * Power from earlier clean pulls and sensitivities: each step of engine speed has its own power, a pull its own luck of the repeatability,
 * and the sensitivities are believed as the thresholds say until the earlier pulls know better.
 *
 * @valid   manifold pressures near those of the earlier pulls: the uncertainty grows with the distance
 * @source  sensitivities: thresholds `power.…`; method: `equalState`
 */
export const predictBySensitivities: Predict = ({ pull, earlier: clean, limits }) => {
  const least = limits['shortfall.least-pulls'].value;
  const earlier = alikeOf(pull, clean, least);
  if (earlier.length < least) return { why: `not enough pulls: ${earlier.length} clean ones before, ${least} needed` };
  const all = [...earlier, pull];
  const withTemperature = all.every((one) =>
    hasState(one, (cell) => cell.values.get('charge-temperature') ?? Number.NaN),
  );
  const spec = powerSpec(limits, withTemperature);
  const rules = spec.rules.filter(({ read }) => all.every((one) => hasState(one, read)));
  if (!rules.some(({ name }) => name === 'manifold pressure')) return { why: 'missing manifold-pressure' };
  const cells = earlier.flatMap((one) => stateCells(spec, rules, one));
  const repeat = limits['power.repeat'].value;
  const state = equalState({ cells, rules, anchor: { random: repeat }, noise: repeat / 2 });
  const {
    cells: known,
    expected,
    meanUncertainty,
  } = state
    ? expectedCells(state, stateCells(spec, rules, pull))
    : { cells: [], expected: [], meanUncertainty: Number.NaN };
  if (!state || known.length < FEWEST) return { why: 'the earlier pulls share too few engine speeds with this one' };
  return {
    power: new Map(known.map(({ step }, i) => [step, Math.exp(expected[i])])),
    uncertainty: meanUncertainty,
    rests: earlier.map(({ entry }) => entry.id),
    origin: `${earlier.length} earlier clean pulls and sensitivities`,
    slopes: rules.map(({ name }, j) => ({ name, slope: state.slopes[j] })),
    remarks: spec.rules.filter((rule) => !rules.includes(rule)).map(({ name }) => `not at equal ${name}: no channel`),
  };
};

/** Steps of engine speed that must be shared. @source our default */
const FEWEST = 4;

function hasState({ cells }: PullState, read: LineRule['read']): boolean {
  return cells.some((cell) => Number.isFinite(read(cell)));
}

/** Pulls of the same set-up where there are enough, else all. */
function alikeOf(pull: PullState, clean: readonly PullState[], least: number): readonly PullState[] {
  const alike = clean.filter((one) => differingSettings(one.entry, pull.entry).every((text) => !isUnmeasured(text)));
  return alike.length >= least ? alike : clean;
}
