import { answered, type Outcome, parseQuantity, type QuantityKind, refused } from '../../../core/quantities/index.ts';
import type { ScaleRead } from '../../../day/plans/index.ts';

/** What is carried where, as it was written: texts with units; empty stays as it was. */
export interface ScaledQuestion {
  readonly from?: string | undefined;
  readonly displacement?: string | undefined;
  readonly cylinders?: string | undefined;
  readonly ambientPressure?: string | undefined;
  readonly ambientTemperature?: string | undefined;
}

type Written = Exclude<keyof ScaledQuestion, 'from'>;

const TARGETS: Readonly<Record<Written, { readonly kind: QuantityKind; readonly words: string }>> = {
  displacement: { kind: 'volume', words: 'displacement' },
  cylinders: { kind: 'count', words: 'number of cylinders' },
  ambientPressure: { kind: 'barometric-pressure', words: 'pressure outside' },
  ambientTemperature: { kind: 'temperature', words: 'temperature outside' },
};

/** Reads what the page's fields say. A number that cannot be read is refused with the field's name. */
export function readScaled(question: ScaledQuestion): Outcome<ScaleRead> {
  const found: [string, number][] = [];
  for (const name of ['displacement', 'cylinders', 'ambientPressure', 'ambientTemperature'] as const) {
    const text = question[name]?.trim() ?? '';
    if (text === '') continue;
    const { kind, words } = TARGETS[name];
    const read = name === 'cylinders' ? wholeNumber(text) : parseQuantity(text, kind);
    if (!read.ok) return refused({ ...read.refusal, message: `${words}: ${read.refusal.message}` });
    const { value } = read.value;
    if (!(value > 0))
      return refused({ kind: 'invalid-number', message: `invalid ${words}: "${text}", expected above 0` });
    found.push([name, value]);
  }
  const from = question.from === undefined ? {} : { from: question.from };
  return answered({ ...from, to: Object.fromEntries(found) });
}

const MOST_CYLINDERS = 24;

function wholeNumber(text: string): Outcome<{ readonly value: number }> {
  const value = Number(text);
  if (Number.isInteger(value) && value > 0 && value <= MOST_CYLINDERS) return answered({ value });
  const message = `invalid number: "${text}", expected a whole number from 1 to ${MOST_CYLINDERS}`;
  return refused({ kind: 'invalid-number', message, numbers: { value: text } });
}
