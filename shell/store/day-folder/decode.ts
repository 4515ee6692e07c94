import { unitNamed } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { FACTS } from '../facts-schema.ts';
import { columnSetOf } from './column-set.ts';
import type { Field } from './field.ts';
import { DAY, ENTRY, keyOf, SECTIONS } from './fields.ts';
import { readField, writtenText } from './read-field.ts';

/** The facts of a written day that the schema has passed; throws on one that it has not. */
export function decodeDay(plain: unknown): DayFacts {
  const day = recordOf(plain);
  const sections = Object.entries(SECTIONS).flatMap(([name, fields]): [string, unknown][] => {
    const found = values(recordOf(day.get(name)), fields);
    return found.length > 0 || name !== 'parts' ? [[name, Object.fromEntries(found)]] : [];
  });
  return FACTS.parse({
    ...Object.fromEntries(values(day, DAY)),
    ...Object.fromEntries(sections),
    entries: listOf(day.get('entries')).map(decodeEntry),
    mappings: listOf(day.get('mappings')).map(decodeMapping),
    ...someTexts('thresholds', day.get('thresholds')),
    ...someTexts('engineThresholds', day.get('engine thresholds')),
  });
}

function values(record: ReadonlyMap<string, unknown>, fields: Readonly<Record<string, Field>>): [string, unknown][] {
  return Object.entries(fields).flatMap(([name, { form }]) => {
    const text = record.get(keyOf(name));
    if (text === undefined) return [];
    const read = readField(form, writtenText(text));
    if (!read.ok) throw new Error(`unchecked ${name}: ${text}`);
    return [[name, read.value]];
  });
}

function decodeEntry(plain: unknown): unknown {
  const entry = recordOf(plain);
  return {
    ...Object.fromEntries(values(entry, ENTRY)),
    files: listOf(entry.get('files')).map(String),
    settings: textsOf(entry.get('settings')),
    ...someTexts('overruled', entry.get('overruled')),
  };
}

function decodeMapping(plain: unknown): unknown {
  const mapping = recordOf(plain);
  const set = mapping.get('column set');
  return {
    columnSet: Array.isArray(set) ? columnSetOf(set.map(writtenColumn)) : String(set),
    columns: listOf(mapping.get('columns')).map(decodeColumn),
  };
}

function writtenColumn(plain: unknown): { readonly name: string; readonly unit: string } {
  if (typeof plain === 'string') return { name: plain, unit: '' };
  const column = recordOf(plain);
  return { name: String(column.get('name')), unit: String(column.get('unit') ?? '') };
}

function decodeColumn(plain: unknown): unknown {
  const column = recordOf(plain);
  const { confirmed, unit, divisor, ...rest } = Object.fromEntries(column);
  const symbol = unitNamed(String(unit))?.symbol ?? String(unit);
  return {
    ...rest,
    ...(divisor === undefined ? {} : { divisor: Number(divisor) }),
    unit: symbol,
    confirmed: confirmed !== 'false',
  };
}

/** The fact under its name, unless there is none: an empty record says nothing. */
function someTexts(name: string, plain: unknown): Readonly<Record<string, unknown>> {
  const texts = textsOf(plain);
  return Object.keys(texts).length > 0 ? { [name]: texts } : {};
}

/** Keys and texts, kept as written. */
function textsOf(plain: unknown): Readonly<Record<string, string>> {
  return Object.fromEntries([...recordOf(plain)].map(([key, text]) => [key, String(text)]));
}

function recordOf(plain: unknown): ReadonlyMap<string, unknown> {
  return new Map<string, unknown>(typeof plain === 'object' && plain !== null ? Object.entries(plain) : []);
}

function listOf(plain: unknown): readonly unknown[] {
  return Array.isArray(plain) ? plain : [];
}
