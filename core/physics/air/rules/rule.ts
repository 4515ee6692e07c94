import type { AbsolutePressure, Outcome, Power, Ratio, Temperature } from '../../../quantities/index.ts';

/** Names under which the rules are known throughout. */
export type AmbientRuleId =
  | 'none'
  | 'temperature only'
  | 'SAE J1349'
  | 'SAE J1349 measured friction'
  | 'ISO 1585 spark'
  | 'ISO 1585 compression'
  | 'EU 134/2014 spark'
  | 'DIN 70020'
  | 'SAE J607';

/** What is known of the engine, as far as a rule may ask for it. Absent is unknown. */
export interface RuleEngine {
  readonly ignition?: 'spark' | 'compression';
  readonly charging?: 'natural' | 'mechanical' | 'turbo';
  /** What the control holds: absolute manifold pressure, boost above ambient, or nothing. */
  readonly boostControl?: 'absolute' | 'gauge' | 'none' | 'unknown';
  /** Corrected fuel per cycle and displaced volume, q/r [kg/m³]: 50 mg/(L·cycle) is 0.050 kg/m³. */
  readonly correctedFuel?: number;
  /** Which published limits of the engine factor are used; default `regulation`. */
  readonly engineFactorBand?: EngineFactorBand;
  /** Observed brake power and measured friction power, for the rule that needs them [W]. */
  readonly observedPower?: Power;
  readonly frictionPower?: Power;
}

export type EngineFactorBand = 'regulation' | 'service manual';

/** Air at the engine's inlet. pressure is barometric, total; vapourPressure its water-vapour part. */
export interface AmbientState {
  readonly temperature: Temperature;
  readonly pressure: AbsolutePressure;
  readonly vapourPressure?: AbsolutePressure;
}

export interface RuleInput {
  readonly ambient: AmbientState;
  readonly engine?: RuleEngine;
}

/** Inclusive limits with where they come from. Temperatures in K, pressures in Pa, factors plain. */
export interface RuleWindow {
  readonly low: number;
  readonly high: number;
  /** Limits themselves are allowed (`closed`) or not (`open`). */
  readonly ends: 'closed' | 'open';
  readonly source: string;
}

/** What a rule itself, or a text about it, says of an engine that breathes under pressure. */
export interface BoostClaim {
  readonly boostedSpark: 'claimed' | 'excluded' | 'not stated';
  readonly source: string;
}

/**
 * A rule that relates power measured in one air to power in a reference air.
 * pressureBasis: which pressure counts. powerOfPressure: whether the factor holds a pressure term at all.
 */
export interface AmbientRule {
  readonly id: AmbientRuleId;
  readonly edition: string;
  readonly formula: string;
  readonly source: string;
  readonly status: 'seen in a secondary source' | 'from memory' | 'our default';
  readonly ignition: 'spark' | 'compression' | 'both';
  readonly pressureBasis: 'dry' | 'total' | 'none';
  readonly reference: { readonly pressure?: AbsolutePressure; readonly temperature?: Temperature };
  readonly windows: {
    readonly temperature?: RuleWindow;
    readonly pressure?: RuleWindow;
    readonly factor?: RuleWindow;
  };
  readonly boost: BoostClaim;
  /** Factor that multiplies observed power, with everything that must be known about it. */
  readonly factor: (input: RuleInput) => Outcome<RuleFactor>;
}

/**
 * withinLimits: every window of the rule holds. suitsEngine: the rule claims this kind of engine. valid: both.
 * why: short reasons with their numbers, why it is not valid or what must be asked; used: the numbers that entered, SI.
 */
export interface RuleFactor {
  readonly rule: AmbientRuleId;
  readonly factor: Ratio;
  readonly valid: boolean;
  readonly withinLimits: boolean;
  readonly suitsEngine: boolean;
  readonly why: readonly string[];
  readonly used: Readonly<Record<string, number>>;
}
