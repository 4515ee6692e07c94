import type { Measured, QuantityKind } from '../../../core/quantities/index.ts';
import type { StopClass, Subject } from '../detector.ts';

/** Every kind of thing that the health of a day can find. */
export const HEALTH_FINDINGS = [
  'coast-force-rise',
  'engine-drag-rise',
  'stall',
  'oil-pressure-fall',
  'oil-pressure-low',
  'oil-too-hot',
  'crankcase-pressure-rise',
  'coolant-pressure-rise',
  'coolant-pressure-lost',
  'exhaust-temperature-rise',
  'exhaust-temperature-spread',
  'power-shortfall',
  'mechanical-distress-sign',
  'slow-trend',
] as const;

export type HealthFindingKind = (typeof HEALTH_FINDINGS)[number];

/** Under this name an entry's facts keep why a person overrules a finding of this kind at that entry. */
export type HealthDecision = `health.${HealthFindingKind}`;

/** One number that decided or explains, with its uncertainty and the limit it was held against. SI by `kind`. */
export interface HealthValue {
  readonly name: string;
  readonly value: Measured;
  readonly kind: QuantityKind;
  readonly limit?: number;
  readonly source: string;
}

/**
 * Something of the day's health that must be known. entry: where it shows; rests: all entries it was computed from.
 * why: a short reason, no advice. changed: changes and settings that differ between the compared entries and may be the cause.
 * overruled: a person's reason why it no longer counts; absent while it does.
 */
export interface HealthFinding {
  readonly kind: HealthFindingKind;
  readonly subject: Subject;
  readonly stopClass: StopClass;
  readonly entry: string;
  readonly rests: readonly string[];
  readonly values: readonly HealthValue[];
  readonly why: string;
  readonly changed: readonly string[];
  readonly overruled?: string;
}

/** A question that this day's data leave open, and what is missing. */
export interface HealthUnknown {
  readonly what: string;
  readonly entries: readonly string[];
  readonly why: string;
}

/** A part of the health of a day. */
export interface HealthPart {
  readonly findings: readonly HealthFinding[];
  readonly unknown: readonly HealthUnknown[];
}

/** A number held against a threshold. */
export function heldValue(
  name: string,
  value: Measured,
  against: { readonly kind: QuantityKind; readonly value?: number; readonly source: string },
): HealthValue {
  const { kind, value: limit, source } = against;
  return { name, value, kind, source, ...(limit === undefined ? {} : { limit }) };
}

/** Value over its standard uncertainty; 0 for nothing over nothing. */
export function deviations({ value, standardUncertainty }: Measured): number {
  return value === 0 ? 0 : value / standardUncertainty;
}
