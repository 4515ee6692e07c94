import { answered, KINDS, type Outcome, refused, type Unit, unitNamed } from '../../core/quantities/index.ts';
import { type Column, type ColumnMapping, MEANINGS, type Meaning, type Table } from '../../day/channels/index.ts';
import { nearMiss } from '../store/index.ts';
import { exampleUnits } from './example-units.ts';
import { type Numbers, numbersOf, pressureZero } from './written-numbers.ts';

export const COLUMN_HELP = [
  '  --column TEXT      decide a column: "P1 = manifold pressure, kPa"; repeat it for more. The name as the file has it, with',
  '                     or without its unit. After the comma: a unit, what the numbers are divided by ("AFR = lambda, /14.7";',
  '                     /-1 turns the sign), and for a pressure from where it counts ("MAP = manifold pressure, psi above',
  '                     ambient", or absolute)',
];

/** What `--column` says, before it is known which file has that column. */
interface Asking {
  readonly text: string;
  readonly name: string;
  readonly meaning: Meaning;
  readonly numbers: Numbers;
}

const FORM = /^(.*?)\s*=\s*([^,=]+?)\s*(?:,\s*(.+?)\s*)?$/;

/** Reads `--column "P1 = manifold pressure, kPa"` for one table. A column that it does not have is left to the other files. */
export function columnDecisions(texts: readonly string[], table: Table): Outcome<readonly ColumnMapping[]> {
  const decided: ColumnMapping[] = [];
  for (const text of texts) {
    const asking = askingOf(text);
    if (!asking.ok) return asking;
    for (const column of columnsNamed(asking.value.name, table)) {
      const one = decisionOf(asking.value, column);
      if (!one.ok) return one;
      decided.push(one.value);
    }
  }
  return answered(decided);
}

/** Refuses a name that none of these tables has: what there is, the nearest first. */
export function checkedColumns(texts: readonly string[], tables: readonly Table[]): Outcome<void> {
  for (const text of texts) {
    const asking = askingOf(text);
    if (!asking.ok) return asking;
    const { name } = asking.value;
    if (tables.some((table) => columnsNamed(name, table).length > 0)) continue;
    const names = [...new Set(tables.flatMap(({ columns }) => columns.map(headerOf)))];
    const plain = new Map(tables.flatMap(({ columns }) => columns.map((one) => [one.name, headerOf(one)])));
    const miss = nearMiss(name, [...plain.keys(), ...names]);
    const near = miss === undefined ? undefined : (plain.get(miss) ?? miss);
    const rest = names.filter((one) => one !== near);
    const hint = near === undefined ? '' : `did you mean "${near}"? `;
    const also = near === undefined ? 'columns' : 'other columns';
    return invalid(text, `unknown column "${name}": ${hint}The ${also} are ${rest.join(' · ')}`);
  }
  return answered(undefined);
}

function askingOf(text: string): Outcome<Asking> {
  const match = FORM.exec(text.trim());
  const name = match?.[1];
  const wanted = match?.[2]?.toLowerCase().replaceAll(' ', '-');
  if (name === undefined || name === '' || wanted === undefined)
    return invalid(text, 'expected "NAME = MEANING, UNIT"');
  if (!isMeaning(wanted)) {
    const near = nearMiss(wanted, Object.keys(MEANINGS))?.replaceAll('-', ' ');
    const hint = near === undefined ? '' : `; did you mean ${near}?`;
    return invalid(text, `expected a meaning from \`knurl read --meanings\`${hint}`);
  }
  const numbers = numbersOf(match?.[3] ?? '');
  return numbers.ok
    ? answered({ text, name, meaning: wanted, numbers: numbers.value })
    : invalid(text, numbers.refusal.message);
}

/** The column of exactly that name, else the one whose header, unit and brackets and all, reads so. */
function columnsNamed(name: string, { columns }: Table): readonly Column[] {
  const exact = columns.filter((one) => one.name === name);
  if (exact.length > 0) return exact;
  const header = bare(name);
  const alike = columns.filter((one) => one.unit !== '' && bare(`${one.name}${one.unit}`) === header);
  return alike.length === 1 ? alike : [];
}

function bare(text: string): string {
  return text.replaceAll(/[\s()[\]{}<>"',;:/|]/g, '');
}

function headerOf({ name, unit }: Column): string {
  return unit === '' ? name : `${name} (${unit})`;
}

function decisionOf({ text, meaning, numbers }: Asking, column: Column): Outcome<ColumnMapping> {
  const { kind } = MEANINGS[meaning];
  const unit = unitFor(meaning, numbers, column);
  if (!unit) return invalid(text, `expected a unit after the comma, such as ${exampleUnits(kind)}`);
  const zero = numbers.zero ?? (numbers.unit === undefined ? pressureZero(column.unit) : undefined);
  if (numbers.zero !== undefined && NATURAL_ZERO[kind] === undefined)
    return invalid(
      text,
      `only a pressure counts from vacuum or from ambient, ${meaning.replaceAll('-', ' ')} does not`,
    );
  const natural = NATURAL_ZERO[kind];
  return answered({
    ...{ column: column.name, meaning, unit: unit.symbol, confirmed: true },
    ...(numbers.divisor === undefined ? {} : { divisor: numbers.divisor }),
    ...(zero === undefined || natural === undefined || zero === natural ? {} : { zero }),
  });
}

/** From where a kind of pressure counts by itself. A barometer and a difference have no other choice. */
const NATURAL_ZERO: Readonly<Record<string, 'vacuum' | 'ambient'>> = {
  'absolute-pressure': 'vacuum',
  'gauge-pressure': 'ambient',
};

/** The unit that was written, else the file's own, else 1 where plain numbers are natural. Undefined when it fits no such quantity. */
function unitFor(meaning: Meaning, { unit: asked, divisor }: Numbers, column: Column): Unit | undefined {
  const { dimension, metric } = KINDS[MEANINGS[meaning].kind];
  const isFree = meaning === 'unknown' || meaning === 'text';
  const fits = (unit: Unit | undefined): Unit | undefined =>
    unit && (isFree || unit.dimension === dimension) ? unit : undefined;
  if (asked !== undefined) return fits(unitNamed(asked));
  const isPlain = dimension === 'ratio' && (metric === '1' || divisor !== undefined || isFree);
  return fits(unitNamed(column.unit)) ?? (isPlain ? unitNamed('1') : undefined);
}

function isMeaning(text: string): text is Meaning {
  return Object.hasOwn(MEANINGS, text);
}

function invalid<Value>(text: string, expected: string): Outcome<Value> {
  return refused({
    kind: 'invalid-option',
    message: `invalid --column: "${text}", ${expected}`,
    numbers: { value: text },
  });
}
