import type { StepMemory } from '../../day/pulls/index.ts';
import { Kept } from './kept.ts';

/** Answers that stay: those of about one long day with what it was an entry ago. @source our default */
const KEPT_STEPS = 800;

/** Remembers what was worked out about entries, in memory: what was asked for longest ago goes first. Everything in it can be thrown away. */
export class KeptSteps implements StepMemory {
  private readonly names = new WeakMap<object, string>();
  private readonly answers: Kept<() => void>;
  private count = 0;

  constructor(most = KEPT_STEPS) {
    this.answers = new Kept(most);
  }

  /** How many answers are kept now. */
  get size(): number {
    return this.answers.size;
  }

  readonly nameOf = (thing: object): string => {
    const known = this.names.get(thing);
    if (known !== undefined) return known;
    this.count += 1;
    const name = this.count.toString(36);
    this.names.set(thing, name);
    return name;
  };

  readonly recall = (step: object, key: string): (() => void) | undefined => this.answers.get(this.keyOf(step, key));

  readonly keep = (step: object, key: string, hand: () => void): void => this.answers.put(this.keyOf(step, key), hand);

  private keyOf(step: object, key: string): string {
    return `${this.nameOf(step)} ${key}`;
  }
}
