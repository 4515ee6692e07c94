import {
  colderStepsForBoost,
  colderStepsForOutput,
  PLUG_RULE,
  type PlugRange,
  type PlugReach,
  plugReach,
  standardAtmosphere,
  usualPlugGap,
} from '../../../core/physics/index.ts';
import { gaugePressure, length, type Measured, pressureDifference, ratio } from '../../../core/quantities/index.ts';
import { notApplicable } from '../limits/applies.ts';
import { around } from '../limits/around.ts';
import type { Foresight } from '../limits/foresight.ts';
import { ledgerOf } from '../limits/ledger.ts';
import { limitOf } from '../limits/limits-of.ts';
import { judgedSpeeds, usualSpeeds } from '../limits/speeds.ts';
import type { Step } from '../model/engine-model.ts';

/** How what is fitted stands to what is usual. */
export type AgainstUsual = 'usual' | 'above' | 'below';

/**
 * What practice says of the plugs in a step: a start for trying, no computed truth. SI.
 *
 * boost: manifold pressure above air at sea level [Pa]. gap: now and usual [m]; spark: margin of the spark voltage with the gap now and with the
 * widest usual one [1], worked out as every limit; undefined where it cannot be told. steps: heat-range steps colder than the plugs
 * the engine was made with, not rounded, by added boost and by added output; fitted: what somebody stated. reach: threads [m].
 * why: the engine has no plugs. unknown: facts that would tell more.
 */
export type PlugAdvice =
  | { readonly kind: 'none'; readonly why: string }
  | {
      readonly kind: 'plugs';
      readonly rule: typeof PLUG_RULE;
      readonly boost: number;
      readonly gap: {
        readonly now: Measured;
        readonly stated: boolean;
        readonly usual: PlugRange;
        readonly against: AgainstUsual;
      };
      readonly spark: { readonly now: Measured; readonly usual: Measured } | undefined;
      readonly steps: {
        readonly byBoost: PlugRange | undefined;
        readonly byOutput: PlugRange | undefined;
        readonly fitted: number | undefined;
        readonly against: AgainstUsual | undefined;
      };
      readonly reach: { readonly fitted: number; readonly head: number; readonly verdict: PlugReach } | undefined;
      readonly unknown: readonly string[];
    };

/** Gaps that count as the same, apart [m]. @source our default: what a feeler gauge tells */
const SAME_GAP = 0.025e-3;

/** Gap when nobody stated one [m]. */
const USUAL_GAP = { value: 0.7e-3, standardUncertainty: 0.08e-3, source: PLUG_RULE };

/**
 * Gap, heat range and reach for a step as practice has them.
 *
 * The figures of practice are those of places near the sea: boost is counted above the standard atmosphere there, whatever the air outside,
 * for the charge is what strains a plug.
 *
 * @valid   a start; reading the plugs after a clean cut decides
 * @source  {@link usualPlugGap}, {@link colderStepsForBoost}, {@link colderStepsForOutput}, {@link plugReach}: common practice, no source
 */
export function plugAdvice(foresight: Foresight, step: Step): PlugAdvice {
  const { model } = foresight;
  const why = notApplicable(model, 'spark voltage');
  if (why !== undefined) return { kind: 'none', why };
  const ledger = ledgerOf(model);
  const boost = step.manifoldPressure - standardAtmosphere(length(0)).pressure;
  const usual = usualPlugGap(gaugePressure(boost));
  const now = step.plugGap === undefined ? ledger.take('plugGap', USUAL_GAP) : around(step.plugGap, 0);
  const native = ledger.need('nativeBoost')?.value;
  const made = ledger.need('nativePower')?.value;
  const fitted = ledger.need('plugStepsColder')?.value;
  const byBoost = native === undefined ? undefined : colderStepsForBoost(pressureDifference(boost - native));
  const most = made === undefined ? Number.NaN : mostPower(foresight, step) / made;
  const byOutput = Number.isNaN(most) ? undefined : colderStepsForOutput(ratio(most));
  return {
    ...{ kind: 'plugs', rule: PLUG_RULE, boost },
    gap: {
      ...{ now, usual, stated: step.plugGap !== undefined || model.values.get('plugGap')?.origin !== 'prior' },
      against: againstRange(now.value, usual, SAME_GAP),
    },
    spark: sparkMargins(foresight, step, usual.high),
    steps: { byBoost, byOutput, fitted, against: stepsAgainst(fitted, [byBoost, byOutput]) },
    reach: reachOf(ledger.need('plugThread')?.value, ledger.need('headThread')?.value),
    unknown: [...ledger.missing, ...ledger.assumed],
  };
}

function againstRange(value: number, { low, high }: PlugRange, slack: number): AgainstUsual {
  if (value > high + slack) return 'above';
  return value < low - slack ? 'below' : 'usual';
}

/** Whole steps are held against the whole range that boost and output give; nothing can be said without either. */
function stepsAgainst(
  fitted: number | undefined,
  ranges: readonly (PlugRange | undefined)[],
): AgainstUsual | undefined {
  const known = ranges.flatMap((range) => range ?? []);
  if (fitted === undefined || known.length === 0) return undefined;
  const low = Math.floor(Math.min(...known.map((range) => range.low)));
  const high = Math.ceil(Math.max(...known.map((range) => range.high)));
  return againstRange(fitted, { low, high }, 0);
}

function reachOf(fitted: number | undefined, head: number | undefined) {
  if (fitted === undefined || head === undefined) return undefined;
  return { fitted, head, verdict: plugReach(length(fitted), length(head)) };
}

/** Largest power at the crankshaft in the step [W]; NaN where none is foretold. */
function mostPower({ model, predict }: Foresight, step: Step): number {
  const speeds = usualSpeeds(model);
  const judged = judgedSpeeds(model, step, speeds);
  const powers = [...predict(step, speeds).lines['engine power'].value].filter((one, i) => judged[i] && one > 0);
  return powers.length === 0 ? Number.NaN : Math.max(...powers);
}

function sparkMargins(foresight: Foresight, step: Step, gap: number) {
  const speeds = usualSpeeds(foresight.model);
  const judged = judgedSpeeds(foresight.model, step, speeds);
  const least = (plugGap: number | undefined): Measured => {
    const asked = { step: plugGap === undefined ? step : { ...step, plugGap }, speeds };
    const { margin, marginUncertainty } = limitOf(foresight, 'spark voltage', asked);
    const known = [...margin].map((one, i) => (judged[i] && Number.isFinite(one) ? one : Number.POSITIVE_INFINITY));
    const at = known.indexOf(Math.min(...known));
    return around(known[at], marginUncertainty[at]);
  };
  const [now, usual] = [least(undefined), least(gap)];
  return Number.isFinite(now.value) && Number.isFinite(usual.value) ? { now, usual } : undefined;
}
