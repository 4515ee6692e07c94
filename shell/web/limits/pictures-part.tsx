import { memo, useMemo } from 'react';
import { type LimitPictures, limitPictures, type MapPointsView, mapPoints } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { useLatest } from '../client/use-latest.ts';
import { Legend } from '../drawing/legend.tsx';
import { Plot } from '../drawing/plot.tsx';
import { Sideways } from '../drawing/sideways.tsx';
import { Empty, Whole } from '../frame/states.tsx';
import { counted } from '../frame/wording.ts';
import { useWriting } from '../look/use-preferences.ts';
import { CoolerPart } from './cooler-part.tsx';
import { heatOf, marginText, signOf } from './heat.ts';
import { MarkSwatch } from './mark-swatch.tsx';
import { compressorFigure, pressureGroups } from './picture-figures.ts';

interface PicturesProps {
  readonly day: string;
  readonly at: string | undefined;
}

/** Compressor map with the operating line, spark margin over speed and pressure, and the recovery of a hot charge cooler. */
export const PicturesPart = memo(({ day, at }: PicturesProps) => {
  const { asked } = useLatest(paths.limitPictures(day, at), limitPictures);
  const points = useAnswer(paths.mapPoints(day), mapPoints).asked;
  return (
    <Whole asked={asked} what="Drawing the maps">
      {({ compressor, spark, soak }) => (
        <>
          <CompressorPart compressor={compressor} points={points.state === 'here' ? points.value : undefined} />
          <SparkPart spark={spark} />
          <CoolerPart soak={soak} />
        </>
      )}
    </Whole>
  );
});

interface CompressorProps extends Pick<LimitPictures, 'compressor'> {
  /** Absent until they are there. */
  readonly points: MapPointsView | undefined;
}

function CompressorPart({ compressor, points }: CompressorProps) {
  const writing = useWriting();
  const pulls = points?.pulls ?? NO_PULLS;
  const spec = useMemo(() => compressorFigure({ compressor, pulls }, writing), [compressor, pulls, writing]);
  return (
    <section aria-labelledby="compressor">
      <h2 id="compressor">Compressor map</h2>
      {compressor.why === undefined ? (
        <>
          <Plot spec={spec} />
          <Legend lines={spec.lines.filter(({ faint }) => faint !== true)} />
          <PointsLegend pulls={pulls} />
          <p className="quiet">
            Thin lines are the speed lines of the map, each with its corrected speed before it. Crosses about a point
            are two standard uncertainties.
            {points?.why !== undefined && ` No pull is drawn: ${points.why}.`}
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

const NO_PULLS: MapPointsView['pulls'] = [];

/** Which mark stands for which pulls: by the manifold pressure they were driven at. */
function PointsLegend({ pulls }: Pick<MapPointsView, 'pulls'>) {
  const writing = useWriting();
  if (pulls.length === 0) return null;
  const measured = pulls.filter((pull) => pull.measured).length;
  const pressure = (value: number, unit: boolean) => writing.text(value, 'absolute-pressure', { decimals: 0, unit });
  const fromTo = (low: number, high: number) =>
    pressure(low, false) === pressure(high, false)
      ? pressure(high, true)
      : `${pressure(low, false)} … ${pressure(high, true)}`;
  return (
    <>
      <ul className="legend">
        {pressureGroups(pulls).map(({ sign, look, low, high, count }) => (
          <li key={sign}>
            <MarkSwatch sign={sign} look={look} />
            {counted(count, 'pull')} at {fromTo(low, high)}
          </li>
        ))}
      </ul>
      <p className="quiet">
        {measured === pulls.length
          ? 'Air flow as logged.'
          : measured === 0
            ? 'Air flow was not logged: it is that of the calibrated engine at the pressure, temperature and speed of each pull.'
            : `Air flow as logged in ${counted(measured, 'pull')}, else that of the calibrated engine.`}
      </p>
    </>
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
