import { type Finding, parseQuantity } from '../../core/quantities/index.ts';
import type { DayFacts } from '../pulls/index.ts';
import { type Limits, limitsWith, THRESHOLDS, type ThresholdName, thresholdNames } from './thresholds.ts';

/** Thresholds in force on a day: ours, then those of the engine, then those of the day. What cannot be read is a finding, and the former value stays. */
export function dayLimits(facts: Pick<DayFacts, 'thresholds' | 'engineThresholds'>): {
  readonly limits: Limits;
  readonly findings: readonly Finding[];
} {
  const set: Partial<Record<ThresholdName, number>> = {};
  const findings: Finding[] = [];
  for (const written of [facts.engineThresholds ?? {}, facts.thresholds ?? {}]) {
    for (const [name, text] of Object.entries(written)) {
      const known = thresholdNames().find((one) => one === name);
      const read = known && parseQuantity(text, THRESHOLDS[known].kind);
      if (known && read?.ok) set[known] = read.value.value;
      else findings.push(unread(name, text, read?.ok === false ? read.refusal.message : undefined));
    }
  }
  return { limits: limitsWith(set), findings };
}

function unread(name: string, text: string, why: string | undefined): Finding {
  const message = why === undefined ? `unknown threshold: ${name}` : `threshold ${name}: ${why}; the default stays`;
  return { kind: 'threshold-not-read', weight: 'doubt', message, numbers: { name, value: text } };
}
