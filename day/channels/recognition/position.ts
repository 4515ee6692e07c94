import type { Meaning } from '../meanings.ts';
import type { Concept } from './concepts.ts';
import type { NameReading } from './reading.ts';

/** Meanings that engines have once per bank, so that a lone A or B names the bank. @source common practice, no source */
const PER_BANK: ReadonlySet<Meaning> = new Set<Meaning>([
  ...(['lambda', 'lambda-target', 'cam-angle', 'cam-target', 'exhaust-temperature', 'exhaust-pressure'] as const),
  ...(['charge-temperature', 'knock-level', 'knock-retard', 'manifold-pressure', 'turbo-speed', 'air-flow'] as const),
]);

const SIDES: readonly (readonly [Concept, string])[] = [
  ['driven', 'driven'],
  ['undriven', 'non-driven'],
  ['front', 'front'],
  ['rear', 'rear'],
  ['left', 'left'],
  ['right', 'right'],
];

/** Which of several alike a name means: `bank A`, `cylinder 3`, `driven left`, `intake`; undefined when it does not say. */
export function positionOf(meaning: Meaning, reading: NameReading): string | undefined {
  const { concepts, tags } = reading;
  const tag = tags.find((text) => /^(\d+|[A-H])$/.test(text));
  const parts: string[] = [];
  const cam = meaning === 'cam-angle' || meaning === 'cam-target';
  if (cam && (concepts.includes('intake') || concepts.includes('inlet'))) parts.push('intake');
  if (cam && concepts.includes('exhaust')) parts.push('exhaust');
  if (concepts.includes('bank') && tag) parts.push(`bank ${tag}`);
  else if (concepts.includes('cylinder') && tag) parts.push(`cylinder ${tag}`);
  else if (tag && PER_BANK.has(meaning) && /^[AB]$/.test(tag)) parts.push(`bank ${tag}`);
  else if (tag) parts.push(tag);
  for (const [concept, word] of SIDES) if (concepts.includes(concept)) parts.push(word);
  return parts.length === 0 ? undefined : parts.join(' ');
}
