import { parseQuantity } from '../../../core/quantities/index.ts';
import type { EntryFacts } from '../../pulls/index.ts';

/** Settings of an entry as written: `gap` → `0.55 mm`. */
export type Settings = EntryFacts['settings'];

/** How many changes of parts came before an entry; undefined when the entries are not known. */
export function blockOf(id: string, entries: readonly EntryFacts[] | undefined): number | undefined {
  const at = entries?.findIndex((entry) => entry.id === id) ?? -1;
  if (!entries || at < 0) return undefined;
  return entries.slice(0, at).filter(({ kind }) => kind === 'change').length;
}

/** Names of the settings that both entries state and state differently. A number is compared by value, whatever its unit is written as. */
export function differingSettings(one: Settings, other: Settings): readonly string[] {
  return Object.keys(one).filter((name) => Object.hasOwn(other, name) && !sameSetting(one[name], other[name]));
}

function sameSetting(one: string, other: string): boolean {
  const plain = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, ' ').replace(',', '.');
  if (plain(one) === plain(other)) return true;
  const [a, b] = [pressureOf(one), pressureOf(other)];
  if (a !== undefined && b !== undefined) return Math.abs(a - b) < 1;
  const numbers = [one, other].map((text) => Number(/^[+-]?[\d.]+/.exec(plain(text))?.[0] ?? Number.NaN));
  const units = [one, other].map((text) => plain(text).replace(/^[+-]?[\d.]+\s*/, ''));
  return numbers[0] === numbers[1] && units[0] === units[1];
}

/** How far apart two settings are when both are pressures [Pa]; NaN when they are not. */
export function pressureApart(one: string, other: string): number {
  return (pressureOf(one) ?? Number.NaN) - (pressureOf(other) ?? Number.NaN);
}

/** A setting in Pa; undefined when it is none. A bare number is no pressure. */
function pressureOf(text: string): number | undefined {
  if (/^[+-]?[\d.,]+$/.test(text.trim())) return undefined;
  const read = parseQuantity(text, 'absolute-pressure');
  return read.ok ? read.value.value : undefined;
}
