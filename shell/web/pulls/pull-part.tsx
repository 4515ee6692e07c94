import { useMemo, useSyncExternalStore } from 'react';
import type { PeakLine, PullView } from '../../contract/index.ts';
import { nearest, translated } from '../drawing/cursor.ts';
import { Legend } from '../drawing/legend.tsx';
import { type CursorLink, Plot } from '../drawing/plot.tsx';
import { NumbersOf } from '../drawing/table.tsx';
import type { EntryAddress } from '../frame/address.ts';
import { Refused } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { highestAt } from './chain.ts';
import { ChainTable } from './chain-table.tsx';
import { cursorOf } from './cursor-of.ts';
import { curveX, powerFigure, torqueFigure } from './curve-figure.ts';

/** What one pull made: key numbers, curves with the chain at the cursor. */
export function PullPart({ pull, address }: { readonly pull: PullView; readonly address: EntryAddress }) {
  const writing = useWriting();
  const { curve } = pull;
  const cursor = cursorOf(address.day, address.entry);
  const time = useSyncExternalStore(cursor.listen, cursor.time);
  const figures = useMemo(
    () => ({ x: curveX(curve, writing), power: powerFigure(curve, writing), torque: torqueFigure(curve, writing) }),
    [curve, writing],
  );
  const link = useMemo<CursorLink>(
    () => ({
      x: () => translated(cursor.time(), curve.time, figures.x),
      move: (x) => cursor.move(translated(x, figures.x, curve.time)),
      listen: cursor.listen,
    }),
    [cursor, curve, figures],
  );
  const large = largePeaks(pull.peaks);
  const shown = time ?? large[0]?.time ?? undefined;
  const at =
    (shown === undefined ? undefined : nearest(curve.time, shown)) ??
    highestAt(curve.enginePower) ??
    highestAt(curve.rollPower) ??
    0;
  return (
    <section aria-labelledby="made">
      <h2 id="made" className="unseen">
        What it made
      </h2>
      {pull.refusal && <Refused refusal={pull.refusal} title="No power is claimed" />}
      <KeyNumbers peaks={large} />
      <div className="curve-and-chain">
        <figure>
          <Plot spec={figures.power} link={link} empty="No power is known at any speed." />
          <Legend lines={figures.power.lines} />
          <Plot spec={figures.torque} link={link} empty="No torque: it needs an engine speed." />
          <Legend lines={figures.torque.lines} />
          <figcaption className="quiet">
            Hatched: not usable. {curve.bandwidth !== null && `Smoothed to ${curve.bandwidth.toFixed(1)} Hz (−3 dB)`}
            {curve.peakBias !== null && `, which changes the peak by about ${(curve.peakBias * 100).toFixed(1)} %`}.
          </figcaption>
          <NumbersOf spec={figures.power} />
        </figure>
        <ChainTable curve={curve} at={at} pointed={time !== undefined} />
      </div>
      <OtherPeaks peaks={pull.peaks.filter((peak) => !large.includes(peak))} />
    </section>
  );
}

const FIRST: readonly PeakLine['what'][] = [
  'engine power',
  'wheel power',
  'roll power',
  'engine torque',
  'roll torque',
];

function largePeaks(peaks: readonly PeakLine[]): readonly PeakLine[] {
  return FIRST.flatMap((what) => peaks.filter((peak) => peak.basis === 'curve' && peak.what === what)).slice(0, 4);
}

const kindOf = ({ what }: PeakLine) => (what.endsWith('torque') ? 'torque' : 'power');

/** The highest values of the curve, large enough for two metres. */
function KeyNumbers({ peaks }: { readonly peaks: readonly PeakLine[] }) {
  const writing = useWriting();
  return (
    <dl className="key-numbers">
      {peaks.map((peak) => (
        <div key={peak.what}>
          <dt>{peak.what}</dt>
          <dd>
            <strong>{writing.text(peak.value, kindOf(peak), { decimals: 0, unit: false })}</strong>
            <span>{writing.symbol(kindOf(peak))}</span>
            <span className="key-band">
              <small>± {writing.text(twice(peak.standardUncertainty), kindOf(peak))} (2u)</small>
              {peak.engineSpeed !== undefined && <small> at {writing.text(peak.engineSpeed, 'engine-speed')}</small>}
            </span>
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** Other ways of taking a peak, small. */
function OtherPeaks({ peaks }: { readonly peaks: readonly PeakLine[] }) {
  const writing = useWriting();
  if (peaks.length === 0) return null;
  const words = peaks.map(
    (peak) =>
      `${peak.what}, ${BASIS[peak.basis]}: ${writing.text(peak.value, kindOf(peak), { u: twice(peak.standardUncertainty) })}`,
  );
  return <p className="quiet">Taken in other ways: {words.join(' · ')}</p>;
}

const BASIS = {
  curve: 'of the curve',
  'one second': 'mean over one second',
  samples: 'highest single sample',
} as const;
