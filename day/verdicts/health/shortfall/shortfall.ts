import { linearFit, polynomialDesign, repeatDeviation } from '../../../../core/numerics/index.ts';
import { type Measured, measured } from '../../../../core/quantities/index.ts';
import type { Fault } from '../../fault.ts';
import { changedBetween, differingSettings, type HealthEntry, isUnmeasured } from '../entries.ts';
import { manifoldPressure, overCells, type PullState, SPEED_STEP } from '../pull-state.ts';
import { type HealthFinding, type HealthPart, type HealthUnknown, heldValue } from '../result.ts';
import type { HealthLimits } from '../thresholds.ts';
import { gapPatterns, type PatternFit } from './pattern.ts';
import { type PowerPrediction, type PowerQuestion, type Predict, predictBySensitivities } from './predict.ts';
import { distressed, holdAt, lossBefore, takenBy } from './teaching.ts';

/**
 * One pull against what it should have made. gap: power over expected, less 1 [1], negative when short. z: shortfall in standard
 * uncertainties, positive when short. load: middle manifold pressure [Pa]. bySteps: the gap by engine speed [rad/s].
 */
export interface Shortfall {
  readonly entry: string;
  readonly key: string;
  readonly gap: Measured;
  readonly z: number;
  readonly load: number;
  readonly bySteps: readonly { readonly speed: number; readonly gap: number; readonly torque: number }[];
  readonly prediction: PowerPrediction;
  readonly patterns: readonly PatternFit[];
  /** Change of the gap with the time of day up to this pull [1/h], when three pulls or more tell. */
  readonly withTime: Measured | undefined;
  /** Settings that fewer than two of the pulls it is held against had and that nothing allows for: they may be the whole cause. */
  readonly newSettings: readonly string[];
  /** Faults that its verdict believes in and that take power without distress: they may be the whole cause. */
  readonly takenBy: readonly Fault[];
}

export interface ShortfallQuestion {
  readonly pulls: readonly PullState[];
  readonly entries: readonly HealthEntry[];
  readonly limits: HealthLimits;
  /** Model of the engine; where it cannot tell, and without one, earlier clean pulls and sensitivities do. */
  readonly predict?: Predict | undefined;
  /** What else was found of the day's health: pulls at and after a hold are no example. */
  readonly found?: readonly HealthFinding[];
}

export interface ShortfallHealth extends HealthPart {
  readonly shortfalls: readonly Shortfall[];
}

/** Pulls in the same gear agree in their ratio within this [1]; a pull with less of it usable is no reference and not judged [1]. @source our default */
const SAME_GEAR = 0.03;
const LEAST_USABLE = 0.5;

/**
 * Power of each pull against its prediction from what was clean before it, and the early sign of mechanical distress: short by more than two
 * standard uncertainties in pulls that follow one another while load does not fall. A pull that is short teaches nothing to the next ones.
 *
 * @source  z > 2 twice at rising load: common practice, no source
 */
export function shortfallHealth({
  pulls,
  entries,
  limits,
  predict,
  found: others = [],
}: ShortfallQuestion): ShortfallHealth {
  const shortfalls: Shortfall[] = [];
  const unknown: HealthUnknown[] = [];
  const clean: PullState[] = [];
  const limit = limits['shortfall.deviations'].value;
  const lossOf = (pull: PullState) => lossBefore(pull, others, entries);
  for (const pull of pulls) {
    if (pull.usable < LEAST_USABLE || pull.pull.refusal) {
      unknown.push({ what: 'power against expected', entries: [pull.entry.id], why: whyNot(pull) });
      continue;
    }
    const earlier = clean.filter((one) => sameGear(one, pull));
    const prediction = expectedPower({ pull, earlier, limits, lossOf }, predict);
    const found =
      'why' in prediction ? undefined : held(pull, prediction, { before: shortfalls, limits, pulls, earlier });
    if (found) shortfalls.push(found);
    unknown.push(...leftOpen(pull, prediction));
    // Set otherwise than before, and not allowed for, it is the first of its kind: what it makes is not known to be short.
    const short = found !== undefined && found.z > limit && found.newSettings.length === 0;
    const teaches = !short && !distressed(pull) && takenBy(pull).length === 0 && !holdAt(pull, others, entries);
    if (teaches) clean.push(pull);
  }
  return { shortfalls, unknown, findings: shortfallFindings(shortfalls, { entries, limits }) };
}

/** By the model of the engine where it can tell, else by sensitivities, which then say why. */
function expectedPower(question: PowerQuestion, predict: Predict | undefined): ReturnType<Predict> {
  const byModel = predict?.(question);
  if (byModel && !('why' in byModel)) return byModel;
  const usual = predictBySensitivities(question);
  if (!byModel) return usual;
  const why = `engine model not asked: ${byModel.why}`;
  return 'why' in usual ? { why: `${usual.why}; ${why}` } : { ...usual, remarks: [...usual.remarks, why] };
}

function leftOpen({ entry }: PullState, prediction: ReturnType<Predict>): readonly HealthUnknown[] {
  if ('why' in prediction) return [{ what: 'power against expected', entries: [entry.id], why: prediction.why }];
  return (prediction.notSeen ?? []).map(({ setting, effect }) => ({
    what: 'what a new setting does to power',
    entries: [entry.id],
    why: `${setting}: too few earlier clean pulls had it, ± ${percent(effect)} % of power stands for it in what was expected`,
  }));
}

function percent({ standardUncertainty }: Measured): string {
  return (100 * standardUncertainty).toFixed(1);
}

/** Settings of a pull that fewer than two of the earlier clean pulls had: what they do is hardly known. */
function newSettings({ entry }: PullState, earlier: readonly PullState[]): readonly string[] {
  return Object.entries(entry.facts.settings)
    .filter(
      ([key, value]) =>
        isUnmeasured(key) && earlier.filter((one) => one.entry.facts.settings[key] === value).length < FEWEST_ALIKE,
    )
    .map(([key, value]) => `${key}: ${value}`);
}

/** Pulls with a setting from which on it is known what it does. @source our default */
const FEWEST_ALIKE = 2;

function whyNot({ pull, usable }: PullState): string {
  return pull.refusal ? pull.refusal.message : `only ${Math.round(100 * usable)} % of the pull is unspoilt`;
}

function sameGear(a: PullState, b: PullState): boolean {
  const [first, second] = [a.pull.segment.ratio, b.pull.segment.ratio];
  return first === undefined || second === undefined || Math.abs(Math.log(first / second)) < SAME_GEAR;
}

interface Known {
  readonly before: readonly Shortfall[];
  readonly limits: HealthLimits;
  readonly pulls: readonly PullState[];
  readonly earlier: readonly PullState[];
}

function held(pull: PullState, prediction: PowerPrediction, { before, limits, pulls, earlier }: Known): Shortfall {
  const bySteps = pull.cells.flatMap(({ step, speed, power }) => {
    const expected = prediction.power.get(step);
    if (expected === undefined || !Number.isFinite(power)) return [];
    return [{ speed, gap: power / expected - 1, torque: expected / (step * SPEED_STEP) }];
  });
  const mean = bySteps.reduce((sum, { gap }) => sum + gap, 0) / bySteps.length;
  const own = ownRepeat(before, limits, pulls);
  const gap = measured(mean, Math.hypot(prediction.uncertainty, own, limits['power.drift'].value));
  const found = {
    ...{ entry: pull.entry.id, key: pull.key, gap, bySteps, prediction },
    z: -gap.value / gap.standardUncertainty,
    load: overCells(pull, manifoldPressure),
  };
  const unseen = prediction.notSeen ? [] : newSettings(pull, earlier);
  const patterns = gapPatterns({
    speed: bySteps.map(({ speed }) => speed),
    torque: bySteps.map(({ torque }) => torque),
    gap: bySteps.map((step) => step.gap),
  });
  return {
    ...found,
    patterns,
    withTime: trendOf([...before, found], pulls),
    newSettings: unseen,
    takenBy: distressed(pull) ? [] : takenBy(pull),
  };
}

/** Repeatability of one pull [1]: what is believed, and neighbours of the day without a change between. */
function ownRepeat(before: readonly Shortfall[], limits: HealthLimits, pulls: readonly PullState[]): number {
  const entryOf = new Map(pulls.map(({ key, entry }) => [key, entry]));
  const groups: number[][] = [];
  for (let i = 1; i < before.length; i++) {
    const [a, b] = [entryOf.get(before[i - 1].key), entryOf.get(before[i].key)];
    const short = Math.max(Math.abs(before[i - 1].z), Math.abs(before[i].z)) > limits['shortfall.deviations'].value;
    if (!a || !b || short || a.block !== b.block || differingSettings(a, b).length > 0) continue;
    groups.push([before[i - 1].gap.value, before[i].gap.value]);
  }
  const prior = { value: limits['power.repeat'].value, degreesOfFreedom: limits['repeat.weight'].value };
  return repeatDeviation({ groups, prior }).value;
}

/** Straight line of the gaps over the time of day [1/h]; undefined with fewer than three pulls or no known clock. */
function trendOf(found: readonly Pick<Shortfall, 'key' | 'gap'>[], pulls: readonly PullState[]): Measured | undefined {
  const entryOf = new Map(pulls.map(({ key, entry }) => [key, entry]));
  const known = found.filter(({ key }) => entryOf.get(key)?.clockKnown);
  const hours = known.map(({ key }) => (entryOf.get(key)?.clock ?? Number.NaN) / 3600);
  if (known.length < 3 || Math.max(...hours) - Math.min(...hours) < 0.1) return undefined;
  const weights = known.map(({ gap }) => 1 / gap.standardUncertainty ** 2);
  const from = hours[0];
  const design = polynomialDesign(
    hours.map((hour) => hour - from),
    1,
  );
  const fit = linearFit({ design, response: known.map(({ gap }) => gap.value), weights });
  return measured(fit.coefficients[1], fit.standardErrors[1]);
}

function shortfallFindings(
  shortfalls: readonly Shortfall[],
  { entries, limits }: Pick<ShortfallQuestion, 'entries' | 'limits'>,
): readonly HealthFinding[] {
  const limit = limits['shortfall.deviations'];
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  let row: Shortfall[] = [];
  return shortfalls.flatMap((found) => {
    if (!(found.z > limit.value)) {
      row = [];
      return [];
    }
    const last = row[row.length - 1];
    const lighter = last && found.load < last.load * (1 - limits['shortfall.same-load'].value);
    const explained = found.newSettings.length > 0 || found.takenBy.length > 0;
    if (!explained) row = lighter ? [found] : [...row, found];
    const enough = !explained && row.length >= limits['shortfall.in-a-row'].value;
    const [entry, reference] = [byId.get(found.entry), byId.get(found.prediction.rests[0] ?? '')];
    return [
      {
        kind: enough ? 'mechanical-distress-sign' : 'power-shortfall',
        ...{ subject: 'loads', stopClass: enough ? 2 : 1, entry: found.entry },
        rests: [...new Set([found.entry, ...(enough ? row.map((one) => one.entry) : []), ...found.prediction.rests])],
        values: [
          heldValue('power over expected, less 1', found.gap, { kind: 'fraction', source: found.prediction.origin }),
          heldValue('shortfall in standard uncertainties', measured(found.z, 0), { ...limit, kind: 'ratio' }),
        ],
        why: whyShort(found, enough ? row.length : 1),
        changed: entry && reference ? changedBetween(entries, reference, entry) : [],
      } satisfies HealthFinding,
    ];
  });
}

function whyShort({ newSettings: unseen, takenBy: taken, patterns, prediction }: Shortfall, inRow: number): string {
  if (unseen.length > 0) {
    return `short, but set otherwise than the pulls it is held against (${unseen.join('; ')}): that may be the whole cause`;
  }
  if (taken.length > 0) return `short beside ${taken.join(', ')}: that may be the whole cause`;
  const pattern = patterns[0]?.pattern ?? 'too few speeds to tell';
  const count = inRow > 1 ? `${inRow} pulls in a row, load not falling` : 'one pull';
  const allowed = (prediction.notSeen ?? []).map(({ setting, effect }) => `${setting} (± ${percent(effect)} %)`);
  const beside = allowed.length > 0 ? `; hardly seen before, allowed for: ${allowed.join(', ')}` : '';
  return `short of what ${prediction.origin} promise: ${count}; pattern: ${pattern}${beside}`;
}
