import type { PullVerdict } from '../../verdicts/index.ts';
import { foresightOf } from '../limits/at.ts';
import { type DayModelInput, dayModel } from '../model/day-model.ts';
import type { EngineModel } from '../model/engine-model.ts';
import { LESSONS } from './lessons.ts';
import { type JudgedPull, momentsOf } from './moment.ts';

/**
 * The day's engine with the borders that its own pulls showed: where it knocked, broke up, slipped, lifted its head or ran short of fuel, and
 * where it did not. A verdict that a person overruled teaches nothing.
 */
export function taughtModel(input: DayModelInput): EngineModel {
  const model = dayModel(input);
  const foresight = foresightOf(model);
  const pulls = judgedPulls(input).map((pull) => ({ ...pull, moments: momentsOf(foresight, pull) }));
  const borders = LESSONS.flatMap((lesson) => lesson(foresight, pulls) ?? []);
  if (borders.length === 0) return model;
  const values = new Map([...model.values, ...borders.map((border) => [border.name, border] as const)]);
  return { ...model, values };
}

function judgedPulls({ verdicts, results }: DayModelInput): readonly JudgedPull[] {
  return verdicts.pulls.flatMap((verdict: PullVerdict, i) => {
    const scene = verdicts.asked[i]?.scene;
    const result = results.get(verdict.entry);
    return scene && result ? [{ verdict, scene, result }] : [];
  });
}
