import type { PlotSpec } from './plot-spec.ts';
import { Sideways } from './sideways.tsx';

const MOST_ROWS = 60;

/** The numbers of a drawing as a table, thinned evenly to at most 60 rows, for those who cannot see the drawing. */
export function NumbersOf({ spec }: { readonly spec: PlotSpec }) {
  const [first] = spec.lines;
  if (!first) return null;
  const stride = Math.max(1, Math.ceil(first.x.length / MOST_ROWS));
  const rows = first.x.map((x, at) => ({ x, at })).filter(({ x, at }) => x !== null && at % stride === 0);
  const decimals = digitsOf(spec.lines.flatMap(({ y }) => y));
  const sameX = spec.lines.filter(({ x }) => x === first.x || x.length === first.x.length);
  return (
    <details className="numbers">
      <summary>The same in numbers</summary>
      <Sideways name={`${spec.label}, as numbers`}>
        <table>
          <thead>
            <tr>
              <th scope="col">{spec.xLabel}</th>
              {sameX.map(({ label }) => (
                <th scope="col" key={label}>
                  {label}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ x, at }) => (
              <tr key={at}>
                <th scope="row">{numberText(x, digitsOf(first.x))}</th>
                {sameX.map(({ label, y }) => (
                  <td key={label}>{numberText(y[at], decimals)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </details>
  );
}

/** Digits of the largest number that are told. @source our default */
const DIGITS = 4;

/** Decimals that all numbers of a column share: four digits of the largest, none where all are whole. */
export function digitsOf(values: readonly (number | null)[]): number {
  const known = values.filter((value) => value !== null).map(Math.abs);
  if (known.length === 0 || known.every(Number.isInteger)) return 0;
  const largest = known.reduce((one, other) => Math.max(one, other), 0);
  return Math.min(DIGITS, Math.max(0, DIGITS - 1 - Math.floor(Math.log10(largest))));
}

/** A number of a column; missing is `–`. */
export function numberText(value: number | null | undefined, decimals: number): string {
  return value === null || value === undefined ? '–' : value.toFixed(decimals).replace('-', '\u2212');
}
