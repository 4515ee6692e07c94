import { formatQuantity } from '../../../core/quantities/index.ts';
import type { BudgetLine, PullResult } from '../../../day/pulls/index.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable } from './table.ts';

/** Pulls that stand side by side. @source our default: what a window of 100 characters holds */
const SIDE_BY_SIDE = 4;

/** Contributions to the uncertainty: of one pull at roll, wheel and engine; of several pulls each at its furthest known power. */
export function budgetTables(pulls: readonly BudgetedPull[], style: TextStyle): readonly string[] {
  const known = pulls
    .map((pull, i) => ({ pull, number: i + 1 }))
    .filter(({ pull }) => !pull.refusal && pull.budget.length > 0);
  const [first] = known;
  if (!first) return [];
  if (pulls.length === 1) return table(first.pull.budget, ROLL_TO_ENGINE, style);
  const parts = Array.from({ length: Math.ceil(known.length / SIDE_BY_SIDE) }, (_, k) =>
    known.slice(k * SIDE_BY_SIDE, (k + 1) * SIDE_BY_SIDE),
  );
  return parts.flatMap((part) => {
    const lines = togetherLines(part);
    const columns = part.map(({ pull: { budget }, number }): Column => {
      const what = furthest(budget);
      return {
        heading: `pull ${number}, ${what === 'tyre' ? 'wheel' : what}`,
        value: ({ name }) => budget.find((line) => line.name === name)?.[what] ?? Number.NaN,
      };
    });
    return table(lines, columns, style);
  });
}

/** A line for each contribution of any of these pulls; where they took it from different places, each pull's is named. */
function togetherLines(
  pulls: readonly { readonly pull: BudgetedPull; readonly number: number }[],
): readonly BudgetLine[] {
  const told = pulls.flatMap(({ pull, number }) => pull.budget.map((line) => ({ line, number })));
  return [...Map.groupBy(told, ({ line }) => line.name).values()].flatMap((group) => {
    const [first] = group;
    if (!first) return [];
    const origins = [...Map.groupBy(group, ({ line }) => line.origin)];
    const texts = origins.map(
      ([origin, from]) =>
        `${from.length > 1 ? 'pulls' : 'pull'} ${from.map(({ number }) => number).join(', ')}: ${origin}`,
    );
    return [{ ...first.line, origin: origins.length > 1 ? texts.join('; ') : first.line.origin }];
  });
}

type BudgetedPull = Pick<PullResult, 'budget' | 'refusal'>;

interface Column {
  readonly heading: string;
  readonly value: (line: BudgetLine) => number;
}

const ROLL_TO_ENGINE: readonly Column[] = [
  { heading: 'roll', value: ({ roll }) => roll },
  { heading: 'wheel', value: ({ tyre }) => tyre },
  { heading: 'engine', value: ({ engine }) => engine },
];

/** The power that is furthest up the chain and known: one contribution without a value means that it is not. */
function furthest(budget: readonly BudgetLine[]): 'engine' | 'tyre' | 'roll' {
  if (budget.every(({ engine }) => Number.isFinite(engine))) return 'engine';
  return budget.every(({ tyre }) => Number.isFinite(tyre)) ? 'tyre' : 'roll';
}

function table(
  lines: readonly BudgetLine[],
  columns: readonly Column[],
  { system, width }: TextStyle,
): readonly string[] {
  const watts = (value: number): string => formatQuantity(value, 'power', { system, decimals: 2 });
  const rows = lines.map((line) => [
    line.name,
    ...columns.map(({ value }) => watts(value(line))),
    line.sharing,
    line.origin,
  ]);
  const headings = columns.map(({ heading }) => ({ heading, align: 'right' as const }));
  return [
    '',
    indented(
      textTable(
        [{ heading: '1 standard deviation of' }, ...headings, { heading: 'pulls' }, { heading: 'from', wraps: true }],
        rows,
        width - 2,
      ),
    ),
  ];
}
