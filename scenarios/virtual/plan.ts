import { type Chance, chanceOf } from '../random.ts';
import type { Nature } from './nature.ts';

/** An entry of the day. pull: its number from 1. target: change of the manifold pressure target [Pa]. */
export interface VirtualEntry {
  readonly id: string;
  readonly kind: 'pull' | 'coast-down';
  readonly clutch: 'open' | 'in gear';
  readonly pull: number;
  readonly clockStart: number;
  readonly target: number;
  readonly last: boolean;
}

/** Coast-downs, three to seven pulls, coast-downs; on some days one early pull at another boost. */
export function planDay(nature: Nature, given: { pulls?: number | undefined; inGear: boolean }): VirtualEntry[] {
  const chance = chanceOf(nature.seed, 'virtual plan');
  const pulls = given.pulls ?? chance.integer(3, 7);
  const geared = nature.engine.transmission === 'manual' && (given.inGear || chance.uniform() < 0.5);
  const step = stepOf(nature, chance);
  const stepped = step !== 0 && pulls >= 5 ? 2 : 0;
  const kinds: Omit<VirtualEntry, 'clockStart'>[] = [];
  let coasts = 0;
  const coast = (clutch: 'open' | 'in gear', last: boolean): void => {
    coasts += 1;
    kinds.push({ id: `C${coasts}`, kind: 'coast-down', clutch, pull: 0, target: 0, last });
  };
  coast('open', false);
  if (geared) coast('in gear', false);
  for (let k = 1; k <= pulls; k += 1) {
    const target = k === stepped ? step : 0;
    kinds.push({ id: String(k), kind: 'pull', clutch: 'open', pull: k, target, last: k === pulls });
  }
  coast('open', true);
  if (geared) coast('in gear', true);
  const start = 9 * 60 + chance.integer(0, 240);
  return kinds.map((entry, index) => ({ ...entry, clockStart: (start + 6 * index) * 60 + 3.217 }));
}

function stepOf({ engine }: Nature, chance: Chance): number {
  const wanted = chance.uniform() < 0.3 ? chance.pick([-10e3, 8e3]) : 0;
  return engine.target > 0 ? wanted : 0;
}
