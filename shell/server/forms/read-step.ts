import { answered, formatQuantity, type Outcome, refused } from '../../../core/quantities/index.ts';
import { coolerStateOf, type Step, stepOf } from '../../../day/plans/index.ts';
import type { DayEngine } from '../../desk/index.ts';
import type { AskedStep } from '../encode/limits.ts';

/** The step that was written, on top of what was driven last: `gap 0.55 mm` alone keeps the day's manifold pressure. */
export function readStep(engine: DayEngine, text = ''): Outcome<AskedStep> {
  const written = text.trim();
  if (written === '') return answered({ engine, step: engine.step, named: {}, findings: [] });
  const alone = stepOf(written);
  if (alone.ok) return withTank({ engine, step: alone.value.step, named: alone.value.step, findings: alone.findings });
  if (alone.refusal.kind !== 'missing-manifold-pressure') return alone;
  const pressure = formatQuantity(engine.step.manifoldPressure, 'absolute-pressure', { decimals: 3 });
  const whole = stepOf(`${written}, MAP ${pressure}`);
  if (!whole.ok) return whole;
  const { manifoldPressure: _, ...named } = whole.value.step;
  const step: Step = { ...whole.value.step, manifoldPressure: engine.step.manifoldPressure };
  return withTank({ engine, step, named, findings: whole.findings });
}

/** Ice and water of the charge cooler mean nothing where it has no tank: that is refused, not passed over. */
function withTank(asked: AskedStep): Outcome<AskedStep> {
  const { water, ice } = asked.named;
  const tank = coolerStateOf(asked.engine.model, asked.step)?.kind === 'water-to-air';
  if (tank || (water === undefined && ice === undefined)) return answered(asked);
  const word = ice === undefined ? 'water' : 'ice';
  return refused({
    kind: 'no-tank',
    message: `invalid step: ${word} belongs to a charge cooler with a tank of water; this one is cooled by air (state cooler kind and cooler water in the facts)`,
  });
}
