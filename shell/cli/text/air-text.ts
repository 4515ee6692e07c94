import type { EntryResult, FactorLine } from '../../../day/pulls/index.ts';
import { airInWords } from '../../../day/reports/index.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable, wrapped } from './table.ts';

/** State of the air with where it comes from, and every rule's factor beside the others. */
export function airLines({ conditions }: EntryResult, { system, width }: TextStyle): readonly string[] {
  const { chosen, pressure } = conditions;
  const known = airInWords(conditions, system);
  const rows = conditions.factors
    .filter(({ rule }) => rule !== 'none')
    .map((line) => [line.rule, factorText(line), line.valid ? 'yes' : 'no', whyText(line)]);
  const columns = [
    { heading: 'ambient rule' },
    { heading: 'factor', align: 'right' as const },
    { heading: 'valid here' },
    { heading: 'why', wraps: true },
  ];
  const hint = 'A barometer is a fact: --fact "pressure = 29 inHg" here, or under ambient: in day.yaml.';
  return [
    '',
    wrapped(`Air: ${known.join(', ')}`, width, '  '),
    ...(pressure ? [] : [indented(wrapped(hint, width - 2))]),
    `  In force: ${chosen.rule === 'none' ? 'none, power as measured' : chosen.rule}`,
    indented(textTable(columns, rows, width - 2)),
  ];
}

function factorText({ factor, standardUncertainty }: FactorLine): string {
  if (factor === undefined) return '–';
  return `${factor.toFixed(4)}${standardUncertainty === undefined ? '' : ` ± ${(2 * standardUncertainty).toFixed(4)}`}`;
}

/** The row names the rule already. */
function whyText({ rule, why }: FactorLine): string {
  return why.replaceAll(`${rule}: `, '');
}
