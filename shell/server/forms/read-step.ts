import { answered, formatQuantity, type Outcome } from '../../../core/quantities/index.ts';
import { type Step, stepOf } from '../../../day/plans/index.ts';
import type { DayEngine } from '../../desk/index.ts';
import type { AskedStep } from '../encode/limits.ts';

/** The step that was written, on top of what was driven last: `gap 0.55 mm` alone keeps the day's manifold pressure. */
export function readStep(engine: DayEngine, text = ''): Outcome<AskedStep> {
  const written = text.trim();
  if (written === '') return answered({ engine, step: engine.step, named: {}, findings: [] });
  const alone = stepOf(written);
  if (alone.ok) return answered({ engine, step: alone.value.step, named: alone.value.step, findings: alone.findings });
  if (alone.refusal.kind !== 'missing-manifold-pressure') return alone;
  const pressure = formatQuantity(engine.step.manifoldPressure, 'absolute-pressure', { decimals: 3 });
  const whole = stepOf(`${written}, MAP ${pressure}`);
  if (!whole.ok) return whole;
  const { manifoldPressure: _, ...named } = whole.value.step;
  const step: Step = { ...whole.value.step, manifoldPressure: engine.step.manifoldPressure };
  return answered({ engine, step, named, findings: whole.findings });
}
