import type { Mapping } from '../../../day/channels/index.ts';
import type { DayFacts, EntryFacts } from '../../../day/pulls/index.ts';
import type { Field } from './field.ts';
import { DAY, DIVISOR, ENTRY, keyOf, SECTIONS } from './fields.ts';
import { writeField } from './write-field.ts';
import { DAY_VERSION } from './written-schema.ts';

/** What `day.yaml` holds for these facts: texts, numbers, lists and records in the order of the format. */
export type WrittenRecord = { readonly [key: string]: Written };
export type Written = string | number | boolean | readonly Written[] | WrittenRecord;

export function encodeDay(facts: DayFacts): WrittenRecord {
  const sections = Object.entries(SECTIONS).map(([name, fields]): [string, WrittenRecord] => [
    name,
    encodeFields(new Map(Object.entries(facts)).get(name), fields),
  ]);
  return {
    knurl: DAY_VERSION,
    ...encodeFields(facts, DAY),
    ...Object.fromEntries(sections.filter(([, section]) => Object.keys(section).length > 0)),
    ...(facts.entries.length > 0 ? { entries: facts.entries.map(encodeEntry) } : {}),
    ...(hasTexts(facts.thresholds) ? { thresholds: facts.thresholds } : {}),
    ...(hasTexts(facts.engineThresholds) ? { 'engine thresholds': facts.engineThresholds } : {}),
    ...(facts.mappings.length > 0 ? { mappings: facts.mappings.map(encodeMapping) } : {}),
  };
}

export function encodeEntry(entry: EntryFacts): WrittenRecord {
  const { notes, ...fields } = encodeFields(entry, ENTRY);
  return {
    ...fields,
    ...(entry.files.length > 0 ? { files: entry.files } : {}),
    ...(hasTexts(entry.settings) ? { settings: entry.settings } : {}),
    ...(hasTexts(entry.overruled) ? { overruled: entry.overruled } : {}),
    ...(notes === undefined ? {} : { notes }),
  };
}

function hasTexts(texts: Readonly<Record<string, string>> | undefined): texts is Readonly<Record<string, string>> {
  return texts !== undefined && Object.keys(texts).length > 0;
}

export function encodeMapping({ columnSet, columns }: Mapping): WrittenRecord {
  return {
    'column set': columnSet,
    columns: columns.map(({ column, meaning, position, unit, divisor, zero, origin, confirmed }) => ({
      column,
      meaning,
      ...(position === undefined ? {} : { position }),
      unit,
      ...(divisor === undefined ? {} : { divisor: writeField(DIVISOR.form, divisor) }),
      ...(zero === undefined ? {} : { zero }),
      ...(origin === undefined ? {} : { origin }),
      ...(confirmed ? {} : { confirmed: false }),
    })),
  };
}

function encodeFields(facts: object | string | undefined, fields: Readonly<Record<string, Field>>): WrittenRecord {
  const known = new Map<string, unknown>(Object.entries(facts ?? {}));
  return Object.fromEntries(
    Object.entries(fields).flatMap(([name, { form }]) => {
      const fact = known.get(name);
      return fact === undefined ? [] : [[keyOf(name), writeField(form, fact)]];
    }),
  );
}
