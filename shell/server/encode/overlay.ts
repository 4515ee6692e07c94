import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { AmbientRuleName, DayFacts, EntryResult, PowerCurve, PullResult } from '../../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../../day/reports/index.ts';
import type { OverlayCurve, OverlayQuery, OverlayView } from '../../contract/index.ts';
import { plainNumber, plainSamples } from './plain.ts';
import type { PowerChannels } from './power-channels.ts';
import { pullStanding } from './standing.ts';

const MOST_CURVES = 60;

interface Chosen {
  readonly entry: EntryReport;
  readonly result: EntryResult;
  readonly pull: PullResult;
  readonly at: number;
}

/** Several pulls under one ambient rule. Refused when the pulls stand under different rules and none was chosen for all, or when one has no factor. */
export function encodeOverlay(
  { day, query, channels }: { day: string; query: OverlayQuery; channels: PowerChannels },
  { facts, entries }: DayReport,
): Outcome<OverlayView> {
  const wanted = query.entries
    ?.split(',')
    .filter((id) => id !== '')
    .map(decodedId);
  const unknown = wanted?.find((id) => !entries.some((entry) => entry.facts.id === id));
  if (unknown !== undefined) return refused({ kind: 'unknown-entry', message: `unknown entry: ${unknown}` });
  const asked = entries.filter((entry) => (wanted ? wanted.includes(entry.facts.id) : entry.facts.kind === 'pull'));
  const chosen = asked.flatMap(drawable);
  if (chosen.length > MOST_CURVES) return tooMany(chosen.length);
  const rule = commonRule(chosen, query.rule);
  if (!rule.ok) return rule;
  const of = query.of ?? commonPower(chosen);
  const refusal = unusable(chosen, rule.value, of);
  if (refusal) return refusal;
  return answered({
    ...heading(day, facts),
    ...{ rule: rule.value, of },
    curves: chosen.map((one) => overlayCurve(one, { rule: rule.value, of, channels })),
    left: asked
      .filter((entry) => drawable(entry).length === 0)
      .map((entry) => ({ entry: entry.facts.id, why: whyLeft(entry) })),
  });
}

function heading(day: string, { title, invented }: DayFacts) {
  return { day, dayTitle: title, ...(invented !== undefined && { invented }) };
}

function drawable(entry: EntryReport): readonly Chosen[] {
  const { result } = entry;
  if (!result) return [];
  return result.pulls
    .map((pull, at) => ({ entry, result, pull, at }))
    .filter(({ pull }) => !pull.refusal && (hasNumber(pull.curve.rollPower) || hasNumber(pull.curve.enginePower)));
}

function commonRule(chosen: readonly Chosen[], rule: AmbientRuleName | undefined): Outcome<AmbientRuleName> {
  if (rule !== undefined) return answered(rule);
  const rules = [...new Set(chosen.map(({ pull }) => pull.curve.rule))];
  if (rules.length <= 1) return answered(rules[0] ?? 'none');
  const parts = rules.map(
    (name) =>
      `${name} (${chosen
        .filter(({ pull }) => pull.curve.rule === name)
        .map(idOf)
        .join(', ')})`,
  );
  return refused({
    kind: 'mixed-rules',
    message: `invalid comparison: pulls stand under different ambient rules: ${parts.join('; ')}; expected one rule for all`,
  });
}

function unusable(
  chosen: readonly Chosen[],
  rule: AmbientRuleName,
  of: OverlayView['of'],
): Outcome<OverlayView> | undefined {
  if (rule === 'none') return undefined;
  if (of !== 'engine') {
    const message = `invalid rule: ${rule}, expected none: ambient rules are written for engine power, not for ${of} power`;
    return refused({ kind: 'rule-needs-engine-power', message });
  }
  const without = chosen.filter((one) => factorOf(one, rule).factor === undefined).map(idOf);
  if (without.length === 0) return undefined;
  return refused({ kind: 'missing-factor', message: `missing factor of ${rule} for ${without.join(', ')}`, rule });
}

function overlayCurve(
  one: Chosen,
  { rule, of, channels }: { rule: AmbientRuleName; of: OverlayView['of']; channels: PowerChannels },
): OverlayCurve {
  const { entry, pull, at } = one;
  const { curve } = pull;
  const { factor = 1, valid, why } = factorOf(one, rule);
  const { watts: measured, spread } = powerOf(curve, of);
  const power = measured.map((watts) => watts * factor);
  return {
    ...{ entry: entry.facts.id, pull: at, title: titleOf(one), standing: pullStanding(pull, one.result, channels) },
    engineSpeed: plainSamples(curve.engineSpeed),
    power: plainSamples(power),
    torque: plainSamples(power.map((watts, index) => watts / (curve.engineSpeed[index] ?? Number.NaN))),
    uncertainty: plainSamples(spread.map((watts) => watts * factor)),
    valid: Array.from(curve.valid, (flag) => flag === 1),
    highest: highestOf(pull, of, factor),
    ...{ factor, ruleValid: valid, ruleWhy: why },
  };
}

const CLAIMED = { engine: 'engine power', wheel: 'wheel power', roll: 'roll power' } as const;

/** The peak of the curve that the pull claims. */
function highestOf({ peaks }: PullResult, of: OverlayView['of'], factor: number): OverlayCurve['highest'] {
  const peak = peaks.find(
    ({ basis, what, value }) => basis === 'curve' && what === CLAIMED[of] && Number.isFinite(value),
  );
  if (!peak) return undefined;
  return {
    power: peak.value * factor,
    uncertainty: plainNumber(peak.standardUncertainty * factor),
    engineSpeed: plainNumber(peak.engineSpeed ?? Number.NaN),
  };
}

/** The power nearest to the engine that every chosen pull knows. */
function commonPower(chosen: readonly Chosen[]): OverlayView['of'] {
  const all = (of: OverlayView['of']) => chosen.every(({ pull }) => hasNumber(powerOf(pull.curve, of).watts));
  return all('engine') ? 'engine' : all('wheel') ? 'wheel' : 'roll';
}

function powerOf(curve: PowerCurve, of: OverlayView['of']) {
  switch (of) {
    case 'engine':
      return { watts: curve.enginePower, spread: curve.enginePowerUncertainty };
    case 'wheel':
      return { watts: curve.tyrePower, spread: curve.tyrePowerUncertainty };
    case 'roll':
      return { watts: curve.rollPower, spread: curve.rollPowerUncertainty };
  }
}

/** Ids are percent-encoded in the query, so that one may hold a comma. */
function decodedId(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

function factorOf({ entry }: Chosen, rule: AmbientRuleName) {
  if (rule === 'none') return { factor: 1, valid: true, why: 'as measured' };
  const line = entry.result?.conditions.factors.find((candidate) => candidate.rule === rule);
  return { factor: line?.factor, valid: line?.valid ?? false, why: line?.why ?? 'not computed' };
}

function titleOf({ entry, at }: Chosen): string {
  const { id, title } = entry.facts;
  const several = (entry.result?.pulls.length ?? 0) > 1;
  return `${title ?? id}${several ? ` · ${at + 1}` : ''}`;
}

function whyLeft({ facts, result }: EntryReport): string {
  if (facts.kind !== 'pull') return `a ${facts.kind}, not a pull`;
  const refusal = result?.refusal ?? result?.pulls.find((pull) => pull.refusal)?.refusal;
  return refusal?.message ?? 'no pull was found in it';
}

function tooMany(count: number): Outcome<OverlayView> {
  return refused({
    kind: 'invalid-count',
    message: `invalid number of curves: ${count}, expected at most ${MOST_CURVES}`,
  });
}

function idOf({ entry }: Chosen): string {
  return entry.facts.id;
}

function hasNumber(values: Float64Array): boolean {
  return values.some((value) => Number.isFinite(value));
}
