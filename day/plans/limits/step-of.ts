import {
  answered,
  type Finding,
  formatQuantity,
  type Outcome,
  parseQuantity,
  type QuantityKind,
  refused,
} from '../../../core/quantities/index.ts';
import type { FuelName } from '../../pulls/index.ts';
import type { Step } from '../model/engine-model.ts';
import { partRefused, writtenParts } from './written-parts.ts';

/** A step as it was written, and what must be known about the reading. */
export interface StepRead {
  readonly step: Step;
  readonly findings: readonly Finding[];
}

type StepField = Exclude<keyof Step, 'fuel'>;

const FUELS = ['petrol', 'ethanol blend', 'methanol', 'methane', 'LPG'] as const;

/** What a person may write before a number. `bare`: unit taken when none is written, said in a finding. */
interface StepWord {
  readonly words: readonly string[];
  readonly field: StepField;
  readonly kind: QuantityKind;
  readonly bare?: string;
  /** SI values beyond which it is no step of an engine. @source our default */
  readonly low: number;
  readonly high: number;
}

const TURN = Math.PI / 180;

const WORDS: readonly StepWord[] = [
  {
    words: ['map', 'manifold pressure', 'manifold'],
    field: 'manifoldPressure',
    kind: 'absolute-pressure',
    low: 30e3,
    high: 800e3,
  },
  {
    words: ['timing', 'ignition timing', 'spark timing'],
    field: 'timing',
    kind: 'angle',
    bare: '°',
    low: -30 * TURN,
    high: 30 * TURN,
  },
  {
    words: ['phase', 'cam phase', 'inlet cam', 'inlet phase'],
    field: 'camPhase',
    kind: 'angle',
    bare: '°',
    low: -60 * TURN,
    high: 60 * TURN,
  },
  { words: ['lambda', 'λ'], field: 'lambda', kind: 'lambda', low: 0.5, high: 2 },
  { words: ['gap', 'plug gap'], field: 'plugGap', kind: 'length', low: 0.1e-3, high: 2e-3 },
  { words: ['dwell'], field: 'dwell', kind: 'pulse-width', low: 0.2e-3, high: 20e-3 },
  { words: ['coil voltage', 'voltage', 'supply'], field: 'coilVoltage', kind: 'voltage', low: 5, high: 60 },
  { words: ['ratio', 'overall ratio'], field: 'overallRatio', kind: 'ratio', low: 0.3, high: 60 },
  { words: ['straps', 'strap force', 'strap'], field: 'strapForce', kind: 'force', low: 0, high: 100e3 },
  { words: ['altitude', 'height'], field: 'altitude', kind: 'altitude', low: -500, high: 9000 },
  {
    words: ['ambient pressure', 'barometer', 'air pressure'],
    field: 'ambientPressure',
    kind: 'barometric-pressure',
    low: 30e3,
    high: 110e3,
  },
  {
    words: ['ambient', 'ambient temperature', 'air temperature', 'outside'],
    field: 'ambientTemperature',
    kind: 'temperature',
    low: 220,
    high: 335,
  },
  { words: ['humidity', 'relative humidity', 'rh'], field: 'relativeHumidity', kind: 'fraction', low: 0, high: 1 },
  { words: ['soak', 'heat soak'], field: 'soak', kind: 'temperature-difference', low: -50, high: 150 },
  { words: ['water', 'water temperature'], field: 'water', kind: 'temperature', low: 273.15, high: 370 },
  { words: ['ice'], field: 'ice', kind: 'mass', low: 0, high: 500 },
  { words: ['inlet loss'], field: 'inletLoss', kind: 'pressure-difference', low: 0, high: 50e3 },
  { words: ['ethanol', 'ethanol share'], field: 'ethanolShare', kind: 'fraction', low: 0, high: 1 },
  { words: ['ballast'], field: 'ballast', kind: 'mass', low: 0, high: 5000 },
  { words: ['tread', 'tread temperature'], field: 'treadTemperature', kind: 'temperature', low: 250, high: 450 },
  { words: ['octane', 'ron'], field: 'octane', kind: 'ratio', low: 60, high: 140 },
];

/** Words that name a quantity which cannot be taken, with what to write instead. */
const REFUSED_WORDS: Readonly<Record<string, string>> = {
  boost: 'gauge pressure says nothing without the barometer: write the absolute pressure as `MAP 215 kPa`',
  power: 'a step says what is set, not what comes out',
  torque: 'a step says what is set, not what comes out',
  gear: 'its number says nothing of what it does: write the overall ratio as `ratio 5.2`',
};

/**
 * Reads a step as a person writes it: `MAP 215 kPa, phase 3°, gap 0.55 mm, timing -2°, straps 5 kN, ambient 34 °C`.
 *
 * Parts between commas or semicolons, each a word and a quantity with its unit. Angles without a unit are degrees, and the answer says so.
 * Refuses a word it does not know, a number with a comma, a missing or wrong unit, a quantity written twice, a value out of validity, and
 * a step without manifold pressure; each names the part.
 */
export function stepOf(text: string): Outcome<StepRead> {
  const parts = writtenParts(text);
  if (!parts.ok) return parts;
  const found = new Map<StepField, number>();
  let fuel: FuelName | undefined;
  const findings: Finding[] = [];
  for (const part of parts.value) {
    const named = /^fuel\s*[:=]?\s*(.*)$/iu.exec(part);
    if (named) {
      if (fuel) return partRefused('written-twice', `invalid step: "${part}" says again what was said before`, part);
      fuel = FUELS.find((name) => name.toLowerCase() === named[1].toLowerCase());
      if (!fuel)
        return partRefused('unknown-word', `unknown fuel: "${part}", expected one of ${FUELS.join(', ')}`, part);
      continue;
    }
    const read = partOf(part);
    if (!read.ok) return read;
    const { field, value } = read.value;
    if (found.has(field))
      return partRefused('written-twice', `invalid step: "${part}" says again what was said before`, part);
    found.set(field, value);
    findings.push(...read.findings);
  }
  const manifoldPressure = found.get('manifoldPressure');
  if (manifoldPressure === undefined)
    return partRefused('missing-manifold-pressure', 'missing manifold pressure: expected such as MAP 215 kPa', text);
  const step: Step = { ...Object.fromEntries(found), ...(fuel ? { fuel } : {}), manifoldPressure };
  return answered({ step, findings }, findings);
}

function partOf(part: string): Outcome<{ readonly field: StepField; readonly value: number }> {
  const match = /^([^\d+\-.±]*?)\s*(?:[:=]\s*)?([+-]?[\d.].*)$/u.exec(part);
  const word = (match?.[1] ?? part).trim().toLowerCase();
  if (word in REFUSED_WORDS)
    return partRefused('not-a-setting', `invalid step: "${part}": ${REFUSED_WORDS[word]}`, part);
  const known = WORDS.find(({ words }) => words.includes(word));
  if (!known)
    return partRefused(
      'unknown-word',
      `unknown setting: "${part}", expected one of ${WORDS.map(({ words }) => words[0]).join(', ')}`,
      part,
    );
  if (!match) return partRefused('missing-number', `missing number: "${part}"`, part);
  return readValue(known, match[2], part);
}

function readValue(
  known: StepWord,
  written: string,
  part: string,
): Outcome<{ readonly field: StepField; readonly value: number }> {
  const findings: Finding[] = [];
  let text = written;
  if (known.bare !== undefined && /^[+-]?[\d.]+$/.test(text)) {
    text = `${text} ${known.bare}`;
    findings.push(note('unit-taken', `"${part}" is taken in ${known.bare}`, part));
  }
  // a warming is written with the unit of a temperature
  if (known.kind === 'temperature-difference') text = text.replace(/\s*(?:Δ?°C|K)$/u, ' Δ°C');
  const read = parseQuantity(text, known.kind);
  if (!read.ok) return partRefused(read.refusal.kind, `${read.refusal.message} (in "${part}")`, part);
  const { value, standardUncertainty } = read.value;
  if (!(value >= known.low && value <= known.high)) {
    const { low, high } = known;
    const shown = (one: number): string => formatQuantity(one, known.kind);
    const hint = known.field === 'timing' ? '; it is counted on top of the day’s timing' : '';
    const message = `${known.words[0]} out of validity: ${shown(value)}, valid ${shown(low)} – ${shown(high)} (in "${part}")${hint}`;
    return refused({
      kind: 'out of validity',
      message,
      numbers: { value, low, high, part },
      rule: 'range of a step, our default',
    });
  }
  if (standardUncertainty !== undefined) {
    findings.push(note('spread-left-out', `the ± of "${part}" is left out: a step is what is set`, part));
  }
  return answered({ field: known.field, value }, findings);
}

function note(kind: string, message: string, part: string): Finding {
  return { kind, weight: 'note', message, numbers: { part } };
}
