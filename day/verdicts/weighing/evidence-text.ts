import type { Detection, Fault } from '../detector.ts';
import type { Evidence } from '../verdict.ts';
import { believedWeight, type ItemName, type Items, type WeighingModel } from './model.ts';
import { answered } from './posterior.ts';
import { QUESTIONS, type QuestionName } from './questions.ts';

/** Weights below this are not worth a line; what is not known is named when it could have weighed this much. @source our default */
const SMALLEST = 0.1;
const COULD_MATTER = 0.7;

/** What spoke for a fault and against it, the strongest first, then what could have spoken and is not known, with weight 0. */
export function evidenceFor(
  fault: Fault,
  items: Items,
  { model, candidates }: { readonly model: WeighingModel; readonly candidates: readonly Pick<Detection, 'fault'>[] },
): readonly Evidence[] {
  const spoke = answered(items)
    .map(({ item, answer }) => ({
      what: words(item, answer),
      weight: believedWeight(model, item, { cause: fault, answer }),
    }))
    .filter(({ weight }) => Math.abs(weight) >= SMALLEST)
    .sort((one, other) => Math.abs(other.weight) - Math.abs(one.weight));
  const possible: readonly ItemName[] = [
    ...Object.keys(QUESTIONS).filter(isQuestion),
    ...candidates.map((one): ItemName => `said:${one.fault}`),
  ];
  const unknown = possible.filter((item) => items[item] === undefined && couldWeigh(model, item, fault));
  return [...spoke, ...unknown.map((item) => ({ what: `not known: ${subjectOf(item)}`, weight: 0 }))];
}

function couldWeigh(model: WeighingModel, item: ItemName, fault: Fault): boolean {
  const answers = Object.keys(model.weights[item]?.[fault] ?? {});
  return answers.some((answer) => Math.abs(believedWeight(model, item, { cause: fault, answer })) >= COULD_MATTER);
}

function isQuestion(name: string): name is QuestionName {
  return name in QUESTIONS;
}

/** A fault as words that follow `signs of`. */
export function plainName(fault: string): string {
  return NAMES[fault] ?? fault.replaceAll('-', ' ');
}

/** Where the short name of a fault says too little. */
const NAMES: Readonly<Record<string, string>> = {
  'spark-energy': 'too little energy from the coil',
  'lost-sync': 'a lost crank signal',
  'rev-or-torque-cut': 'a rev limiter or torque cut',
  'fuel-pressure-drop': 'falling fuel pressure',
  'injector-saturation': 'fully open injectors',
  'boost-oscillation': 'swinging boost',
  'boost-droop': 'boost falling off',
  'charge-heat-soak': 'a heat-soaked charge cooler',
  'head-lift': 'a lifting cylinder head',
  'cam-not-tracking': 'a cam phase off its target',
  'oil-pressure-low': 'low oil pressure',
  'crankcase-pressure': 'rising crankcase pressure',
  'driveline-loss-rising': 'a rising driveline loss',
  'power-shortfall': 'missing power',
  'stuck-channel': 'a stuck channel',
  'saturated-channel': 'a channel at the end of its range',
  dropout: 'a channel dropping out',
  'lagging-channel': 'a slow channel',
  'clock-fault': 'a clock that jumped or stopped',
  'ambient-probe': 'an air probe not reading the room’s air',
};

function words(item: ItemName, answer: string): string {
  if (isQuestion(item)) return answersOf(item)[answer] ?? `${item}: ${answer}`;
  const fault = plainName(item.slice('said:'.length));
  return answer === 'no' ? `no sign of ${fault}` : `${answer} signs of ${fault}`;
}

function answersOf(name: QuestionName): Readonly<Record<string, string>> {
  return QUESTIONS[name].answers;
}

function subjectOf(item: ItemName): string {
  if (!isQuestion(item)) return `whether there are signs of ${plainName(item.slice('said:'.length))}`;
  return `whether ${Object.values(answersOf(item)).slice(0, 2).join(', or ')}`;
}
