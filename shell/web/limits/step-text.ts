import { displayUnit, fromSi, KINDS, type QuantityKind } from '../../../core/quantities/index.ts';
import type { StepControl } from '../../contract/index.ts';

/** A number of the step that was turned: SI; undefined takes it back to what the day had. */
export interface Turned {
  readonly name: string;
  readonly value: number | undefined;
}

/** The step as it is written in the address: what was named before, with one number turned. Empty when everything is as on the day. */
export function stepText(controls: readonly StepControl[], turned: Turned): string {
  return controls
    .flatMap(({ name, word, kind, value, named }) => {
      const now = name === turned.name ? turned.value : named ? (value ?? undefined) : undefined;
      return now === undefined ? [] : [`${word} ${written(now, kind)}`];
    })
    .join(', ');
}

/** `215 kPa`, `3 °`, `0.85`: metric units, no more digits than a slider has. */
function written(value: number, kind: QuantityKind): string {
  const number = Number(fromSi(value, displayUnit(kind, 'metric')).toPrecision(6));
  const unit = KINDS[kind].metric;
  return unit === '1' ? `${number}` : `${number} ${unit}`;
}
