import { type Finding, parseQuantity } from '../../core/quantities/index.ts';
import type { DayFacts } from '../pulls/index.ts';
import {
  HEALTH_THRESHOLDS,
  type HealthLimits,
  type HealthThresholdName,
  healthLimitsWith,
} from './health/thresholds.ts';
import { type Limits, limitsWith, THRESHOLDS, type Threshold, type ThresholdName } from './thresholds.ts';

/** Every number that a person can set: those of the detectors, and those of the day's health, whose names begin with `health.` */
export type SettableName = ThresholdName | `health.${HealthThresholdName}`;

/** All of them with our values. */
export const SETTABLE: Readonly<Record<string, Threshold>> = {
  ...THRESHOLDS,
  ...Object.fromEntries(Object.entries(HEALTH_THRESHOLDS).map(([name, threshold]) => [`health.${name}`, threshold])),
};

/** What is in force on a day. findings: what was written and cannot be read. */
export interface DayLimits {
  readonly limits: Limits;
  readonly health: HealthLimits;
  readonly findings: readonly Finding[];
}

/** Thresholds in force on a day: ours, then those of the engine, then those of the day. What cannot be read is a finding, and the former value stays. */
export function dayLimits(facts: Pick<DayFacts, 'thresholds' | 'engineThresholds'>): DayLimits {
  const set: Record<string, number> = {};
  const findings: Finding[] = [];
  for (const written of [facts.engineThresholds ?? {}, facts.thresholds ?? {}]) {
    for (const [name, text] of Object.entries(written)) {
      const read = isSettable(name) ? parseQuantity(text, SETTABLE[name].kind) : undefined;
      if (read?.ok) set[name] = read.value.value;
      else findings.push(unread(name, text, read?.refusal.message));
    }
  }
  const ofHealth = Object.entries(set).flatMap(([name, value]) =>
    name.startsWith('health.') ? [[name.slice('health.'.length), value]] : [],
  );
  return { limits: limitsWith(set), health: healthLimitsWith(Object.fromEntries(ofHealth)), findings };
}

/** True for the name of a number that a person can set. */
export function isSettable(name: string): name is SettableName {
  return Object.hasOwn(SETTABLE, name);
}

/** The same numbers by the names under which a person sets them. */
export function inForce({ limits, health }: Pick<DayLimits, 'limits' | 'health'>): Readonly<Record<string, Threshold>> {
  const ofHealth = Object.entries(health).map(([name, threshold]) => [`health.${name}`, threshold]);
  return { ...limits, ...Object.fromEntries(ofHealth) };
}

function unread(name: string, text: string, why: string | undefined): Finding {
  const message = why === undefined ? `unknown threshold: ${name}` : `threshold ${name}: ${why}; the default stays`;
  return { kind: 'threshold-not-read', weight: 'doubt', message, numbers: { name, value: text } };
}
