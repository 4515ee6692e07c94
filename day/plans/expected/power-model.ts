import type { CompressorMap } from '../../../core/physics/index.ts';
import { measured } from '../../../core/quantities/index.ts';
import { type DayFacts, keptStep, type StepMemory } from '../../pulls/index.ts';
import type { PowerPrediction, Predict, PullState } from '../../verdicts/index.ts';
import type { EngineModel } from '../model/engine-model.ts';
import { numbersOf } from '../model/numbers.ts';
import type { Numbers } from '../model/operating-point.ts';
import { parametersOf } from '../model/parameters.ts';
import { priorModel } from '../model/prior-model.ts';
import { meanState, type SetEffect, setEffects, settingFeatures, stateFeatures, type UsualState } from './effects.ts';
import { type Learnt, learntFrom, type Row, type Scatter } from './expectation.ts';
import { type Linearised, type PointSlopes, pointSlopes } from './point-slopes.ts';
import { type PullPoints, pullPoints } from './pull-points.ts';

/** What the engine is known by before any pull. */
export interface PowerModelInput {
  readonly facts: DayFacts;
  readonly map?: CompressorMap | undefined;
  /** Keeps the slopes of pulls of which nothing changed. */
  readonly memory?: StepMemory | undefined;
}

/**
 * Expected power by the day's engine as the clean pulls before a pull taught it: its stated parts and usual numbers, moved by those pulls alone.
 *
 * The cycle is worked out about two engines only: the prior one for the first pulls, and the one that these taught for all pulls. What later
 * pulls teach is added by slopes, so that a pull costs its own slopes and no calibration.
 *
 * @valid  torque at the crank known, with a coast-down; the first `shortfall.model-pulls` clean pulls before it
 */
export function powerModel({ facts, map, memory }: PowerModelInput): Predict {
  const engine = engineBefore({ facts, map }, memory);
  const seen = new Map<PullState, PullPoints | { readonly why: string }>();
  return (question) => {
    const { pull, earlier, limits } = question;
    const least = limits['shortfall.model-pulls'].value;
    if (earlier.length < least) return { why: `${earlier.length} clean pulls before, ${least} needed to teach it` };
    const pointsOf = (one: PullState): PullPoints | { readonly why: string } => {
      const known = seen.get(one) ?? asBefore(pullPoints(one, question, engine.model.habits), memory);
      seen.set(one, known);
      return known;
    };
    const own = pointsOf(pull);
    if ('why' in own) return own;
    const known = earlier.flatMap((one) => {
      const points = pointsOf(one);
      return 'why' in points ? [] : [points];
    });
    if (known.length < least) return { why: `torque at the crank is known in ${known.length} clean pulls before` };
    const scatter = { repeat: limits['power.repeat'].value, wander: limits['power.wander'].value };
    return expectation({ engine, own, known, scatter, least, memory }, memory);
  };
}

/** The engine before any pull, and its parameters. */
interface EngineBefore {
  readonly model: EngineModel;
  readonly prior: Linearised;
}

const engineBefore = keptStep(
  ({ facts, map }: Omit<PowerModelInput, 'memory'>): EngineBefore => {
    const model = priorModel(facts, map);
    const parameters = parametersOf(model.values);
    const numbers = numbersOf({ values: model.values, parameters: [] });
    const { engine, gas } = model;
    const parts = { engine, gas, map, boosted: model.boosted ?? false };
    return { model, prior: { parts, parameters, numbers, key: JSON.stringify(numbers) } };
  },
  ({ facts: { entries: _, ...day }, map }) => JSON.stringify([day, map]),
);

/** The same thing for the same points, so that what rests on it is found again. */
const asBefore = keptStep(
  (points: ReturnType<typeof pullPoints>) => points,
  (points) => {
    if ('why' in points) return points.why;
    const { pull, steps, points: asked } = points;
    const made = steps.map(({ step, torque, pressure, atRolls }) => [
      step,
      torque,
      pressure,
      atRolls(0),
      atRolls(torque),
    ]);
    return JSON.stringify([pull.key, pull.entry.order, pull.entry.facts.settings, made, asked]);
  },
);

interface Expectation {
  readonly engine: EngineBefore;
  readonly own: PullPoints;
  readonly known: readonly PullPoints[];
  readonly scatter: Scatter;
  /** Pulls about which slopes are taken. */
  readonly least: number;
  readonly memory: StepMemory | undefined;
}

/** What is expected of one pull by those before it; kept while none of them changes. */
const expectation = keptStep(
  ({ engine, own, known, scatter, least, memory }: Expectation): ReturnType<Predict> => {
    const first = firstSettings(known);
    const usual = meanState(known[0].points, engine.model.habits);
    const rowsAbout = (at: Linearised) => (one: PullPoints) => rowsOf(one, { at, engine, first, usual, memory });
    const taught = taughtBy(known.slice(0, least).flatMap(rowsAbout(engine.prior)), { engine, scatter });
    if (!taught) return { why: 'the cycle has no answer at the state of the first pulls' };
    const learnt = learntFrom(known.flatMap(rowsAbout(taught)), scatter);
    return predicted({ own, rows: rowsAbout(taught)(own), learnt, known, first });
  },
  ({ engine, own, known, scatter, least }, nameOf) =>
    JSON.stringify([nameOf(engine), nameOf(own), known.map(nameOf), scatter, least]),
);

/** First value of each setting of the day. */
function firstSettings(known: readonly PullPoints[]): ReadonlyMap<string, string> {
  const first = new Map<string, string>();
  for (const { pull } of known) {
    for (const [key, value] of Object.entries(pull.entry.facts.settings)) if (!first.has(key)) first.set(key, value);
  }
  return first;
}

interface About {
  readonly at: Linearised;
  readonly engine: EngineBefore;
  readonly first: ReadonlyMap<string, string>;
  readonly usual: UsualState;
  readonly memory: StepMemory | undefined;
}

function rowsOf({ pull, points }: PullPoints, { at, engine, first, usual, memory }: About): readonly Row[] {
  const slopes = pointSlopes({ at, points }, memory);
  const effects = setEffects(pull, first);
  const { redline } = at.numbers;
  return points.flatMap((point, i) => {
    const found = slopes[i];
    if (!found) return [];
    return [
      {
        ...{ pull: pull.key, order: pull.entry.order, share: point.speed / redline, pressure: point.pressure },
        ...{ unlogged: point.unlogged, residual: Math.log(point.torque) - aboutPrior(found, at, engine) },
        features: new Map([
          ...found.slopes,
          ...stateFeatures(point, { usual, habits: engine.model.habits }),
          ...settingFeatures(effects, point, redline),
        ]),
      },
    ];
  });
}

/** What the prior engine would give by the slopes about another one: beliefs are counted from the prior. */
function aboutPrior(
  { logTorque, slopes }: PointSlopes,
  { numbers, parameters }: Linearised,
  { prior }: EngineBefore,
): number {
  let back = logTorque;
  for (const { name, spread } of parameters) {
    back += ((slopes.get(name) ?? 0) * (prior.numbers[name] - numbers[name])) / spread;
  }
  return back;
}

/** The engine as the first clean pulls taught it: later slopes are taken about it. */
function taughtBy(
  rows: readonly Row[],
  { engine, scatter }: { readonly engine: EngineBefore; readonly scatter: Scatter },
): Linearised | undefined {
  const learnt = rows.length > 0 ? learntFrom(rows, scatter) : undefined;
  if (!learnt) return undefined;
  const { prior } = engine;
  const moved: Record<string, number> = {};
  for (const { name, spread, low, high } of prior.parameters) {
    moved[name] = Math.min(high, Math.max(low, prior.numbers[name] + spread * learnt.shift(name)));
  }
  const numbers: Numbers = { ...prior.numbers, ...moved };
  return { ...prior, numbers, key: JSON.stringify(numbers) };
}

interface Found {
  readonly own: PullPoints;
  readonly rows: readonly Row[];
  readonly learnt: Learnt | undefined;
  readonly known: readonly PullPoints[];
  readonly first: ReadonlyMap<string, string>;
}

function predicted({ own, rows, learnt, known, first }: Found): PowerPrediction | { readonly why: string } {
  if (!learnt || rows.length < own.points.length) return { why: 'the cycle has no answer at the state of this pull' };
  const away = learnt.expected(rows);
  const torques = own.points.map(({ torque }, i) => torque * Math.exp(away[i] - rows[i].residual));
  const power = new Map(
    own.steps.map((step) => [step.step, step.atRolls(step.pressure * perPressure(own, torques, step.speed))]),
  );
  return {
    ...{ power, uncertainty: learnt.uncertainty(rows), rests: known.map(({ pull }) => pull.entry.id) },
    origin: `an engine model and the ${known.length} earlier clean pulls that taught it`,
    remarks: own.unlogged.map((meaning) => `not at equal ${meaning}: no channel`),
    notSeen: notSeen(own.pull, { known, first }).map(({ name, features }) => ({
      setting: name,
      effect: measured(0, learnt.uncertainty(rows, new Set(features))),
    })),
  };
}

/** Torque over manifold pressure at an engine speed, straight between the points [N·m/Pa]. */
function perPressure({ points }: PullPoints, torques: readonly number[], speed: number): number {
  let k = 1;
  while (k < points.length - 1 && points[k].speed < speed) k += 1;
  const [a, b] = [points[k - 1], points[k]];
  const part = (speed - a.speed) / (b.speed - a.speed);
  return ((1 - part) * torques[k - 1]) / a.pressure + (part * torques[k]) / b.pressure;
}

/** Settings that fewer pulls had do not yet tell what they do. @source our default, as for the sensitivities */
const SEEN = 2;

function notSeen(pull: PullState, { known, first }: Pick<Found, 'known' | 'first'>): readonly SetEffect[] {
  return setEffects(pull, first).filter(({ name }) => {
    const had = known.filter((one) => setEffects(one.pull, first).some((effect) => effect.name === name));
    return had.length < SEEN && !isFirst(name, first);
  });
}

function isFirst(name: string, first: ReadonlyMap<string, string>): boolean {
  return [...first].some(([key, value]) => name === `${key}: ${value}`);
}
