import { type Unit, unitNamed } from '../../../core/quantities/index.ts';
import type { Column } from '../table.ts';
import type { Concept } from './concepts.ts';
import { folded, words } from './fold.ts';
import { isWord, understood } from './lexicon.ts';

/** From which zero a pressure is counted, when the name or the unit says so. */
export type PressureZero = 'vacuum' | 'ambient';

/**
 * One way to read a column name: which words, which unit. A name can have several (`Lambda_A`: ampere, or bank A).
 * unitFrom: where the unit was written.
 */
export interface NameReading {
  readonly concepts: readonly Concept[];
  readonly unknown: readonly string[];
  readonly tags: readonly string[];
  readonly unit: Unit | undefined;
  readonly unitText: string;
  readonly unitFrom: 'unit' | 'name' | 'none';
  readonly zero: PressureZero | undefined;
}

/** Longest unit glued to a name [words]: `km_h`, `kPa_abs`. */
const UNIT_WORDS = 3;
const GAUGE = /(?:^|[\s_(.\d]|psi|bar|kpa|hpa)(?:g|gauge|rel|relative?|relativ|manom\w*|eff)\)?$/i;
const ABSOLUTE = /(?:^|[\s_(.\d]|psi|bar|kpa|hpa)(?:a|abs|absolute?|absolut|absolue|absoluta)\)?$/i;

/** All readings of a column's name and unit, the ones with a unit first. */
export function readings(column: Column): readonly NameReading[] {
  const name = column.name.replace(/ \(\d+\)$/, '');
  const brackets = [...name.matchAll(/[[({<]([^\])}>]*)[\])}>]/g)].map((match) => (match[1] ?? '').trim());
  const bare = name.replaceAll(/[[({<][^\])}>]*[\])}>]?/g, ' ');
  const written = column.unit.trim() !== '' ? column.unit.trim() : (brackets.find((text) => namedUnit(text)) ?? '');
  const extra = brackets.filter((text) => text !== written && text !== column.unit.trim());
  const unit = written === '' ? undefined : namedUnit(written);
  const tail = [...extra.flatMap(words), ...(written !== '' && !unit ? words(written) : [])];
  const all = words(bare);
  if (unit) return [reading({ list: [...unglued(all, unit), ...tail], unit, unitText: written, unitFrom: 'unit' })];
  return [...glued(all, tail), reading({ list: [...all, ...tail], unit, unitText: written, unitFrom: 'none' })];
}

interface Parts {
  readonly list: readonly string[];
  readonly unit: Unit | undefined;
  readonly unitText: string;
  readonly unitFrom: NameReading['unitFrom'];
}

function reading({ list, unit, unitText, unitFrom }: Parts): NameReading {
  const { concepts, unknown, tags } = understood(list);
  const pressure = unit?.dimension === 'pressure';
  const zero =
    (pressure && ABSOLUTE.test(unitText)) || concepts.includes('absolute')
      ? 'vacuum'
      : (pressure && GAUGE.test(unitText)) || concepts.includes('gauge')
        ? 'ambient'
        : undefined;
  return { concepts, unknown, tags, unit, unitText, unitFrom, zero };
}

/** Units written as the last words of the name, longest first. A unit that is also a word (`rpm`, `hp`) stays a word too. */
function glued(all: readonly string[], tail: readonly string[]): readonly NameReading[] {
  const found: NameReading[] = [];
  for (let length = Math.min(UNIT_WORDS, all.length); length >= 1; length -= 1) {
    const last = all.slice(all.length - length);
    const rest = all.slice(0, all.length - length);
    for (const text of [last.join('/'), last.join(' '), last.join('')]) {
      const unit = namedUnit(text);
      if (!unit || (unit.symbol === '1' && !isWord(text))) continue;
      if (rest.length === 0 && text.length === 1) continue;
      const kept = isWord(text) || rest.length === 0 ? all : [...rest, ...last.filter(saysZero)];
      found.push(reading({ list: [...kept, ...tail], unit, unitText: text, unitFrom: 'name' }));
      break;
    }
  }
  return found;
}

/** `kPa_gauge`: the word belongs to the unit and still says what is measured. */
function saysZero(word: string): boolean {
  const { concepts } = understood([word]);
  return concepts.includes('gauge') || concepts.includes('absolute');
}

/** The unit row says it already: `speed_kmh` with unit `km/h` needs no second reading of kmh. */
function unglued(all: readonly string[], unit: Unit): readonly string[] {
  for (let length = Math.min(UNIT_WORDS, all.length - 1); length >= 1; length -= 1) {
    const last = all.slice(all.length - length);
    for (const text of [last.join('/'), last.join('')]) {
      if (namedUnit(text)?.symbol === unit.symbol && !isWord(text)) return all.slice(0, all.length - length);
    }
  }
  return all;
}

/** Like unitNamed, and also through a word that only tells the zero of a pressure: `kPa abs`, `bar rel`. */
function namedUnit(text: string): Unit | undefined {
  if (text === '') return undefined;
  const direct = unitNamed(text) ?? unitNamed(folded(text));
  if (direct) return direct;
  const stripped = text.replace(/[\s_(.]*(?:abs\w*|rel\w*|gauge|eff|a|g)\)?$/i, '');
  const unit = stripped === text ? undefined : unitNamed(stripped);
  return unit?.dimension === 'pressure' ? unit : undefined;
}
