import type { FactField } from '../../contract/index.ts';

/** Fields in their groups, in the order in which the groups first occur. */
export function byGroup(
  fields: readonly FactField[],
): readonly { readonly group: string; readonly members: readonly FactField[] }[] {
  const groups = [...new Set(fields.map(({ group }) => group))];
  return groups.map((group) => ({ group, members: fields.filter((field) => field.group === group) }));
}

/** Only what was changed is sent: an untouched value stays as it is, to the last digit. */
export function changedTexts(
  fields: readonly FactField[],
  read: (path: string) => unknown,
): Readonly<Record<string, string>> {
  return Object.fromEntries(
    fields.flatMap(({ path, text }) => {
      const written = read(path);
      return typeof written === 'string' && written.trim() !== text ? [[path, written.trim()]] : [];
    }),
  );
}
