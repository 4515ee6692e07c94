import type { Address } from './address.ts';

/** What a key does on a page of a day. */
export type KeyAction =
  | { readonly kind: 'go'; readonly to: Address }
  | { readonly kind: 'keys' | 'theme' | 'units' | 'turn-axis' | 'before' | 'after' | 'undo' };

/** Every short cut: key, what it does, where. Shown behind `?`. */
export const KEY_MAP: readonly { readonly key: string; readonly does: string }[] = [
  { key: '?', does: 'this map' },
  { key: 'a', does: 'all days' },
  { key: 'd', does: 'the day as a strip' },
  { key: 's', does: 'pulls side by side' },
  { key: 'f', does: 'what is known: facts' },
  { key: 'c', does: 'what would show: channels and faults' },
  { key: 'm', does: 'what comes first: margins' },
  { key: 'w', does: 'what decides: limits' },
  { key: 'g', does: 'before a pull' },
  { key: 'b', does: 'bring logs in' },
  { key: '[', does: 'the entry before' },
  { key: ']', does: 'the entry after' },
  { key: 'x', does: 'traces against time or engine speed' },
  { key: 'z', does: 'undo the last change of facts' },
  { key: 't', does: 'next light: light, dark, sunlight' },
  { key: 'u', does: 'metric or imperial, all together' },
  { key: '← →', does: 'move the cursor of a drawing, or along the strip, when it has the focus' },
];

/** What a single key means here; undefined when it means nothing. */
export function keyAction(key: string, address: Address): KeyAction | undefined {
  const day = 'day' in address ? address.day : undefined;
  const simple = SIMPLE[key];
  if (simple) return { kind: simple };
  if (key === 'a') return { kind: 'go', to: { page: 'days' } };
  if (key === 'b') return { kind: 'go', to: { page: 'bring', ...(day !== undefined && { day }), sources: [] } };
  if (day === undefined) return undefined;
  const page = PAGES[key];
  return page ? { kind: 'go', to: { page, day } } : undefined;
}

const SIMPLE: Readonly<Record<string, Exclude<KeyAction['kind'], 'go'>>> = {
  '?': 'keys',
  t: 'theme',
  u: 'units',
  x: 'turn-axis',
  z: 'undo',
  '[': 'before',
  ']': 'after',
};

const PAGES: Readonly<Record<string, 'day' | 'overlay' | 'facts' | 'coverage' | 'limits' | 'margins' | 'gate'>> = {
  d: 'day',
  s: 'overlay',
  f: 'facts',
  c: 'coverage',
  w: 'limits',
  m: 'margins',
  g: 'gate',
};
