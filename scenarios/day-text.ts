/** A value of a day file: text, list or record. */
export type Written = string | number | readonly Written[] | { readonly [key: string]: Written | undefined };

/** A day file as YAML text: records and lists in block form, every text in double quotes. */
export function dayText(value: { readonly [key: string]: Written | undefined }): string {
  return `${recordLines(value, '').join('\n')}\n`;
}

function recordLines(value: { readonly [key: string]: Written | undefined }, indent: string): string[] {
  return Object.entries(value).flatMap(([key, item]) => (item === undefined ? [] : entryLines(key, item, indent)));
}

function entryLines(key: string, item: Written, indent: string): string[] {
  const name = /^[a-z][a-z ]*$/i.test(key) ? key : JSON.stringify(key);
  if (typeof item === 'string' || typeof item === 'number') return [`${indent}${name}: ${scalar(item)}`];
  if (isList(item)) {
    if (item.length === 0) return [`${indent}${name}: []`];
    return [`${indent}${name}:`, ...item.flatMap((part) => listLines(part, `${indent}  `))];
  }
  const inner = recordLines(item, `${indent}  `);
  return inner.length === 0 ? [`${indent}${name}: {}`] : [`${indent}${name}:`, ...inner];
}

function listLines(part: Written, indent: string): string[] {
  if (typeof part === 'string' || typeof part === 'number') return [`${indent}- ${scalar(part)}`];
  if (isList(part)) return part.flatMap((item) => listLines(item, `${indent}  `));
  const [first, ...rest] = recordLines(part, `${indent}  `);
  return [`${indent}- ${(first ?? '').trimStart()}`, ...rest];
}

function scalar(value: string | number): string {
  return typeof value === 'number' ? String(value) : JSON.stringify(value);
}

function isList(value: Written): value is readonly Written[] {
  return Array.isArray(value);
}
