import { type Dimension, KINDS, type Unit } from '../../../core/quantities/index.ts';
import { MEANINGS, type Meaning } from '../meanings.ts';
import type { Concept } from './concepts.ts';
import { HARMLESS, NOT_OURS, PATTERNS, type Pattern } from './patterns.ts';
import type { NameReading } from './reading.ts';
import { SYMBOLS } from './words/abbreviations.ts';

/** One meaning that a name allows, with the reading that led there. score 0…1: how well the words settle it. */
export interface Candidate {
  readonly meaning: Meaning;
  readonly score: number;
  readonly words: readonly Concept[];
  readonly reading: NameReading;
  /** True when the unit cannot belong to the meaning. */
  readonly foreign: boolean;
}

/** What a word costs that the meaning does not explain, in words explained. @source our default */
const COST = { concept: 0.6, harmless: 0.04, unknown: 0.12 } as const;
/** A concept that only the unit adds, and one that only a single letter adds, against a word. @source our default */
const IMPLIED = 0.9;
const SYMBOL = 0.85;
/** What stays of the score when the unit cannot belong to the meaning. @source our default */
const FOREIGN_UNIT = 0.15;
/** What stays of a reading that leaves out a unit of several letters, or one that is all the name has beside a letter (`tC`). @source our default */
const UNIT_IGNORED = 0.5;
/** What stays when a word names something that no meaning covers. @source our default */
const FOREIGN_WORD = 0.3;
/** A name that settles less than this names none of our quantities. @source our default */
const LEAST = 0.35;
/** …nor does a name whose words fit less than this and whose unit does not fit at all. @source our default */
const BEST_FOREIGN = 0.9;
/** Ties go to the meaning that explains more words. */
const MORE_EXPLAINED = 0.02;

/** Words that a unit says without writing them. */
const SAID_BY_UNIT: Readonly<Partial<Record<Dimension, Concept>>> = {
  pressure: 'pressure',
  temperature: 'temperature',
  rotation: 'rotation',
  speed: 'speed',
  force: 'force',
  torque: 'torque',
  power: 'power',
  voltage: 'voltage',
  current: 'current',
  'mass-flow': 'flow',
  'volume-flow': 'flow',
  acceleration: 'acceleration',
  length: 'distance',
  time: 'time',
};

/** Meanings that are also written in a unit of another dimension; the divisor or a person settles the rest. @source common practice */
const ALSO_WRITTEN_IN: Readonly<Partial<Record<Meaning, readonly Dimension[]>>> = {
  throttle: ['angle'],
  pedal: ['angle'],
  'wastegate-position': ['angle'],
  'brake-setting': ['current', 'voltage'],
  dwell: ['angle', 'ratio'],
  'knock-level': ['voltage'],
};

/** Meanings the readings of one name allow, best first, one entry per meaning. */
export function candidatesOf(readings: readonly NameReading[]): readonly Candidate[] {
  const best = new Map<Meaning, Candidate>();
  const glued = readings.some(({ unitFrom, unitText }) => unitFrom === 'name' && unitText.length > 1);
  const bare = readings.some(({ unitFrom, concepts }) => unitFrom === 'name' && concepts.length === 0);
  for (const reading of readings) {
    for (const pattern of PATTERNS) {
      const score = scoreOf(pattern, reading) * (reading.unit || !(glued || bare) ? 1 : UNIT_IGNORED);
      const foreign = reading.unit !== undefined && !fitsDimension(pattern.meaning, reading.unit);
      const candidate = { meaning: pattern.meaning, score, words: pattern.all, reading, foreign };
      const known = best.get(pattern.meaning);
      if (score > FOREIGN_UNIT * 0.1 && (!known || rank(candidate) > rank(known))) best.set(pattern.meaning, candidate);
    }
  }
  const found = [...best.values()].toSorted((a, b) => rank(b) - rank(a));
  if (!found.some(({ score, foreign }) => score >= (foreign ? FOREIGN_UNIT * BEST_FOREIGN : LEAST))) return [];
  return found.map((candidate) => ({ ...candidate, score: Math.min(1, candidate.score) }));
}

/** True when a column in this unit can hold this meaning. */
export function fitsDimension(meaning: Meaning, unit: Unit): boolean {
  const own: string = KINDS[MEANINGS[meaning].kind].dimension;
  return own === unit.dimension || (ALSO_WRITTEN_IN[meaning] ?? []).includes(unit.dimension);
}

function rank({ score, words }: Candidate): number {
  return score * (1 + MORE_EXPLAINED * words.length);
}

function scoreOf(pattern: Pattern, reading: NameReading): number {
  const implied = reading.unit ? SAID_BY_UNIT[reading.unit.dimension] : undefined;
  const unitCost = reading.unit && !fitsDimension(pattern.meaning, reading.unit) ? FOREIGN_UNIT : 1;
  let best = 0;
  for (const symbol of [undefined, ...reading.tags]) {
    for (const concept of symbol === undefined ? [undefined] : (SYMBOLS[symbol] ?? [])) {
      best = Math.max(best, explained({ pattern, reading, implied, symbol: concept }));
    }
  }
  return best * unitCost;
}

interface Explaining {
  readonly pattern: Pattern;
  readonly reading: NameReading;
  readonly implied: Concept | undefined;
  readonly symbol: Concept | undefined;
}

function explained({ pattern, reading, implied, symbol }: Explaining): number {
  let found = 0;
  let written = 0;
  for (const concept of pattern.all) {
    if (reading.concepts.includes(concept)) {
      found += 1;
      written += 1;
    } else if (concept === implied) found += IMPLIED;
    else if (concept === symbol) found += SYMBOL;
    else return 0;
  }
  if (written === 0 && (symbol === undefined ? reading.unknown : reading.concepts).length > 0) return 0;
  const left = reading.concepts.filter((concept) => !pattern.all.includes(concept) && concept !== implied);
  const harmless = left.filter((concept) => HARMLESS.has(concept)).length;
  const cost =
    COST.concept * (left.length - harmless) + COST.harmless * harmless + COST.unknown * reading.unknown.length;
  const foreign = left.some((concept) => NOT_OURS.has(concept)) ? FOREIGN_WORD : 1;
  return (foreign * pattern.strength * found) / (pattern.all.length + cost);
}
