/** Texts that stand for "no value". Lower case. @source common practice, no source */
const MISSING: ReadonlySet<string> = new Set([
  '',
  '-',
  '--',
  '---',
  '----',
  '–',
  '—',
  '?',
  '*',
  'nan',
  '-nan',
  '+nan',
  'nan(ind)',
  '-nan(ind)',
  '1.#qnan',
  '1.#ind',
  '-1.#ind',
  '1.#inf',
  '-1.#inf',
  'inf',
  '-inf',
  '+inf',
  'infinity',
  '-infinity',
  '+infinity',
  '∞',
  '-∞',
  'n/a',
  '#n/a',
  'na',
  '<na>',
  'n.a.',
  'null',
  'nil',
  'none',
  '(null)',
  'undefined',
  'no data',
  'nodata',
  'missing',
  '#div/0!',
  '#value!',
  '#num!',
  '#ref!',
  '#name?',
  '#null!',
]);

const ON: ReadonlySet<string> = new Set([
  'on',
  'true',
  'yes',
  'active',
  'ein',
  'an',
  'ja',
  'wahr',
  'aktiv',
  'oui',
  'vrai',
]);
const OFF: ReadonlySet<string> = new Set([
  'off',
  'false',
  'no',
  'inactive',
  'aus',
  'nein',
  'falsch',
  'inaktiv',
  'non',
  'faux',
]);

/** Whether the cell says that there is no value. */
export function isMissingWord(text: string): boolean {
  return text.length <= 12 && MISSING.has(text.toLowerCase());
}

/** 1 for a word of the kind on, true, yes; 0 for off, false, no; otherwise undefined. */
export function switchValue(text: string): 0 | 1 | undefined {
  if (text.length > 8) return undefined;
  const word = text.toLowerCase();
  return ON.has(word) ? 1 : OFF.has(word) ? 0 : undefined;
}
