/** What was worked out about a day, kept by whoever asks: which answers stay, and how long, is theirs to say. */
export interface StepMemory {
  /** The same name for the same thing, and never for another one. */
  readonly nameOf: (thing: object) => string;
  readonly recall: (step: object, key: string) => (() => void) | undefined;
  readonly keep: (step: object, key: string, hand: () => void) => void;
}

/**
 * The same function, worked out once for the same key in a memory; without a memory each time anew. What it is made from never changes,
 * so the kept answer is the answer to the bit.
 *
 * @param keyOf says everything that the answer depends on: things by their names, numbers and facts as they are
 */
export function keptStep<Input, Value>(
  compute: (input: Input) => Value,
  keyOf: (input: Input, nameOf: StepMemory['nameOf']) => string,
): (input: Input, memory: StepMemory | undefined) => Value {
  const step = {};
  // A kept answer is handed over through this hand, so that one memory can hold answers of every type.
  const hand: { value: readonly Value[] } = { value: [] };
  return (input, memory) => {
    if (!memory) return compute(input);
    const key = keyOf(input, memory.nameOf);
    const recall = memory.recall(step, key);
    if (recall) {
      recall();
      return hand.value[0];
    }
    const value = compute(input);
    memory.keep(step, key, () => {
      hand.value = [value];
    });
    return value;
  };
}
