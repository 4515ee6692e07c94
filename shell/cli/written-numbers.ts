import { answered, type Outcome, refused, unitNamed } from '../../core/quantities/index.ts';

/** How the numbers of a column are written: unit, divisor, and from where a pressure counts. */
export interface Numbers {
  readonly unit?: string;
  readonly divisor?: number;
  readonly zero?: 'vacuum' | 'ambient';
}

const ABOVE = /\s*\b(?:above ambient|gauge)$/i;
const ABSOLUTE = /\s*\b(?:absolute|above vacuum|abs)$/i;
/** Letters behind a unit of pressure that say from where it counts; `inHg` ends in a g of its own. @source common practice, no source */
const LETTER = /^(?:psi|bar|mbar|hpa|kpa|mpa|pa)\s*\(?(a|g)\)?$/i;

/** Reads what stands behind the comma: `kPa`, `/14.7`, `psi above ambient`, `bar absolute`, in any order between commas. */
export function numbersOf(text: string): Outcome<Numbers> {
  let numbers: Numbers = {};
  for (const part of text.split(',').map((one) => one.trim())) {
    if (part === '') continue;
    const divided = /^(?:\/|÷|divided by)\s*(.+)$/i.exec(part);
    if (divided) {
      const divisor = Number(divided[1]);
      if (divisor === 0 || !Number.isFinite(divisor))
        return no('expected a number other than zero after the stroke, /14.7');
      numbers = { ...numbers, divisor };
      continue;
    }
    const zero = pressureZero(part);
    const unit = part.replace(ABOVE, '').replace(ABSOLUTE, '').trim();
    if (numbers.unit !== undefined && unit !== '')
      return no(`expected one unit, a divisor such as /14.7, absolute or above ambient, not "${part}"`);
    numbers = { ...numbers, ...(unit === '' ? {} : { unit }), ...(zero === undefined ? {} : { zero }) };
  }
  return answered(numbers);
}

/** From where a written unit of pressure says that it counts: `psi above ambient`, `bar(g)`, `kPa abs`. */
export function pressureZero(text: string): 'vacuum' | 'ambient' | undefined {
  const trimmed = text.trim();
  if (ABOVE.test(trimmed)) return 'ambient';
  if (ABSOLUTE.test(trimmed)) return 'vacuum';
  const letter = LETTER.exec(trimmed)?.[1]?.toLowerCase();
  if (letter === undefined || unitNamed(trimmed)?.dimension !== 'pressure') return undefined;
  return letter === 'g' ? 'ambient' : 'vacuum';
}

function no(message: string): Outcome<Numbers> {
  return refused({ kind: 'invalid-option', message });
}
