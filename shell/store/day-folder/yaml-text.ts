import { type Document, isAlias, isMap, isScalar, isSeq, LineCounter, parseDocument } from 'yaml';
import { answered, type Outcome, type Place, type Refusal, refused } from '../../../core/quantities/index.ts';

/** A step is a key or the index of a list item. */
export type Path = readonly (string | number)[];

/** YAML as plain texts, lists and records, each with the place where it stands. Every scalar is a text as it was written. */
export interface YamlText {
  readonly plain: unknown;
  readonly document: Document.Parsed;
  /** Place of the value at the path. */
  valueAt(path: Path): Place;
  /** Place of the last key of the path. */
  keyAt(path: Path): Place;
}

/** Largest text read [characters]. @source our default: a day of 30 pulls takes about 20 000 */
export const LONGEST_TEXT = 1_000_000;

/** Reads YAML without aliases, anchors and tags; refuses a key that stands twice. Line and column count from 1. */
export function readYaml(text: string, file: string): Outcome<YamlText> {
  if (text.length > LONGEST_TEXT)
    return refused({
      kind: 'yaml-too-large',
      message: `invalid day: ${text.length} characters, expected at most ${LONGEST_TEXT}`,
      place: { file },
      numbers: { value: text.length, limit: LONGEST_TEXT },
    });
  const lines = new LineCounter();
  const at = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { file, line: Math.max(1, line), column: Math.max(1, col) };
  };
  let document: Document.Parsed;
  try {
    // uniqueKeys is quadratic in the library: keys that stand twice are found below.
    document = parseDocument(text, { schema: 'failsafe', lineCounter: lines, prettyErrors: false, uniqueKeys: false });
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return refused({ kind: 'invalid-yaml', message: 'invalid YAML: nested too deep', place: { file } });
  }
  const problem = [...document.errors, ...document.warnings].sort((a, b) => a.pos[0] - b.pos[0])[0];
  if (problem)
    return refused({ kind: 'invalid-yaml', message: `invalid YAML: ${problem.message}`, place: at(problem.pos[0]) });
  const walk = new Walk(at);
  const plain = walk.plain(document.contents, [], 0);
  if (walk.refusal) return refused(walk.refusal);
  return answered({
    plain,
    document,
    valueAt: (path) => at(walk.values.get(idOf(path)) ?? 0),
    keyAt: (path) => at(walk.keys.get(idOf(path)) ?? walk.values.get(idOf(path)) ?? 0),
  });
}

/** Turns nodes into plain values, keeps where each stood, and stops at the first thing that is not allowed. */
class Walk {
  readonly values = new Map<string, number>();
  readonly keys = new Map<string, number>();
  refusal: Refusal | undefined;
  private readonly at: (offset: number) => Place;

  constructor(at: (offset: number) => Place) {
    this.at = at;
  }

  plain(node: unknown, path: Path, depth: number): unknown {
    const start = offsetOf(node);
    if (!this.values.has(idOf(path))) this.values.set(idOf(path), start);
    if (depth > DEEPEST) return this.refuse('invalid-yaml', 'invalid YAML: nested too deep', start);
    if (isAlias(node)) return this.refuse('yaml-alias', `invalid YAML: alias *${node.source}, expected a value`, start);
    if (isScalar(node) || isMap(node) || isSeq(node)) {
      if (node.anchor) return this.refuse('yaml-alias', `invalid YAML: anchor &${node.anchor} is not read`, start);
      if (isSeq(node)) return node.items.map((item, index) => this.plain(item, [...path, index], depth + 1));
      if (isMap(node)) return this.record(node.items, path, depth);
      return node.type === 'PLAIN' && node.value === '' ? undefined : String(node.value);
    }
    return undefined;
  }

  private record(items: readonly { key: unknown; value: unknown }[], path: Path, depth: number): unknown {
    const pairs: [string, unknown][] = [];
    const seen = new Set<string>();
    for (const { key, value } of items) {
      const offset = offsetOf(key);
      if (!isScalar(key) || key.anchor)
        return this.refuse('invalid-yaml', 'invalid YAML: a key must be a word', offset);
      const name = String(key.value);
      if (seen.has(name)) return this.refuse('yaml-duplicate-key', `invalid YAML: "${name}" stands twice`, offset);
      seen.add(name);
      this.keys.set(idOf([...path, name]), offset);
      this.values.set(idOf([...path, name]), offsetOf(value) || offset);
      const plain = this.plain(value, [...path, name], depth + 1);
      if (plain !== undefined) pairs.push([name, plain]);
    }
    return Object.fromEntries(pairs);
  }

  private refuse(kind: string, message: string, offset: number): undefined {
    this.refusal ??= { kind, message, place: this.at(offset) };
    return undefined;
  }
}

/** Deepest nesting read: the format itself goes to five. @source our default */
const DEEPEST = 12;

function idOf(path: Path): string {
  return JSON.stringify(path);
}

function offsetOf(node: unknown): number {
  if (isAlias(node) || isScalar(node) || isMap(node) || isSeq(node)) return node.range?.[0] ?? 0;
  return 0;
}
