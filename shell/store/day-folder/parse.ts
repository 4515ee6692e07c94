import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { decodeDay } from './decode.ts';
import { DAY, ENTRY, keyOf, SECTIONS } from './fields.ts';
import { type Problem, problemsOf, refusalOf } from './problems.ts';
import { DAY_VERSION, WRITTEN_DAY } from './written-schema.ts';
import { type Path, readYaml, type YamlText } from './yaml-text.ts';

/**
 * The facts that the text of a `day.yaml` gives. Everything that is wrong is named in one refusal, with line and column.
 *
 * @param text content of the file
 * @param file its name, for the place of a refusal
 */
export function parseDayText(text: string, file = 'day.yaml'): Outcome<DayFacts> {
  const yaml = readYaml(text, file);
  return yaml.ok ? parseDay(yaml.value) : yaml;
}

/** The same, of text that was already split into YAML nodes. */
export function parseDay(yaml: YamlText): Outcome<DayFacts> {
  const version = versionProblem(yaml);
  if (version) return refused(refusalOf([version]));
  const checked = WRITTEN_DAY.safeParse(yaml.plain);
  if (!checked.success) return refused(refusalOf(problemsOf(checked.error.issues, yaml, keysKnownAt)));
  const facts = decodeDay(yaml.plain);
  const repeated = repeatedProblems(facts, yaml);
  return repeated.length > 0 ? refused(refusalOf(repeated)) : answered(facts);
}

/** The version is looked at before anything else: the rest of a later format must not be judged by this one. */
function versionProblem(yaml: YamlText): Problem | undefined {
  if (typeof yaml.plain !== 'object' || yaml.plain === null || Array.isArray(yaml.plain)) return undefined;
  const written = new Map<string, unknown>(Object.entries(yaml.plain)).get('knurl');
  if (typeof written !== 'string' || /^[1-9]\d*$/.test(written) === false)
    return {
      kind: written === undefined ? 'missing-key' : 'invalid-value',
      message: `${written === undefined ? 'missing knurl' : `invalid knurl: ${JSON.stringify(written)}`}, expected "knurl: ${DAY_VERSION}", the version of the format`,
      place: written === undefined ? yaml.valueAt([]) : yaml.valueAt(['knurl']),
      numbers: { key: 'knurl' },
    };
  if (Number(written) <= DAY_VERSION) return undefined;
  return {
    kind: 'later-version',
    message: `knurl out of validity: ${written}, valid 1–${DAY_VERSION}; this day was written by a later version`,
    place: yaml.valueAt(['knurl']),
    numbers: { value: written, limit: String(DAY_VERSION) },
  };
}

/** An entry is found by its id and a mapping by its column set: none may stand twice. */
function repeatedProblems({ entries, mappings }: DayFacts, yaml: YamlText): Problem[] {
  const ids = repeated(entries.map(({ id }) => id)).map(({ value, index }) => ({
    kind: 'repeated-id',
    message: `invalid id: "${value}" stands twice, expected a name of its own for every entry`,
    place: yaml.valueAt(['entries', index, 'id']),
    numbers: { value },
  }));
  const sets = repeated(mappings.map(({ columnSet }) => columnSet)).map(({ value, index }) => ({
    kind: 'repeated-column-set',
    message: 'invalid column set: it stands twice, expected one mapping for every set of columns',
    place: yaml.valueAt(['mappings', index, 'column set']),
    numbers: { value },
  }));
  return [...ids, ...sets];
}

function repeated(values: readonly string[]): { readonly value: string; readonly index: number }[] {
  return values.map((value, index) => ({ value, index })).filter(({ value, index }) => values.indexOf(value) !== index);
}

function keysKnownAt(path: Path): readonly string[] {
  const [top, , inside] = path;
  if (top === undefined)
    return [
      'knurl',
      ...keysOf(DAY),
      ...Object.keys(SECTIONS),
      'entries',
      'mappings',
      'thresholds',
      'engine thresholds',
    ];
  if (top === 'entries') return [...keysOf(ENTRY), 'files', 'settings', 'overruled'];
  if (top === 'mappings' && inside === 'columns') return COLUMN_KEYS;
  if (top === 'mappings') return inside === 'column set' ? ['name', 'unit'] : ['column set', 'columns'];
  const section = Object.entries(SECTIONS).find(([name]) => name === top);
  return section ? keysOf(section[1]) : [];
}

const COLUMN_KEYS = ['column', 'meaning', 'position', 'unit', 'divisor', 'zero', 'origin', 'confirmed'];

function keysOf(fields: object): string[] {
  return Object.keys(fields).map(keyOf);
}
