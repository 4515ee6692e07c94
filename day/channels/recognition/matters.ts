import type { Proposal } from '../mapping.ts';
import type { Meaning } from '../meanings.ts';

/** Meanings without which no pull can be cut, joined or given a power: a doubt about one of them must be settled by a person. */
const NEEDED: ReadonlySet<Meaning> = new Set<Meaning>([
  'time',
  'row-counter',
  'roll-speed',
  'roll-rotation',
  'brake-force',
  'tractive-force',
  'roll-torque',
  'engine-speed',
]);

/** An alternative this likely counts as possible. @source our default */
const POSSIBLE = 0.2;

/** Whether the answer to a proposal's question changes what a pull made. Other questions can wait: their columns are simply not used. */
export function matters({ meaning, alternatives, question }: Proposal): boolean {
  if (question === undefined) return false;
  return NEEDED.has(meaning) || alternatives.some((one) => one.confidence >= POSSIBLE && NEEDED.has(one.meaning));
}
