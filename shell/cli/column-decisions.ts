import { answered, type Outcome, refused, unitNamed } from '../../core/quantities/index.ts';
import { type ColumnMapping, MEANINGS, type Meaning, type Table } from '../../day/channels/index.ts';

const FORM = /^(.*?)\s*=\s*([^,=]+?)\s*(?:,\s*(.+?)\s*)?$/;

/** Reads `--column "P1 = manifold pressure, kPa"`. A column that this table does not have is left to the other files. */
export function columnDecisions(texts: readonly string[], table: Table): Outcome<readonly ColumnMapping[]> {
  const decided: ColumnMapping[] = [];
  for (const text of texts) {
    const match = FORM.exec(text.trim());
    const name = match?.[1];
    const wanted = match?.[2]?.toLowerCase().replaceAll(' ', '-');
    if (name === undefined || wanted === undefined) return invalid(text, '"NAME = MEANING, UNIT"');
    if (!isMeaning(wanted)) return invalid(text, 'a meaning from `knurl read --meanings`');
    const column = table.columns.find((one) => one.name === name);
    if (!column) continue;
    const unit = unitNamed(match?.[3] ?? column.unit);
    if (!unit) return invalid(text, `a unit after the comma, such as ${MEANINGS[wanted].kind}`);
    decided.push({ column: name, meaning: wanted, unit: unit.symbol, confirmed: true });
  }
  return answered(decided);
}

function isMeaning(text: string): text is Meaning {
  return Object.hasOwn(MEANINGS, text);
}

function invalid(text: string, expected: string): Outcome<readonly ColumnMapping[]> {
  return refused({
    kind: 'invalid-option',
    message: `invalid --column: "${text}", expected ${expected}`,
    numbers: { value: text },
  });
}
