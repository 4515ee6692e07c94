import { useMemo } from 'react';
import type { LossView } from '../../contract/index.ts';
import { Plot } from '../drawing/plot.tsx';
import { Findings } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { lossFigure } from './loss-figure.ts';

/** What a coast-down says about the losses. */
export function LossPart({ loss }: { readonly loss: LossView }) {
  const writing = useWriting();
  const spec = useMemo(() => lossFigure(loss, writing), [loss, writing]);
  const { f0, f1, f2, mass, clutch, residual, segment } = loss;
  return (
    <section aria-label={`Coast-down from ${segment.fromTime.toFixed(1)} s`}>
      <h2>Losses, clutch {clutch}</h2>
      <dl className="facts-line">
        <div>
          <dt>constant</dt>
          <dd>{writing.text(f0?.value, 'force', { u: f0?.standardUncertainty })}</dd>
        </div>
        <div>
          <dt>with speed</dt>
          <dd>{writing.text(f1?.value, 'force-per-speed', { u: f1?.standardUncertainty })}</dd>
        </div>
        <div>
          <dt>with speed squared</dt>
          <dd>
            {f2?.value === 0
              ? 'none to be seen'
              : writing.text(f2?.value, 'force-per-speed-squared', { u: f2?.standardUncertainty })}
          </dd>
        </div>
        <div>
          <dt>mass used</dt>
          <dd>{writing.text(mass?.value, 'mass', { u: mass?.standardUncertainty })}</dd>
        </div>
        <div>
          <dt>left over, rms</dt>
          <dd>{writing.text(residual, 'force')}</dd>
        </div>
      </dl>
      <Plot spec={spec} />
      <Findings findings={loss.findings} />
    </section>
  );
}
