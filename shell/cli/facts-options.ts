import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { answered, type Outcome, parseQuantity, refused } from '../../core/quantities/index.ts';
import type { DayFacts, EntryFacts } from '../../day/pulls/index.ts';
import { keyOf, parseDayText, SECTIONS } from '../store/index.ts';
import type { Asked } from './command.ts';

/** `--fact` and `--like`, for the help of every command that takes them. */
export const FACT_HELP = [
  '  --fact TEXT        something you know, as in day.yaml: --fact "equivalent mass = 450 ± 5 kg"; repeat it for more',
  '  --like FOLDER      take the facts of a day from its day.yaml; --fact goes before them',
];

/** Files by the names under which the entries have them: logs of the run, sounds beside them, and logs of coast-downs. */
export interface NamedLogs {
  readonly pull: readonly string[];
  readonly sounds?: readonly string[];
  readonly coasts: readonly string[];
}

/** Facts of a day with one run and its coast-downs: from `--like`, then every `--fact`, `--nudge` and `--coast`. */
export async function factsFromOptions(
  asked: Asked,
  { pull, sounds = [], coasts }: NamedLogs,
): Promise<Outcome<DayFacts>> {
  const like = asked.text('like');
  const base = like === undefined ? answered(EMPTY) : await factsOfFolder(like);
  if (!base.ok) return base;
  const stated = statedFacts(asked.texts('fact'));
  if (!stated.ok) return stated;
  const { value } = stated;
  const nudge = nudgeOf(asked, pull);
  if (!nudge.ok) return nudge;
  const coasting = coasts.map(
    (file): EntryFacts => ({ ...entryOf(pull.includes(file) ? `in ${file}` : file, [file]), ...COAST }),
  );
  const whole = entryOf(pull[0] ?? 'pull', [...pull, ...sounds]);
  const entry = { ...whole, ...(nudge.value === undefined ? {} : { nudge: nudge.value }) };
  return answered({
    ...base.value,
    place: { ...base.value.place, ...value.place },
    vehicle: { ...base.value.vehicle, ...value.vehicle },
    engine: { ...base.value.engine, ...value.engine },
    roller: { ...base.value.roller, ...value.roller },
    ambient: { ...base.value.ambient, ...value.ambient },
    ...(base.value.parts || value.parts ? { parts: { ...base.value.parts, ...value.parts } } : {}),
    entries: [...coasting, entry],
  });
}

const COAST = { kind: 'coast-down', clutch: 'open' } as const;

function entryOf(id: string, files: readonly string[]): EntryFacts {
  return { id, kind: 'pull', files, settings: {} };
}

/** `--nudge "0.12 s"` [s]; undefined when it was not given. */
function nudgeOf(asked: Asked, files: readonly string[]): Outcome<number | undefined> {
  const text = asked.text('nudge');
  if (text === undefined) return answered(undefined);
  const found = parseQuantity(text, 'time');
  const refusal = (expected: string) =>
    refused<number>({
      kind: 'invalid-option',
      message: `invalid --nudge: "${text}", expected ${expected}`,
      numbers: { value: text },
    });
  if (!found.ok) return refusal('seconds with their unit, such as "0.12 s" or "120 ms"');
  return files.length < 2 ? refusal('two logs: one log has one clock') : answered(found.value.value);
}

const EMPTY: DayFacts = {
  title: 'pull',
  place: {},
  vehicle: {},
  engine: {},
  roller: {},
  ambient: {},
  entries: [],
  mappings: [],
};

async function factsOfFolder(folder: string): Promise<Outcome<DayFacts>> {
  const path = folder.endsWith('.yaml') ? folder : join(folder, 'day.yaml');
  const text = await readFile(path, 'utf8').catch(() => undefined);
  if (text === undefined)
    return refused({ kind: 'missing-file', message: `missing file: ${path}`, place: { file: path } });
  return parseDayText(text, path);
}

/** The texts as a small `day.yaml`, so that one reader with one wording reads both. */
function statedFacts(texts: readonly string[]): Outcome<DayFacts> {
  const bySection = new Map<string, string[]>();
  for (const text of texts) {
    const match = /^\s*([^=:]+?)\s*[=:]\s*(.+?)\s*$/.exec(text);
    const key = match?.[1];
    const value = match?.[2];
    if (key === undefined || value === undefined) return invalid(text, '"KEY = VALUE"');
    const sections = Object.entries(SECTIONS).filter(([name, fields]) =>
      Object.keys(fields).some((field) => keyOf(field) === key || `${name} ${keyOf(field)}` === key),
    );
    const [section] = sections;
    if (section === undefined) return invalid(text, `a key of day.yaml: ${keys().join(' · ')}`);
    if (sections.length > 1) return invalid(text, `one of: ${sections.map(([name]) => `${name} ${key}`).join(' · ')}`);
    const own = key.startsWith(`${section[0]} `) && !(key in section[1]) ? key.slice(section[0].length + 1) : key;
    bySection.set(section[0], [
      ...(bySection.get(section[0]) ?? []),
      `  ${JSON.stringify(own)}: ${JSON.stringify(value)}`,
    ]);
  }
  const sections = [...bySection].flatMap(([name, lines]) => [`${name}:`, ...lines]);
  return parseDayText(['knurl: 1', 'title: pull', ...sections, 'entries: []', ''].join('\n'), '--fact');
}

function keys(): readonly string[] {
  return Object.values(SECTIONS).flatMap((fields) => Object.keys(fields).map(keyOf));
}

function invalid(text: string, expected: string): Outcome<DayFacts> {
  return refused({
    kind: 'invalid-option',
    message: `invalid --fact: "${text}", expected ${expected}`,
    numbers: { value: text },
  });
}
