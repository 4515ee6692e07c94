import {
  answered,
  exactText,
  type Outcome,
  parseQuantity,
  type Refusal,
  refused,
} from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { featureTitle } from '../../../day/reports/index.ts';
import { DETECTORS, dayLimits, inForce, isSettable, SETTABLE } from '../../../day/verdicts/index.ts';
import type { ThresholdLine, ThresholdScope, ThresholdsChange, ThresholdsView } from '../../contract/index.ts';
import type { FieldRefusal } from '../answers.ts';
import { plainFinding } from '../encode/plain.ts';

/** Every threshold with the value in force, ours, its source, and where a person set it. */
export function writeThresholds(day: string, facts: DayFacts): ThresholdsView {
  const set = dayLimits(facts);
  const values = inForce(set);
  const { title, invented } = facts;
  return {
    ...{ day, dayTitle: title, ...(invented !== undefined && { invented }) },
    thresholds: Object.entries(SETTABLE).map(([name, ours]): ThresholdLine => {
      const { value, kind } = values[name] ?? ours;
      return {
        ...{ name, title: featureTitle(name), subject: subjectOf(name), kind },
        ...(Number.isFinite(value) && { value }),
        ...{ text: exactText(value, kind), usual: exactText(ours.value, kind), source: ours.source },
        set: SCOPES.flatMap((scope) => {
          const written = writtenIn(facts, scope)[name];
          return written === undefined ? [] : [{ scope, written }];
        }),
      };
    }),
    findings: set.findings.map(plainFinding),
  };
}

/** Facts with the changed thresholds, or every text that cannot be read and why. */
export type ThresholdsRead =
  | { readonly ok: true; readonly facts: DayFacts }
  | { readonly ok: false; readonly refusal: Refusal; readonly fields: readonly FieldRefusal[] };

/** Facts after a person's change. One bad text and nothing changes. */
export function readThresholds(facts: DayFacts, { scope, texts }: ThresholdsChange): ThresholdsRead {
  const fields: FieldRefusal[] = [];
  const kept: Record<string, string> = { ...writtenIn(facts, scope) };
  for (const [name, text] of Object.entries(texts)) {
    if (text === null || text.trim() === '') {
      delete kept[name];
      continue;
    }
    const read = readThreshold(name, text);
    if (read.ok) kept[name] = read.value;
    else fields.push({ path: name, message: read.refusal.message });
  }
  if (fields.length > 0) {
    const message = fields.map((field) => field.message).join('; ');
    return { ok: false, fields, refusal: { kind: 'invalid-threshold', message } };
  }
  const { [KEYS[scope]]: _former, ...rest } = facts;
  return { ok: true, facts: Object.keys(kept).length === 0 ? rest : { ...rest, [KEYS[scope]]: kept } };
}

/** `name=text` of a trial, each as it would be kept. */
export function readTrial(set: readonly string[]): Outcome<Readonly<Record<string, string>>> {
  const texts: Record<string, string> = {};
  for (const one of set) {
    const match = /^\s*([^=]+?)\s*=\s*(.*?)\s*$/.exec(one);
    const read = match ? readThreshold(match[1] ?? '', match[2] ?? '') : unreadable(one);
    if (!read.ok) return read;
    texts[match?.[1] ?? ''] = read.value;
  }
  return answered(texts);
}

/** A threshold as it is kept: a number with its unit, zero or more. */
export function readThreshold(name: string, text: string): Outcome<string> {
  const ours = isSettable(name) ? SETTABLE[name] : undefined;
  if (!ours) return refused({ kind: 'invalid-threshold', message: `unknown threshold: ${name}`, numbers: { name } });
  const { kind, value } = ours;
  const asked = kind === 'temperature-difference' ? asDifference(text) : text.trim();
  const read = parseQuantity(asked, kind);
  const example = exactText(Number.isFinite(value) ? value : 1, kind);
  const bad = (expected: string): Outcome<string> =>
    refused({
      kind: 'invalid-threshold',
      message: `invalid ${name}: "${text.trim()}", expected ${expected}`,
      numbers: { name, value: text },
    });
  if (text.includes(',')) return bad(`a decimal point, no comma: such as ${example}`);
  if (!read.ok) return bad(`a number with its unit, such as ${example}`);
  if (read.value.standardUncertainty !== undefined) return bad('a number without an uncertainty: a limit is exact');
  return read.value.value >= 0 ? answered(asked) : bad('zero or more');
}

function unreadable(text: string): Outcome<string> {
  return refused({ kind: 'invalid-threshold', message: `invalid threshold: "${text}", expected NAME=NUMBER UNIT` });
}

/** A person writes a difference of temperature in °C, K or °F; the table of units has marks of its own for differences. */
function asDifference(text: string): string {
  return text
    .trim()
    .replace(/\s*(?:°\s*C|K|C)$/u, ' Δ°C')
    .replace(/\s*(?:°\s*F|F)$/u, ' Δ°F');
}

const SCOPES: readonly ThresholdScope[] = ['day', 'engine'];
const KEYS = { day: 'thresholds', engine: 'engineThresholds' } as const satisfies Record<
  ThresholdScope,
  keyof DayFacts
>;

function writtenIn(facts: DayFacts, scope: ThresholdScope): Readonly<Record<string, string>> {
  return facts[KEYS[scope]] ?? {};
}

/** The subject that a threshold belongs to, by the detector that its name begins with. */
function subjectOf(name: string): string {
  if (name.startsWith('health.')) return 'health of the day';
  const [begin = ''] = name.split('.');
  const detector = DETECTORS.find(({ fault }) => fault === begin || fault.startsWith(begin));
  return detector?.subject ?? SUBJECTS[begin] ?? 'whole pull';
}

const SUBJECTS: Readonly<Record<string, string>> = {
  roughness: 'spark',
  converter: 'driveline',
  cut: 'driveline',
  cam: 'air',
  'loss-rising': 'driveline',
  turbo: 'charge-air',
  choke: 'charge-air',
  exhaust: 'charge-air',
  'heat-soak': 'heat',
  shortfall: 'air',
  lean: 'fuel',
  rich: 'fuel',
  crankcase: 'loads',
  injector: 'fuel',
  'fuel-pressure': 'fuel',
};
