import { type Finding, formatQuantity } from '../../../core/quantities/index.ts';
import {
  type EngineModel,
  foresightOf,
  highestPressure,
  judgedSpeeds,
  type KnownValue,
  type Limit,
  limitsAt,
  type Prediction,
  type Step,
  usualSpeeds,
} from '../../../day/plans/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import type { LimitRow, LimitsView, RestsOn, Tightest } from '../../contract/index.ts';
import type { DayEngine } from '../../desk/index.ts';
import { encodeCooler } from './cooler.ts';
import { inWords, isUsual, limitTitle } from './limit-words.ts';
import { plainFinding, plainNumber, plainSamples } from './plain.ts';
import { stepControls } from './step-controls.ts';
import { factOf, unknownFacts } from './unknown-facts.ts';

/** An engine and a step of it. named: what was written of the step; findings: what must be known about reading it. */
export interface AskedStep {
  readonly engine: DayEngine;
  readonly step: Step;
  readonly named: Partial<Step>;
  readonly findings: readonly Finding[];
}

/** Every limit of one step over engine speed, for the page and the command line. */
export function encodeLimits(
  { id, facts }: { readonly id: string; readonly facts: DayFacts },
  { engine, step, named, findings }: AskedStep,
): LimitsView {
  const { model, from } = engine;
  const speeds = usualSpeeds(model);
  const prediction = foresightOf(model).predict(step, speeds);
  const limits = limitsAt(model, step, speeds);
  const judged = judgedSpeeds(model, step, speeds);
  const cooler = encodeCooler(model, step);
  return {
    day: id,
    dayTitle: facts.title,
    ...(facts.invented !== undefined && { invented: facts.invented }),
    step: stepSentence(step, from, named),
    ...(cooler && { cooler }),
    controls: stepControls(model, step, named),
    speed: [...speeds],
    limits: limits.map((limit) => encodeLimit(limit, judged)).sort(byUrgency),
    lines: encodeLines(prediction),
    values: [...model.values.values()].map(encodeValue),
    pulls: model.pulls,
    unknown: [...model.unknown, ...notJudged(speeds, judged, step)],
    findings: [...engine.findings, ...findings, ...aboveOutside(model, step)].map(plainFinding),
    cautions: [...CAUTIONS],
  };
}

/** What no number of this page can tell. @source common practice, no source */
const CAUTIONS = [
  'A margin is worked out for this engine as it is described; a hidden flaw of a part is not in it.',
  'Limits that cannot be told are not safe limits: they are unknown.',
  'Go up in small steps, look at plugs and logs after each, and stop when something differs from what was foretold.',
] as const;

function stepSentence(step: Step, from: string | undefined, named: Partial<Step>): string {
  const pressure = formatQuantity(step.manifoldPressure, 'absolute-pressure', { decimals: 0 });
  if (named.manifoldPressure !== undefined) return `${pressure}, as asked`;
  return from === undefined ? `${pressure}: the air outside, no pull tells more` : `${pressure}, as in entry ${from}`;
}

/** A pressure that an engine without a compressor cannot have is answered all the same, and said. */
function aboveOutside(model: EngineModel, step: Step): readonly Finding[] {
  const outside = step.ambientPressure ?? model.values.get('ambientPressure')?.value ?? Number.NaN;
  if (step.altitude !== undefined || !(step.manifoldPressure > highestPressure(model, outside))) return [];
  const asked = formatQuantity(step.manifoldPressure, 'absolute-pressure', { decimals: 0 });
  const message = `${asked} is more than the air outside, and this engine has no compressor: charge temperature and exhaust pressure are those without one`;
  return [{ kind: 'no-compressor', weight: 'doubt', message, numbers: { manifoldPressure: step.manifoldPressure } }];
}

/** Engine speeds that are left out of what is tightest. */
function notJudged(speeds: Float64Array, judged: readonly boolean[], step: Step): readonly string[] {
  const first = speeds[judged.indexOf(true)];
  if (judged[0] || first === undefined) return [];
  const pressure = formatQuantity(step.manifoldPressure, 'absolute-pressure', { decimals: 0 });
  return [`limits below ${formatQuantity(first, 'engine-speed')} at ${pressure}: no pull held such a pressure there`];
}

function encodeLimit(limit: Limit, judged: readonly boolean[]): LimitRow {
  const { name, subject, kind, why, applies, missing, assumed, source, kept, learnt } = limit;
  const at = tightestOf(limit, judged);
  return {
    ...{ name, subject, kind, source, title: limitTitle(name) },
    required: plainSamples(limit.required),
    requiredUncertainty: plainSamples(limit.requiredUncertainty),
    available: plainSamples(limit.available),
    availableUncertainty: plainSamples(limit.availableUncertainty),
    margin: plainSamples(limit.margin),
    marginUncertainty: plainSamples(limit.marginUncertainty),
    over: plainSamples(limit.over),
    ...(kept !== undefined && { kept }),
    ...(why !== undefined && { why: inWords(why) }),
    ...(applies === false && { applies }),
    ...(isUsual(assumed) && { usual: true as const }),
    missing: missing.map(inWords),
    assumed: assumed.map(inWords),
    unknown: unknownFacts(limit),
    ...(learnt !== undefined && { learnt: [...learnt] }),
    ...(at && { tightest: at }),
  };
}

/** The judged speed at which passing is likeliest, of several the one with the least margin. */
function tightestOf(
  { speed, margin, marginUncertainty, over }: Limit,
  judged: readonly boolean[],
): Tightest | undefined {
  let best = -1;
  over.forEach((chance, i) => {
    if (!judged[i] || Number.isNaN(chance) || !Number.isFinite(margin[i] ?? Number.NaN)) return;
    const [top = -1, least = Number.NaN] = [over[best], margin[best]];
    if (best < 0 || chance > top + 1e-9 || (Math.abs(chance - top) <= 1e-9 && (margin[i] ?? 0) < least)) best = i;
  });
  const [at, room, chance] = [speed[best], margin[best], over[best]];
  if (at === undefined || room === undefined || chance === undefined) return undefined;
  return {
    speed: at,
    margin: room,
    marginUncertainty: plainNumber(marginUncertainty[best] ?? Number.NaN),
    over: chance,
  };
}

/** Likeliest passed first, then the least margin; what cannot be told stands last. */
function byUrgency(one: LimitRow, other: LimitRow): number {
  if (!one.tightest || !other.tightest) return lateness(one) - lateness(other);
  const chance = other.tightest.over - one.tightest.over;
  return Math.abs(chance) > 0.005 ? chance : one.tightest.margin - other.tightest.margin;
}

function lateness({ tightest, applies }: LimitRow): number {
  return tightest ? 0 : applies === false ? 2 : 1;
}

function encodeLines({ lines }: Prediction): LimitsView['lines'] {
  return Object.entries(lines).map(([name, { kind, value, standardUncertainty }]) => ({
    ...{ name, kind },
    value: plainSamples(value),
    standardUncertainty: plainSamples(standardUncertainty),
  }));
}

function encodeValue({ name, kind, value, standardUncertainty, origin, source }: KnownValue): RestsOn {
  const fact = factOf(name);
  return {
    ...{ name, kind, origin, source, title: inWords(name) },
    value: plainNumber(value),
    standardUncertainty: plainNumber(standardUncertainty),
    ...(fact !== undefined && { fact }),
  };
}
