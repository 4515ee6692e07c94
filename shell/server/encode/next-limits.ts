import { formatQuantity } from '../../../core/quantities/index.ts';
import {
  type EngineModel,
  type Goal,
  type GoalAnswer,
  type GoalRow,
  goal,
  highestPressure,
  judgedSpeeds,
  type LimitName,
  limitsAt,
  type NextLimit,
  nextLimits,
  type Step,
  usualSpeeds,
} from '../../../day/plans/index.ts';
import type { NextLimitView, NextView } from '../../contract/index.ts';
import type { DayEngine } from '../../desk/index.ts';
import { isUsual, limitTitle } from './limit-words.ts';
import type { AskedStep } from './limits.ts';
import { plainFinding, plainNumber } from './plain.ts';

/** Which limit comes first when manifold pressure rises; and what a goal would ask of the parts. */
export function encodeNext({ engine, step, findings }: AskedStep, wanted?: Goal): NextView {
  const next = nextOf(engine, step);
  return {
    sentence: nextSentence(next, {
      pressure: step.manifoldPressure,
      passed: passedAt(engine.model, step),
      boosted: Number.POSITIVE_INFINITY === highestPressure(engine.model, 0),
    }),
    next: next.map(encodeOne),
    ...(wanted && { goal: encodeGoal(wanted, goal(engine.model, wanted, step)) }),
    findings: findings.map(plainFinding),
  };
}

const KEPT = new WeakMap<DayEngine, Map<string, readonly NextLimit[]>>();
/** Steps of one engine whose next limits stay in memory. @source our default: an hour of trying */
const MOST_KEPT = 500;

/**
 * Next limits do not depend on the pressure that is asked: they are looked for around that of the day, and kept for every step that differs in
 * pressure alone. A pressure far from the day's is looked around by itself.
 */
function nextOf(engine: DayEngine, step: Step): readonly NextLimit[] {
  const day = engine.step.manifoldPressure;
  const near = step.manifoldPressure > 0.6 * day && step.manifoldPressure < 1.5 * day;
  const around = near ? { ...step, manifoldPressure: day } : step;
  const kept = KEPT.get(engine) ?? new Map<string, readonly NextLimit[]>();
  KEPT.set(engine, kept);
  const key = JSON.stringify(Object.entries(around).sort());
  const known = kept.get(key) ?? nextLimits(engine.model, around);
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(key, known);
  return known;
}

function encodeOne({
  name,
  manifoldPressure,
  standardUncertainty,
  speed,
  assumed,
  everywhere,
}: NextLimit): NextLimitView {
  return {
    ...{ name, title: limitTitle(name), manifoldPressure, speed },
    standardUncertainty: plainNumber(standardUncertainty),
    assumed: [...assumed],
    everywhere: everywhere === true,
  };
}

/** A limit that is more likely passed than not at the step itself, and the engine speed at which it is likeliest [rad/s]. */
interface Passed {
  readonly name: LimitName;
  readonly speed: number;
  /** Held against a usual value that nobody stated. */
  readonly usual?: boolean;
}

function passedAt(model: EngineModel, step: Step): readonly Passed[] {
  const speeds = usualSpeeds(model);
  const judged = judgedSpeeds(model, step, speeds);
  return limitsAt(model, step, speeds).flatMap(({ name, over, speed, assumed }) => {
    const chances = [...over].map((chance, i) => (judged[i] && !Number.isNaN(chance) ? chance : 0));
    const most = Math.max(0, ...chances);
    const where = speed[chances.indexOf(most)];
    return most >= 0.5 && where !== undefined ? [{ name, speed: where, usual: isUsual(assumed) }] : [];
  });
}

/** Pressure of the step [Pa], what is passed there, and whether a compressor can raise it. */
export interface NextContext {
  readonly pressure: number;
  readonly passed: readonly Passed[];
  readonly boosted?: boolean;
}

/** `The next limit is head clamp, at 212 ± 9 kPa near 4000 rpm.` Bands are two standard uncertainties. What is passed already goes first. */
export function nextSentence(next: readonly NextLimit[], { pressure, passed, boosted = true }: NextContext): string {
  const names = new Set(passed.map(({ name }) => name));
  const ahead = next.find((one) => !names.has(one.name) && !one.everywhere && one.manifoldPressure > pressure);
  const now = passed.map(
    ({ name, speed, usual }) =>
      `${limitTitle(name)} near ${formatQuantity(speed, 'engine-speed')}${usual === true ? ' (against a usual value, nobody stated a limit)' : ''}`,
  );
  const already = now.length === 0 ? '' : `More likely passed than not at this step: ${now.join(', ')}. `;
  if (ahead) return `${already}The next limit is ${limitTitle(ahead.name)}, at ${placeText(ahead)}.`;
  const far = boosted
    ? 'one and three quarters of the day’s pressure'
    : 'the pressure outside: no compressor raises it';
  return `${already}No ${already === '' ? '' : 'further '}limit that can be told is passed up to ${far}.`;
}

/** Two standard uncertainties over the pressure from which on a pressure is called hardly known [1]. @source our default */
const WIDE = 0.6;

function placeText({ manifoldPressure, standardUncertainty, speed }: NextLimit): string {
  if (2 * standardUncertainty > WIDE * manifoldPressure) {
    const about = formatQuantity(manifoldPressure, 'absolute-pressure', { decimals: 0 });
    return `about ${about}, hardly known, near ${formatQuantity(speed, 'engine-speed')}`;
  }
  const spread = Number.isFinite(standardUncertainty) ? { standardUncertainty: 2 * standardUncertainty } : {};
  const pressure = formatQuantity(manifoldPressure, 'absolute-pressure', { decimals: 0, ...spread });
  return `${pressure} near ${formatQuantity(speed, 'engine-speed')}`;
}

type GoalView = NonNullable<NextView['goal']>;

function encodeGoal(wanted: Goal, { rows, best }: GoalAnswer): GoalView {
  const asked = `${'torque' in wanted ? formatQuantity(wanted.torque, 'torque', { decimals: 0 }) : formatQuantity(wanted.power, 'power', { decimals: 0 })}${wanted.at === undefined ? '' : ` at ${formatQuantity(wanted.at, 'engine-speed')}`}`;
  return {
    asked,
    sentence: goalSentence(asked, best),
    chance: plainNumber(best?.chance ?? Number.NaN),
    rows: rows.map(({ speed, manifoldPressure, limits }) => ({
      speed,
      manifoldPressure: plainNumber(manifoldPressure.value),
      standardUncertainty: plainNumber(manifoldPressure.standardUncertainty),
      passed: limits.filter(({ over }) => over > 0.5).map(({ name }) => limitTitle(name)),
    })),
  };
}

function goalSentence(asked: string, best: GoalRow | undefined): string {
  if (!best) return `${asked}: out of reach at every speed that was looked at.`;
  const { value, standardUncertainty } = best.manifoldPressure;
  const pressure = formatQuantity(value, 'absolute-pressure', {
    decimals: 0,
    standardUncertainty: 2 * standardUncertainty,
  });
  const [first] = best.limits;
  const limit = first ? ` The likeliest passed is ${limitTitle(first.name)}, ${percent(first.over)}.` : '';
  const blind = best.unknown.length > 0 ? ` ${best.unknown.length} limits cannot be told: the chance is too good.` : '';
  return `${asked}: best near ${formatQuantity(best.speed, 'engine-speed')}, with ${pressure}; chance that no known limit is passed ${percent(best.chance)}.${limit}${blind}`;
}

function percent(share: number): string {
  if (share < 0.01) return 'under 1 %';
  return share > 0.99 ? 'over 99 %' : `${Math.round(100 * share)} %`;
}
