import type { PlotSpec } from './plot-spec.ts';
import { Sideways } from './sideways.tsx';

const MOST_ROWS = 60;

/** The numbers of a drawing as a table, thinned evenly to at most 60 rows, for those who cannot see the drawing. */
export function NumbersOf({ spec }: { readonly spec: PlotSpec }) {
  const [first] = spec.lines;
  if (!first) return null;
  const stride = Math.max(1, Math.ceil(first.x.length / MOST_ROWS));
  const rows = first.x.map((x, at) => ({ x, at })).filter(({ x, at }) => x !== null && at % stride === 0);
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
                <th scope="row">{number(x)}</th>
                {sameX.map(({ label, y }) => (
                  <td key={label}>{number(y[at] ?? null)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </details>
  );
}

function number(value: number | null): string {
  return value === null ? '–' : String(Number(value.toPrecision(5)));
}
