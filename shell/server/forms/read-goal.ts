import { answered, type Outcome, parseQuantity, refused } from '../../../core/quantities/index.ts';
import type { Goal } from '../../../day/plans/index.ts';

/** Reads `900 N·m`, `400 kW`, either with `at 4000 rpm` behind it. */
export function readGoal(text: string): Outcome<Goal> {
  const [wanted = '', place, ...rest] = text.split(/\s+at\s+/i);
  if (rest.length > 0) return bad(text);
  const speed = place === undefined ? undefined : parseQuantity(place, 'engine-speed');
  if (speed?.ok === false) return speed;
  const at = speed === undefined ? {} : { at: speed.value.value };
  if (speed && !(speed.value.value > 0)) return bad(text);
  const torque = parseQuantity(wanted, 'torque');
  if (torque.ok) return torque.value.value > 0 ? answered({ torque: torque.value.value, ...at }) : bad(text);
  const power = parseQuantity(wanted, 'power');
  if (power.ok) return power.value.value > 0 ? answered({ power: power.value.value, ...at }) : bad(text);
  return bad(text);
}

function bad<Value>(text: string): Outcome<Value> {
  return refused({
    kind: 'invalid-goal',
    message: `invalid goal: "${text}", expected torque or power above zero such as 900 N·m, 400 kW, or 900 N·m at 4000 rpm`,
    numbers: { value: text },
  });
}
