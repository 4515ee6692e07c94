/** What was worked out about one scene, kept with the scene itself: by question, then by what it was asked with. */
export type Memory = Map<object, Map<unknown, () => void>>;

export function emptyMemory(): Memory {
  return new Map();
}

/**
 * The same function, worked out once per scene and argument: a scene never changes, so neither do answers about it. What it keeps lives as
 * long as the scene.
 */
export function kept<Scene extends { readonly memory: Memory }, Known, Value>(
  compute: (scene: Scene, known: Known) => Value,
): (scene: Scene, known: Known) => Value {
  const question = {};
  // A kept answer is handed over through this hand, so that one memory can hold answers of every type.
  const hand: { value: readonly Value[] } = { value: [] };
  return (scene, known) => {
    const answers = scene.memory.get(question) ?? new Map<unknown, () => void>();
    scene.memory.set(question, answers);
    const recall = answers.get(known);
    if (recall) recall();
    else {
      const value = [compute(scene, known)];
      answers.set(known, () => {
        hand.value = value;
      });
      hand.value = value;
    }
    return hand.value[0];
  };
}

/** The same for a question that is about the scene alone. */
export function keptOf<Scene extends { readonly memory: Memory }, Value>(
  compute: (scene: Scene) => Value,
): (scene: Scene) => Value {
  const ask = kept((scene: Scene, _: undefined) => compute(scene));
  return (scene) => ask(scene, undefined);
}
