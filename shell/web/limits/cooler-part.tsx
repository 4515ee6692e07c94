import { useMemo } from 'react';
import type { CoolerSeriesView, LimitPictures } from '../../contract/index.ts';
import { Plot } from '../drawing/plot.tsx';
import { Sideways } from '../drawing/sideways.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { soakFigure } from './picture-figures.ts';

/** How the charge cooler recovers after a pull, and what a series of pulls makes of it. */
export function CoolerPart({ soak }: Pick<LimitPictures, 'soak'>) {
  const writing = useWriting();
  const spec = useMemo(() => soakFigure(soak, writing), [soak, writing]);
  const { series, assumed } = soak;
  const all = [...new Set([...assumed, ...series.assumed])];
  return (
    <section aria-labelledby="soak">
      <h2 id="soak">The charge cooler recovers</h2>
      <Plot spec={spec} />
      <p className="quiet">
        Above the air outside. {series.ready}
        {all.length > 0 && ` Usual values, not stated: ${all.join(', ')}.`}
      </p>
      <SeriesTable series={series} />
    </section>
  );
}

function SeriesTable({ series: { pulls, pause } }: { readonly series: CoolerSeriesView }) {
  const writing = useWriting();
  const numbered = pulls.map((pull, at) => ({ ...pull, number: at + 1 }));
  const tank = pulls.some(({ water }) => water !== undefined);
  const rise = (value: number) => writing.text(value, 'temperature-difference', { decimals: 1 }).replace('Δ', '');
  return (
    <details>
      <summary>
        {pulls.length} such pulls, {(pause / 60).toFixed(0)} min between them
      </summary>
      <Sideways name="The charge cooler over a series of pulls">
        <table className="wide">
          <thead>
            <tr>
              <th scope="col">Pull</th>
              <th scope="col">begins</th>
              <th scope="col">ends</th>
              <th scope="col">charge then</th>
              {tank && <th scope="col">water then</th>}
              {tank && <th scope="col">ice left</th>}
            </tr>
          </thead>
          <tbody>
            {numbered.map(({ number, start, end, charge, water, ice }) => (
              <tr key={number}>
                <th scope="row">{number}</th>
                <td>{rise(start)}</td>
                <td>{rise(end)}</td>
                <td>{writing.text(charge, 'temperature', { decimals: 0 })}</td>
                {tank && <td>{writing.text(water, 'temperature', { decimals: 1 })}</td>}
                {tank && <td>{writing.text(ice ?? 0, 'mass', { decimals: 1 })}</td>}
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </details>
  );
}
