import type { QuantityKind } from '../../../core/quantities/index.ts';
import { coolerStateOf, type EngineModel, type Step } from '../../../day/plans/index.ts';
import type { StepControl } from '../../contract/index.ts';
import { plainNumber } from './plain.ts';

interface Control {
  readonly name: Exclude<keyof Step, 'fuel'>;
  readonly title: string;
  readonly word: string;
  readonly kind: QuantityKind;
  readonly low: number;
  readonly high: number;
  readonly increment: number;
  /** What the day had where the step is silent. */
  readonly usual: (model: EngineModel, pressure: number) => number;
  /** Which engines have it; absent: every one. */
  readonly of?: (model: EngineModel) => boolean;
}

const DEGREE = Math.PI / 180;
/** Engine speed at which habits of the day are shown beside a slider [rad/s]. @source our default: 5 000 rpm */
const MIDDLE = (5000 * Math.PI) / 30;

const known =
  (name: string) =>
  ({ values }: EngineModel): number =>
    values.get(name)?.value ?? Number.NaN;

function hasTank({ values }: EngineModel): boolean {
  return values.has('coolerWater');
}

/** What can be turned; spans are our default: what a person would think of. */
const CONTROLS: readonly Control[] = [
  {
    ...{ name: 'manifoldPressure', title: 'Manifold pressure', word: 'MAP', kind: 'absolute-pressure' },
    ...{ low: 80e3, high: 350e3, increment: 1e3 },
    usual: (_model, pressure) => pressure,
  },
  {
    ...{ name: 'timing', title: 'Timing against the day', word: 'timing', kind: 'angle' },
    ...{ low: -12 * DEGREE, high: 12 * DEGREE, increment: 0.5 * DEGREE },
    usual: () => 0,
  },
  {
    ...{ name: 'camPhase', title: 'Inlet cam phase', word: 'phase', kind: 'angle' },
    ...{ low: -30 * DEGREE, high: 30 * DEGREE, increment: 1 * DEGREE },
    usual: ({ habits }, pressure) => habits.camPhase(MIDDLE, pressure).value,
  },
  {
    ...{ name: 'lambda', title: 'Lambda', word: 'lambda', kind: 'lambda' },
    ...{ low: 0.65, high: 1.1, increment: 0.005 },
    usual: ({ habits }, pressure) => habits.lambda(MIDDLE, pressure).value,
  },
  {
    ...{ name: 'plugGap', title: 'Plug gap', word: 'gap', kind: 'length' },
    ...{ low: 0.3e-3, high: 1.2e-3, increment: 0.05e-3 },
    usual: known('plugGap'),
  },
  {
    ...{ name: 'dwell', title: 'Dwell', word: 'dwell', kind: 'pulse-width' },
    ...{ low: 1e-3, high: 7e-3, increment: 0.1e-3 },
    usual: known('dwell'),
  },
  {
    ...{ name: 'altitude', title: 'Altitude', word: 'altitude', kind: 'altitude' },
    ...{ low: 0, high: 4500, increment: 50 },
    usual: known('altitude'),
  },
  {
    ...{ name: 'ambientTemperature', title: 'Outside air', word: 'ambient', kind: 'temperature' },
    ...{ low: 253.15, high: 323.15, increment: 1 },
    usual: known('ambientTemperature'),
  },
  {
    ...{ name: 'strapForce', title: 'Straps', word: 'straps', kind: 'force' },
    ...{ low: 0, high: 12e3, increment: 100 },
    usual: known('strapForce'),
  },
  {
    ...{ name: 'overallRatio', title: 'Overall ratio of the gear', word: 'ratio', kind: 'ratio' },
    ...{ low: 1, high: 15, increment: 0.01 },
    usual: known('overallRatio'),
  },
  {
    ...{ name: 'soak', title: 'Heat in the charge cooler', word: 'soak', kind: 'temperature-difference' },
    ...{ low: -30, high: 40, increment: 1 },
    usual: (model, manifoldPressure) => coolerStateOf(model, { manifoldPressure })?.end.value ?? Number.NaN,
  },
  {
    ...{ name: 'water', title: 'Water of the charge cooler', word: 'water', kind: 'temperature' },
    ...{ low: 273.15, high: 333.15, increment: 1 },
    of: hasTank,
    usual: ({ values }) =>
      (values.get('coolerWaterTemperature') ?? values.get('ambientTemperature'))?.value ?? Number.NaN,
  },
  {
    ...{ name: 'ice', title: 'Ice in that water', word: 'ice', kind: 'mass' },
    ...{ low: 0, high: 20, increment: 0.5 },
    of: hasTank,
    usual: ({ values }) => values.get('coolerIce')?.value ?? 0,
  },
];

/** Everything that can be turned with the value in force. named: what the written step says; the rest is as on the day. */
export function stepControls(model: EngineModel, step: Step, named: Partial<Step>): StepControl[] {
  return CONTROLS.filter(({ of = () => true }) => of(model)).map(({ usual, of: _, name, low, high, ...control }) => {
    const value = step[name] ?? usual(model, step.manifoldPressure);
    return {
      ...control,
      name,
      value: plainNumber(value),
      named: named[name] !== undefined,
      low: Math.min(low, Number.isFinite(value) ? value : low),
      high: Math.max(high, Number.isFinite(value) ? value : high),
    };
  });
}
