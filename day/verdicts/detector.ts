import type { QuantityKind } from '../../core/quantities/index.ts';
import type { Meaning } from '../channels/index.ts';
import type { Fault, StopClass, Subject, Voids } from './fault.ts';
import { missingOf, type PullScene, speedsAt } from './scene/scene.ts';
import type { Limits, ThresholdName } from './thresholds.ts';

export type { Fault, StopClass, Subject, Voids } from './fault.ts';

/** Where it was seen: [s] on the record's clock; lowest and highest engine speed in it [rad/s], NaN when unknown. */
export interface FaultWindow {
  readonly from: number;
  readonly to: number;
  readonly lowSpeed: number;
  readonly highSpeed: number;
}

/** One number that spoke, with the limit it was held against. threshold: undefined when it only informs. SI by `kind`. */
export interface Feature {
  readonly name: string;
  readonly value: number;
  readonly threshold: number | undefined;
  readonly kind: QuantityKind;
  readonly source: string;
}

/**
 * What one detector found in one pull.
 * answer: `cannot tell` when needed channels, references or rates are missing; `why` then says which.
 * strength: 0 … 1, how surely the signature is this fault's; it is no probability.
 * voids: what cannot be used in the windows: the power, only the channel that is named, or nothing.
 */
export interface Detection {
  readonly fault: Fault;
  readonly subject: Subject;
  readonly answer: 'seen' | 'not seen' | 'cannot tell';
  readonly why?: string;
  readonly windows: readonly FaultWindow[];
  readonly features: readonly Feature[];
  readonly strength: number;
  readonly stopClass: StopClass;
  readonly voids: Voids;
  /** Channel that is at fault, by its name in the log. */
  readonly channel?: string;
  readonly lookAlikes: readonly Fault[];
  readonly needs: readonly Meaning[];
  readonly missing: readonly Meaning[];
}

/** The one shape of all detectors. needs: channels without which there is no answer. */
export interface Detector {
  readonly fault: Fault;
  readonly subject: Subject;
  readonly needs: readonly Meaning[];
  /** Channels without which it can look, but part of the fault stays hidden. */
  readonly sharper?: readonly Meaning[];
  readonly lookAlikes: readonly Fault[];
  /** What was seen, nothing, or why it cannot be told. Called only when every needed channel is there. */
  readonly look: (scene: PullScene, limits: Limits) => Seen | Unseen | Untold;
}

export interface Seen {
  readonly windows: readonly FaultWindow[];
  readonly features: readonly Feature[];
  readonly strength: number;
  readonly stopClass: StopClass;
  /** Default: nothing. */
  readonly voids?: Voids;
  readonly channel?: string;
  /** Faults that are judged by what lies here, besides the detector's own look-alikes. */
  readonly lookAlikes?: readonly Fault[];
}

/** Looked, and it is not there; features: what came nearest. */
export interface Unseen {
  readonly features: readonly Feature[];
}

export interface Untold {
  readonly why: string;
  readonly missing?: readonly Meaning[];
}

/** Runs one detector on one pull. */
export function detect(detector: Detector, scene: PullScene, limits: Limits): Detection {
  const { fault, subject, needs, lookAlikes } = detector;
  const nothing = { windows: [], features: [], strength: 0, stopClass: 0, voids: 'nothing' } as const;
  const base = { fault, subject, needs, lookAlikes, ...nothing, missing: missingOf(scene, needs) };
  if (base.missing.length > 0) {
    return { ...base, answer: 'cannot tell', why: `missing ${base.missing.join(', ')}` };
  }
  const found = detector.look(scene, limits);
  if ('why' in found) return { ...base, answer: 'cannot tell', why: found.why, missing: found.missing ?? [] };
  if (!('windows' in found)) return { ...base, answer: 'not seen', features: found.features };
  const strength = Math.max(0, Math.min(1, found.strength));
  return { ...base, ...found, answer: 'seen', strength, lookAlikes: [...lookAlikes, ...(found.lookAlikes ?? [])] };
}

/** A feature held against a threshold. */
export function against(limits: Limits, name: ThresholdName, value: number): Feature {
  const { value: threshold, kind, source } = limits[name];
  return { name, value, threshold, kind, source };
}

/** A feature that only informs. */
export function informs(name: string, value: number, kind: QuantityKind): Feature {
  return { name, value, threshold: undefined, kind, source: 'measured in this pull' };
}

/** Stretches of time [s] in which a condition holds, as windows with their engine speeds. */
export function windowsWhere(
  scene: PullScene,
  { times, holds, shortest, join = 0 }: WindowInput,
): readonly FaultWindow[] {
  const step = times.length > 1 ? times[1] - times[0] : 0;
  const spans: { from: number; to: number }[] = [];
  for (let i = 0; i < times.length; i++) {
    if (!holds(i)) continue;
    const last = spans[spans.length - 1];
    if (last && times[i] - last.to <= 1.5 * step + join) last.to = times[i];
    else spans.push({ from: times[i], to: times[i] });
  }
  return spans.filter(({ from, to }) => to - from + step >= shortest).map((span) => windowOf(scene, span));
}

export interface WindowInput {
  readonly times: Float64Array;
  readonly holds: (index: number) => boolean;
  /** [s] */
  readonly shortest: number;
  /** Interruptions up to this are joined [s]. */
  readonly join?: number;
}

/** A window from its times, with the lowest and highest engine speed in it. */
export function windowOf(scene: PullScene, { from, to }: { from: number; to: number }): FaultWindow {
  const at = Float64Array.from({ length: 41 }, (_, k) => from + ((to - from) * k) / 40);
  const speeds = [...speedsAt(scene, at)].filter(Number.isFinite);
  if (speeds.length === 0) return { from, to, lowSpeed: Number.NaN, highSpeed: Number.NaN };
  return { from, to, lowSpeed: Math.min(...speeds), highSpeed: Math.max(...speeds) };
}

/** Strength that is `least` at the threshold and grows to `most` at three times the threshold. */
export function strengthOf(ratio: number, least = 0.5, most = 0.95): number {
  return least + (most - least) * Math.max(0, Math.min(1, (ratio - 1) / 2));
}

/** True when a time lies in one of the windows, or within `near` s of one. */
export function within(
  windows: readonly { readonly from: number; readonly to: number }[],
  time: number,
  near = 0,
): boolean {
  return windows.some(({ from, to }) => time >= from - near && time <= to + near);
}
