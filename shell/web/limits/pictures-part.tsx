import { useMemo } from 'react';
import { type LimitPictures, limitPictures } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { Legend } from '../drawing/legend.tsx';
import { Plot } from '../drawing/plot.tsx';
import { Sideways } from '../drawing/sideways.tsx';
import { Empty, Whole } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { heatOf, marginText, signOf } from './heat.ts';
import { compressorFigure, soakFigure } from './picture-figures.ts';

/** Compressor map with the operating line, spark margin over speed and pressure, and the recovery of a hot charge cooler. */
export function PicturesPart({ day, at }: { readonly day: string; readonly at: string | undefined }) {
  const { asked } = useAnswer(paths.limitPictures(day, at), limitPictures);
  return (
    <Whole asked={asked} what="Drawing the maps">
      {({ compressor, spark, soak }) => (
        <>
          <CompressorPart compressor={compressor} />
          <SparkPart spark={spark} />
          <SoakPart soak={soak} />
        </>
      )}
    </Whole>
  );
}

function CompressorPart({ compressor }: Pick<LimitPictures, 'compressor'>) {
  const writing = useWriting();
  const spec = useMemo(() => compressorFigure(compressor, writing), [compressor, writing]);
  return (
    <section aria-labelledby="compressor">
      <h2 id="compressor">Compressor map</h2>
      {compressor.why === undefined ? (
        <>
          <Plot spec={spec} />
          <Legend lines={spec.lines.filter(({ faint }) => faint !== true)} />
          <p className="quiet">
            Thin lines are the speed lines of the map:{' '}
            {compressor.lines.map(({ speed }) => writing.text(speed, 'turbo-speed', { decimals: 0 })).join(', ')},
            corrected.
          </p>
        </>
      ) : (
        <Empty title="No map to draw">
          <p>{compressor.why}</p>
        </Empty>
      )}
    </section>
  );
}

function SparkPart({ spark: { why, speeds, pressures, rows } }: Pick<LimitPictures, 'spark'>) {
  const writing = useWriting();
  return (
    <section aria-labelledby="spark-map">
      <h2 id="spark-map">Spark margin</h2>
      {why === undefined ? (
        <Sideways name="Spark margin over engine speed and manifold pressure">
          <table className="heat">
            <caption>Margin of the spark voltage in percent, over engine speed and manifold pressure.</caption>
            <thead>
              <tr>
                <th scope="col">Manifold pressure</th>
                {speeds.map((at) => (
                  <th scope="col" key={at} className="heat-speed">
                    {writing.text(at, 'engine-speed', { unit: false })}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {pressures.map((pressure, k) => (
                <tr key={pressure}>
                  <th scope="row">{writing.text(pressure, 'absolute-pressure', { decimals: 0 })}</th>
                  {speeds.map((at, i) => {
                    const heat = heatOf(rows[k]?.over[i]);
                    return (
                      <td key={at} className={`heat-cell ${heat}`}>
                        <span>
                          {marginText(rows[k]?.margin[i])}
                          <i aria-hidden="true">{signOf(heat)}</i>
                        </span>
                      </td>
                    );
                  })}
                </tr>
              ))}
            </tbody>
          </table>
        </Sideways>
      ) : (
        <Empty title="Cannot be told">
          <p>{why}</p>
        </Empty>
      )}
    </section>
  );
}

function SoakPart({ soak }: Pick<LimitPictures, 'soak'>) {
  const writing = useWriting();
  const spec = useMemo(() => soakFigure(soak, writing), [soak, writing]);
  return (
    <section aria-labelledby="soak">
      <h2 id="soak">A hot charge cooler recovers</h2>
      <Plot spec={spec} />
      <p className="quiet">
        A tenth is left after {writing.text(soak.wait.value, 'time', { u: twice(soak.wait.standardUncertainty) })}, fans
        on and no load.
        {soak.assumed.length > 0 && ` Usual values, not stated: ${soak.assumed.join(', ')}.`}
      </p>
    </section>
  );
}
