import type { StepControl } from '../../contract/index.ts';

/** What a hand turned and no answer has confirmed yet: SI; undefined takes it back to what the day had. */
export type TurnedControls = ReadonlyMap<string, number | undefined>;

/** The controls as the hand has them: the answer may still be on its way. */
export function turnedControls(controls: readonly StepControl[], turned: TurnedControls): readonly StepControl[] {
  if (turned.size === 0) return controls;
  return controls.map((control) => {
    if (!turned.has(control.name)) return control;
    const value = turned.get(control.name);
    return { ...control, value: value ?? control.value, named: value !== undefined };
  });
}
