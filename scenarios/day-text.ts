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

/** hh:mm:ss of a time of the day [s], cut to whole seconds as programs stamp their files. */
export function clockText(seconds: number): string {
  const whole = Math.floor(seconds);
  const pad = (value: number): string => String(value).padStart(2, '0');
  return `${pad(Math.floor(whole / 3600))}:${pad(Math.floor(whole / 60) % 60)}:${pad(whole % 60)}`;
}
