import type { z } from 'zod';
import type { Place, Refusal } from '../../../core/quantities/index.ts';
import { nearMiss } from './near-miss.ts';
import type { Path, YamlText } from './yaml-text.ts';

/** One thing that is wrong with a written day. */
export interface Problem {
  readonly kind: string;
  readonly message: string;
  readonly place: Place;
  readonly numbers?: Readonly<Record<string, string>>;
}

type Issue = z.core.$ZodIssue;

/** Every issue of the schema as a problem with its place and words; unknown keys get the nearest known one. */
export function problemsOf(
  issues: readonly Issue[],
  yaml: YamlText,
  known: (path: Path) => readonly string[],
): Problem[] {
  return issues.flatMap((issue) => {
    const path = issue.path.map((step) => (typeof step === 'number' ? step : String(step)));
    if (issue.code === 'unrecognized_keys')
      return issue.keys.map((key) => unknownKey(key, known(path), yaml.keyAt([...path, key])));
    if (!isWritten(yaml.plain, path)) return [missingKey(path, yaml)];
    return [invalidValue(issue, path, yaml)];
  });
}

/** One refusal of all problems: the first one with its place, the others in the message so that none comes as a surprise. */
export function refusalOf(problems: readonly Problem[]): Refusal {
  const sorted = [...problems].sort((a, b) => order(a.place) - order(b.place));
  const [first, ...others] = sorted;
  if (!first) throw new Error('a refusal needs a problem');
  const listed = others.slice(0, MOST_LISTED).map(({ message, place }) => `line ${place.line}: ${message}`);
  const more = others.length > MOST_LISTED ? [`and ${others.length - MOST_LISTED} more`] : [];
  const rest = others.length === 0 ? '' : ` (also ${[...listed, ...more].join('; ')})`;
  return { ...first, message: first.message + rest };
}

/** @source our default */
const MOST_LISTED = 5;

function unknownKey(key: string, known: readonly string[], place: Place): Problem {
  const near = nearMiss(key, known);
  const hint = near ? `, did you mean "${near}"` : `, expected one of: ${known.join(' · ')}`;
  return {
    kind: 'unknown-key',
    message: `unknown key "${key}"${hint}`,
    place,
    numbers: { value: key, ...(near ? { near } : {}) },
  };
}

function missingKey(path: Path, yaml: YamlText): Problem {
  const key = String(path.at(-1) ?? 'day');
  return {
    kind: 'missing-key',
    message: path.length === 0 ? 'missing day: the file is empty' : `missing ${named(path)}`,
    place: yaml.keyAt(path.slice(0, -1)),
    numbers: { key },
  };
}

function invalidValue(issue: Issue, path: Path, yaml: YamlText): Problem {
  const value = writtenAt(yaml.plain, path);
  const seen = shown(value);
  const expected = expectation(issue);
  const near = issue.code === 'invalid_value' ? nearMiss(String(value), issue.values.map(String)) : undefined;
  const hint = near ? `, did you mean "${near}"` : '';
  return {
    kind: 'invalid-value',
    message: `invalid ${named(path)}: ${seen}${hint}, expected ${expected}`,
    place: yaml.valueAt(path),
    numbers: { value: seen, expected },
  };
}

function expectation(issue: Issue): string {
  switch (issue.code) {
    case 'custom':
      return String(issue.params?.['expected'] ?? 'another value');
    case 'invalid_value':
      return issue.values.length > MOST_VALUES ? 'a known word' : `one of: ${issue.values.join(' · ')}`;
    case 'invalid_type':
      return EXPECTED[issue.expected] ?? issue.expected;
    case 'invalid_union':
      return issue.path.at(-1) === 'column set' ? 'a list of column names or their SHA-256' : 'one text';
    default:
      return issue.message;
  }
}

const MOST_VALUES = 12;
const EXPECTED: Readonly<Record<string, string>> = {
  array: 'a list',
  object: 'keys with values',
  record: 'keys with values',
  string: 'one text',
};

function named(path: Path): string {
  const last = path.at(-1);
  if (last === undefined) return 'day';
  if (typeof last === 'string') return last;
  const list = path.at(-2) ?? 'list';
  return `${list} ${last + 1}`;
}

function shown(value: unknown): string {
  if (typeof value === 'string') return JSON.stringify(value.length > 60 ? `${value.slice(0, 60)}…` : value);
  return Array.isArray(value) ? 'a list' : 'keys with values';
}

function isWritten(plain: unknown, path: Path): boolean {
  return writtenAt(plain, path) !== undefined;
}

function writtenAt(plain: unknown, path: Path): unknown {
  let value = plain;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = Object.getOwnPropertyDescriptor(value, step)?.value;
  }
  return value;
}

function order(place: Place): number {
  return (place.line ?? 0) * 1e6 + (place.column ?? 0);
}
