import { type Document, isMap, isScalar, isSeq, visit, type YAMLMap, type YAMLSeq } from 'yaml';
import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { encodeDay, type Written, type WrittenRecord } from './encode.ts';
import { parseDay, parseDayText } from './parse.ts';
import { isSame } from './same.ts';
import { TEXT_OPTIONS, writeDayText } from './write.ts';
import { readYaml } from './yaml-text.ts';

/**
 * The text of a `day.yaml` with changed facts: only what changed is written anew, comments, order and the way a person
 * wrote the rest stay. Refused when the text no longer says `former` – somebody changed the file meanwhile – or cannot be read.
 */
export function updateDayText(text: string, former: DayFacts, facts: DayFacts): Outcome<string> {
  const yaml = readYaml(text, 'day.yaml');
  if (!yaml.ok) return yaml;
  const read = parseDay(yaml.value);
  if (!read.ok) return read;
  if (!isSame(read.value, former))
    return refused({
      kind: 'changed-elsewhere',
      message: 'day.yaml was changed by somebody else meanwhile: it is left as it is; read it again first',
      place: { file: 'day.yaml' },
    });
  const { document } = yaml.value;
  if (!isMap(document.contents)) throw new Error('a day that was read is a map');
  updateRecord({ document, map: document.contents }, encodeDay(former), encodeDay(facts));
  const updated = document.toString(TEXT_OPTIONS);
  const again = parseDayText(updated);
  if (again.ok && isSame(again.value, facts)) return answered(updated);
  return answered(writeDayText(facts), [
    { kind: 'comments-lost', weight: 'note', message: 'day.yaml was written anew: comments and order are lost' },
  ]);
}

interface Target {
  readonly document: Document.Parsed;
  readonly map: YAMLMap;
}

function updateRecord({ document, map }: Target, former: WrittenRecord, next: WrittenRecord): void {
  for (const key of Object.keys(former)) if (!Object.hasOwn(next, key)) map.delete(key);
  for (const [key, value] of Object.entries(next)) {
    const before = Object.hasOwn(former, key) ? former[key] : undefined;
    if (before !== undefined && isSame(before, value)) continue;
    const node = map.get(key, true);
    if (isMap(node) && isRecord(before) && isRecord(value)) updateRecord({ document, map: node }, before, value);
    else if (isSeq(node) && isList(before) && isList(value) && identity(value) !== undefined)
      updateList({ document, list: node }, before, value);
    else replaceValue({ document, map }, key, value);
  }
}

/** Changes a value in place where it is a single text, so that the comment behind it stays. */
function replaceValue({ document, map }: Target, key: string, value: Written): void {
  const node: unknown = map.get(key, true);
  const fresh = nodeOf(document, value);
  if (isScalar(node) && isScalar(fresh)) {
    if (fresh.comment === undefined && node.comment) fresh.comment = node.comment;
    if (fresh.commentBefore === undefined && node.commentBefore) fresh.commentBefore = node.commentBefore;
  }
  if (isSeq(fresh) && fresh.items.every((item) => isScalar(item))) fresh.flow = true;
  map.set(key, fresh);
}

/** A node of a document in which every scalar is a text; an empty one needs its quotes. */
function nodeOf(document: Document.Parsed, value: Written): unknown {
  const node = document.createNode(asTexts(value));
  visit(node, {
    Scalar: (_, scalar) => {
      if (scalar.value === '') scalar.type = 'QUOTE_DOUBLE';
    },
  });
  return node;
}

function asTexts(value: Written): unknown {
  if (isList(value)) return value.map(asTexts);
  if (isRecord(value)) return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, asTexts(part)]));
  return Object.is(value, -0) ? '-0' : String(value);
}

interface ListTarget {
  readonly document: Document.Parsed;
  readonly list: YAMLSeq;
}

/** Items are known by their id or column set; those that stay keep their node, wherever they move. */
function updateList({ document, list }: ListTarget, former: readonly Written[], next: readonly Written[]): void {
  const [first] = list.items;
  if (isMap(first) && list.commentBefore) {
    // The comment above the first item is kept with the list by the library; it moves with the item.
    first.commentBefore = [list.commentBefore, first.commentBefore].filter((part) => part).join('\n');
    list.commentBefore = null;
  }
  const nodes = new Map(former.map((item, index) => [identity([item]), { item, node: list.items[index] }]));
  list.items = next.map((item) => {
    const known = nodes.get(identity([item]));
    if (!known || !isMap(known.node) || !isRecord(known.item) || !isRecord(item)) return nodeOf(document, item);
    updateRecord({ document, map: known.node }, known.item, item);
    return known.node;
  });
}

/** What the first item of a list is known by, or undefined when its items have no name. */
function identity([first]: readonly Written[]): string | undefined {
  if (!isRecord(first)) return undefined;
  const name = first['id'] ?? first['column set'];
  return name === undefined ? undefined : String(name);
}

function isRecord(value: Written | undefined): value is WrittenRecord {
  return typeof value === 'object' && !Array.isArray(value);
}

function isList(value: Written | undefined): value is readonly Written[] {
  return Array.isArray(value);
}
