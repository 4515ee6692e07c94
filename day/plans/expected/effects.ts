import type { PullState } from '../../verdicts/index.ts';
import type { Habits } from '../model/engine-model.ts';
import { camPhase } from '../model/settings.ts';
import type { PullPoint } from './pull-points.ts';

/** What acts on torque beside the numbers of the engine: features of one point, each with unit prior spread, by name. */
export type Features = ReadonlyMap<string, number>;

/** Something that a person set, as it may act on torque. name: `setting: value`. */
export interface SetEffect {
  readonly name: string;
  /** Names of the features that it has; those of a number are shared by all its values. */
  readonly features: readonly string[];
}

/**
 * What a setting may do to torque at equal manifold pressure, charge temperature, timing and mixture [1], where nothing but its name is known.
 *
 * @source our defaults: a filter or cleaner acts through exhaust pressure alone, 1 %; plug gap and fuel pressure at equal mixture hardly; what nobody can guess 2 %
 */
const SPREADS: readonly { readonly words: RegExp; readonly share: number }[] = [
  { words: /filter|clean|snorkel|inlet|intake|air ?box/i, share: 0.01 },
  { words: /gap|plug|dwell|coil/i, share: 0.003 },
  { words: /fuel.*pressure|rail/i, share: 0.003 },
  { words: /strap|tyre|ballast|tension/i, share: 0.007 },
];
const UNKNOWN = 0.02;
/** Settings that channels show, or that are read as numbers: the engine itself allows for them, with what it may have wrong. */
const SHOWN: readonly { readonly words: RegExp; readonly features: readonly string[] }[] = [
  { words: /\b(map|boost|manifold)\b/i, features: [] },
  { words: /\b(timing|ignition|advance|spark)\b/i, features: ['timing'] },
  { words: /\b(lambda|mixture)\b/i, features: ['lambda'] },
];

/** Largest spread of a pull's speeds about this share of the redline makes the slope of an effect [1]. @source our default */
const MIDDLE = 0.7;
const REACH = 0.3;

/** Effects of a pull's settings against the first that were stated today. */
export function setEffects({ entry }: PullState, first: ReadonlyMap<string, string>): readonly SetEffect[] {
  return Object.entries(entry.facts.settings).flatMap(([key, value]): SetEffect[] => {
    const name = `${key}: ${value}`;
    const shown = SHOWN.find(({ words }) => words.test(key));
    if (camPhase({ [key]: value }) !== undefined) return [{ name, features: PHASE_FEATURES }];
    if (first.get(key) === value || shown?.features.length === 0) return [];
    return [{ name, features: shown?.features ?? [name, `${name} over speed`] }];
  });
}

/**
 * What the moved closing of the inlet does by itself in the cycle, as uncertain as it is large: waves in the intake may undo all of it.
 *
 * @source our default
 */
export const CLOSING = 'closing of the inlet';

/** Cam phase acts through the closing angle, and on filling: per radian, per radian over speed, per square radian. */
export const PHASE_FEATURES: readonly string[] = [CLOSING, 'phaseEffect', 'phaseSlope', 'phaseBend'];

/** Features of the settings at a point; redline [rad/s]. */
export function settingFeatures(effects: readonly SetEffect[], { speed }: PullPoint, redline: number): Features {
  const found = new Map<string, number>();
  const along = (speed / redline - MIDDLE) / REACH;
  for (const { name, features } of effects) {
    if (features[0] !== name) continue;
    const share = SPREADS.find(({ words }) => words.test(name.slice(0, name.indexOf(':'))))?.share ?? UNKNOWN;
    found.set(name, share);
    found.set(`${name} over speed`, share * along);
  }
  return found;
}

/**
 * How far the engine's own sensitivities may be off, beside its numbers: torque by charge temperature, timing and mixture, relative per unit.
 *
 * @source our defaults: a fifth of the usual slope of charge temperature; 0.8 % per degree of timing, as between best timing and 9° late; 0.5 % per
 * 0.05 of lambda
 */
const OFF = { temperature: 0.0006, timing: 0.45, lambda: 0.1 } as const;

/** State that others are counted from. late: timing on top of the usual one at the same speed and pressure [rad]. */
export interface UsualState {
  readonly temperature: number;
  readonly late: number;
  readonly lambda: number;
}

/** Mean state of a pull. */
export function meanState(points: readonly PullPoint[], habits: Habits): UsualState {
  const mean = (of: (point: PullPoint) => number): number =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  return {
    temperature: mean(temperatureOf),
    late: mean((point) => beyondUsual(point, habits)),
    lambda: mean(({ query }) => query.lambda),
  };
}

/** What a point's state may do beyond what the engine says, about that state. */
export function stateFeatures(
  point: PullPoint,
  { usual, habits }: { readonly usual: UsualState; readonly habits: Habits },
): Features {
  return new Map([
    ['charge temperature', OFF.temperature * (temperatureOf(point) - usual.temperature)],
    ['timing', OFF.timing * (beyondUsual(point, habits) - usual.late)],
    ['lambda', OFF.lambda * (point.query.lambda - usual.lambda)],
  ]);
}

function beyondUsual({ query, speed, pressure }: PullPoint, habits: Habits): number {
  return query.timing - habits.timing(speed, pressure).value;
}

/** Where it is not logged the scatter of a pull stands for it. @source our default for the level: 50 °C */
function temperatureOf({ query }: PullPoint): number {
  return query.chargeTemperature ?? 323;
}
