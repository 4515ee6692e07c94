/** The same value for JSON: typed arrays as arrays, NaN and infinities as null, maps as objects, functions left out. */
export function plainJson(value: unknown): unknown {
  if (typeof value === 'number') return Number.isFinite(value) ? value : null;
  if (value === null || value === undefined || typeof value === 'string' || typeof value === 'boolean') return value;
  if (typeof value === 'function') return undefined;
  if (ArrayBuffer.isView(value) && Symbol.iterator in value) return Array.from(value as Iterable<number>, plainJson);
  if (Array.isArray(value)) return value.map(plainJson);
  if (value instanceof Map) return Object.fromEntries([...value].map(([key, part]) => [String(key), plainJson(part)]));
  if (typeof value === 'object')
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, plainJson(part)]));
  return String(value);
}

/** Text of an answer for programs. */
export function jsonText(value: unknown): string {
  return JSON.stringify(plainJson(value), undefined, 2);
}
