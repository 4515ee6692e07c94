import { CONCEPTS, type Concept, type Vocabulary } from './concepts.ts';
import { folded } from './fold.ts';
import { ABBREVIATIONS, PHRASES } from './words/abbreviations.ts';
import { DUTCH } from './words/dutch.ts';
import { ENGLISH } from './words/english.ts';
import { FRENCH } from './words/french.ts';
import { GERMAN } from './words/german.ts';
import { ITALIAN } from './words/italian.ts';
import { PORTUGUESE } from './words/portuguese.ts';
import { SPANISH } from './words/spanish.ts';

/** What the words of a name say. `unknown` keeps the words nobody taught us, `tags` single letters and numbers. */
export interface Understood {
  readonly concepts: readonly Concept[];
  readonly unknown: readonly string[];
  readonly tags: readonly string[];
}

const VOCABULARIES: readonly Vocabulary[] = [ENGLISH, GERMAN, FRENCH, SPANISH, ITALIAN, PORTUGUESE, DUTCH];

/** Words that carry nothing here. @source articles and prepositions of the languages above; `test`, `modal`, `channel` common practice */
const STOP = new Set(
  'de d du des la le l les a al el en et del della dell di da do der die das den dem am an im von zu zum of the at in on to by per is val test modal channel ch no nr und y e and sec fil'.split(
    ' ',
  ),
);

/** Parts of compounds shorter than this are taken only from `SHORT_PARTS`. @source our default */
const PART_LENGTH = 4;
const SHORT_PARTS = new Set(
  'ol rad zug rpm map iat egt tps afr oil air eng exh amb cam vor ist maf ect trq'.split(' '),
);
const LINKS = ['', 's', 'n', 'en', 'es'];
/** Longest phrase looked up [words]. */
const PHRASE_WORDS = 4;

const lexicon = merged();
const phrases = new Map(Object.entries(PHRASES).map(([text, concepts]) => [folded(text), concepts]));

/** Reads the words of a name, longest phrase first. */
export function understood(words: readonly string[]): Understood {
  const plain = words.map(folded);
  const concepts = new Set<Concept>();
  const unknown: string[] = [];
  const tags: string[] = [];
  for (let at = 0; at < plain.length; ) {
    const phrase = phraseAt(plain, at);
    if (phrase) {
      for (const concept of phrase.concepts) concepts.add(concept);
      at += phrase.length;
      continue;
    }
    const word = plain[at] ?? '';
    const written = words[at] ?? word;
    at += 1;
    const found = word.length > 1 && !STOP.has(word) ? conceptsOf(word) : lexicon.get(word);
    if (found) for (const concept of found) concepts.add(concept);
    else if (word.length === 1 || /^\d+$/.test(word)) tags.push(written);
    else if (!STOP.has(word)) unknown.push(written);
  }
  return { concepts: [...concepts], unknown, tags };
}

/** True when the text as a whole is a word of the trade, so that it is not only a unit. */
export function isWord(text: string): boolean {
  return lexicon.has(folded(text));
}

interface Phrase {
  readonly concepts: readonly Concept[];
  readonly length: number;
}

function phraseAt(plain: readonly string[], at: number): Phrase | undefined {
  for (let length = Math.min(PHRASE_WORDS, plain.length - at); length >= 1; length -= 1) {
    const concepts = phrases.get(plain.slice(at, at + length).join(' '));
    if (concepts) return { concepts, length };
  }
  return undefined;
}

function conceptsOf(word: string): readonly Concept[] | undefined {
  return lexicon.get(word) ?? inflected(word) ?? compound(word);
}

function inflected(word: string): readonly Concept[] | undefined {
  if (word.length < 5) return undefined;
  for (const ending of ['s', 'e', 'n', 'en', 'es', 'a', 'o']) {
    if (word.endsWith(ending)) {
      const found = lexicon.get(word.slice(0, -ending.length));
      if (found && word.length - ending.length >= 4) return found;
    }
  }
  return undefined;
}

/** Takes a compound apart into known words, longest first part first; undefined unless every letter is accounted for. */
function compound(word: string): readonly Concept[] | undefined {
  for (let cut = word.length - 1; cut >= 2; cut -= 1) {
    const first = word.slice(0, cut);
    if (cut < PART_LENGTH && !SHORT_PARTS.has(first)) continue;
    const head = phrases.get(first) ?? lexicon.get(first);
    if (!head) continue;
    for (const link of LINKS) {
      if (!word.slice(cut).startsWith(link)) continue;
      const rest = word.slice(cut + link.length);
      if (rest.length < PART_LENGTH && !SHORT_PARTS.has(rest)) continue;
      const tail = phrases.get(rest) ?? lexicon.get(rest) ?? compound(rest);
      if (tail) return [...head, ...tail];
    }
  }
  return undefined;
}

function merged(): ReadonlyMap<string, readonly Concept[]> {
  const found = new Map<string, readonly Concept[]>();
  for (const [text, concepts] of Object.entries(ABBREVIATIONS)) found.set(folded(text), concepts);
  for (const vocabulary of VOCABULARIES) {
    for (const concept of CONCEPTS) {
      for (const text of (vocabulary[concept] ?? '').split(' ')) {
        if (text !== '' && !found.has(folded(text))) found.set(folded(text), [concept]);
      }
    }
  }
  return found;
}
