import { memo, useMemo } from 'react';
import { type CrankLimit, type CrankView, crankView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useLatest } from '../client/use-latest.ts';
import { Legend } from '../drawing/legend.tsx';
import { Plot } from '../drawing/plot.tsx';
import { Sideways } from '../drawing/sideways.tsx';
import { hashOf } from '../frame/address.ts';
import { Empty, Whole } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { forceFigure, inCycle, pressureFigure } from './crank-figures.ts';
import { chanceText, marginText } from './heat.ts';
import { loadUnit } from './load-units.ts';

interface CrankProps {
  readonly day: string;
  readonly at: string | undefined;
  /** Engine speed as the address has it; absent: where the loads are tightest. */
  readonly speed: string | undefined;
  readonly look: (speed: string) => void;
}

/** One cylinder over a cycle: pressure and forces for the step as it stands, the worst places and their limits. */
export const CrankPart = memo(({ day, at, speed, look }: CrankProps) => {
  const { asked } = useLatest(paths.crank(day, { at, speed }), crankView);
  return (
    <section aria-labelledby="crank">
      <h2 id="crank">One cylinder over a cycle</h2>
      <Whole asked={asked} what="Working out one cycle">
        {(view) => <Crank day={day} view={view} speed={speed} look={look} />}
      </Whole>
    </section>
  );
});

function Crank({ day, view, speed, look }: Omit<CrankProps, 'at'> & { readonly view: CrankView }) {
  const writing = useWriting();
  const pressure = useMemo(() => pressureFigure(view, writing), [view, writing]);
  const forces = useMemo(() => forceFigure(view, writing), [view, writing]);
  const rpm = (at: number) => `${Math.round((at * 30) / Math.PI)} rpm`;
  return (
    <>
      <div className="tools">
        <div className="field in-line">
          <label htmlFor="crank-speed">Engine speed</label>{' '}
          <select id="crank-speed" value={speed ?? ''} onChange={({ currentTarget }) => look(currentTarget.value)}>
            <option value="">where the loads are tightest: {writing.text(view.speed, 'engine-speed')}</option>
            {view.speeds.map((at) => (
              <option key={at} value={rpm(at)}>
                {writing.text(at, 'engine-speed')}
              </option>
            ))}
          </select>
        </div>
      </div>
      {view.why === undefined ? (
        <div className="crank-drawings">
          <Plot spec={pressure} />
          <Plot spec={forces} />
          <Legend lines={forces.lines} />
        </div>
      ) : (
        <Empty title="Cannot be drawn">
          <p>{view.why}</p>
        </Empty>
      )}
      <LoadTable day={day} view={view} />
      <p className="quiet">
        The mean cycle: single cycles and knock reach higher. A rod is pulled hardest when the throttle shuts at speed,
        so the mark of its pull stands below the line. Shaded: two standard uncertainties of a limit.
        {view.film !== undefined && ` Thinnest oil film of the big end: ${(1e6 * view.film).toFixed(1)} µm.`}
      </p>
    </>
  );
}

function LoadTable({ day, view: { limits } }: { readonly day: string; readonly view: CrankView }) {
  return (
    <Sideways name="Loads at this engine speed">
      <table className="wide">
        <thead>
          <tr>
            <th scope="col">Load</th>
            <th scope="col">worst at</th>
            <th scope="col">asked</th>
            <th scope="col">there</th>
            <th scope="col">margin</th>
            <th scope="col">passed</th>
          </tr>
        </thead>
        <tbody>
          {limits.map((limit) => (
            <LoadRow key={limit.name} day={day} limit={limit} />
          ))}
        </tbody>
      </table>
    </Sideways>
  );
}

function LoadRow({ day, limit }: { readonly day: string; readonly limit: CrankLimit }) {
  const unit = loadUnit(limit.kind, useWriting());
  const { title, angle, required, requiredUncertainty, available, availableUncertainty, margin, over, why } = limit;
  const worst = angle === null ? '–' : `${Math.round(inCycle((angle * 180) / Math.PI))} °CA`;
  if (why !== undefined || available === null) {
    const [first] = limit.unknown.filter(({ fact }) => fact !== undefined);
    return (
      <tr>
        <th scope="row">{title}</th>
        <td>{worst}</td>
        <td>{unit.text(required, twice(requiredUncertainty))}</td>
        <td className="words" colSpan={3}>
          {first?.fact === undefined ? (
            (why ?? 'nothing is known of it')
          ) : (
            <>
              not known. <a href={hashOf({ page: 'facts', day, field: first.fact })}>State {first.title}</a>
            </>
          )}
        </td>
      </tr>
    );
  }
  return (
    <tr>
      <th scope="row">{title}</th>
      <td>{worst}</td>
      <td>{unit.text(required, twice(requiredUncertainty))}</td>
      <td>{unit.text(available, twice(availableUncertainty))}</td>
      <td>{marginText(margin)} %</td>
      <td>{over === null ? '–' : chanceText(over)}</td>
    </tr>
  );
}
