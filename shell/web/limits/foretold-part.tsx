import { memo, useMemo, useState } from 'react';
import type { LimitsView, PredictedLineView } from '../../contract/index.ts';
import { Plot } from '../drawing/plot.tsx';
import type { PlotSpec } from '../drawing/plot-spec.ts';
import { useWriting, type Writing } from '../look/use-preferences.ts';

/** What is foretold for the step over engine speed, with its band: one line at a time. */
export const ForetoldPart = memo(({ view: { lines, speed } }: { readonly view: LimitsView }) => {
  const writing = useWriting();
  const known = lines.filter(({ value }) => value.some((one) => one !== null));
  const [name, setName] = useState('engine torque');
  const line = known.find((one) => one.name === name) ?? known[0];
  const spec = useMemo(() => line && specOf(line, speed, writing), [line, speed, writing]);
  if (!line || !spec) return null;
  return (
    <section aria-labelledby="foretold">
      <h2 id="foretold">What is foretold</h2>
      <div className="tools">
        <label className="field in-line">
          Line{' '}
          <select value={line.name} onChange={({ currentTarget }) => setName(currentTarget.value)}>
            {known.map((one) => (
              <option key={one.name}>{one.name}</option>
            ))}
          </select>
        </label>
      </div>
      <Plot spec={spec} />
      <p className="quiet">The band is two standard uncertainties wide to each side.</p>
    </section>
  );
});

function specOf(line: PredictedLineView, speed: readonly number[], writing: Writing): PlotSpec {
  const { name, kind, value, standardUncertainty } = line;
  const shown = value.map((one) => writing.plain(one, kind));
  const spread = standardUncertainty.map((u, i) => {
    const [middle, upper] = [shown[i], writing.plain((value[i] ?? Number.NaN) + 2 * (u ?? Number.NaN), kind)];
    return middle === null || middle === undefined || upper === null || Number.isNaN(upper) ? null : upper - middle;
  });
  return {
    label: `${name} over engine speed`,
    xLabel: `engine speed, ${writing.symbol('engine-speed')}`,
    yLabel: writing.symbol(kind) === '' ? name : `${name}, ${writing.symbol(kind)}`,
    lines: [{ label: name, x: speed.map((at) => writing.plain(at, 'engine-speed')), y: shown, spread, look: 1 }],
    hatches: [],
    height: 'middle',
  };
}
