import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { Alignment } from '../alignment.ts';
import type { Recording } from '../channel.ts';
import { changesOfBoth, gridStep, type SmoothPair, smoothPair } from './coarse.ts';
import { residualOfLag } from './joint-fit.ts';
import { lagCurve } from './lagged.ts';
import { signalPairs } from './pairing.ts';

/**
 * The same alignment with every offset larger by `seconds`: at one moment the engine log's clock is taken to show that much
 * more, so its samples come to lie earlier on the record. `by` becomes `hand`.
 */
export function nudged(alignment: Alignment, seconds: number): Alignment {
  const pieces = alignment.pieces.map((piece) => ({ ...piece, offset: piece.offset + seconds }));
  return { ...alignment, pieces, by: 'hand' };
}

/** residual: root mean square of the lags left over [s], NaN where the speeds carry none; correlation of the rates of change [1]. */
export interface ResidualAt {
  readonly residual: number;
  readonly correlation: number;
  /** Correlation over lags from −2 s to +2 s around the offset that was asked for. */
  readonly curve: { readonly offsets: Float64Array; readonly correlation: Float64Array };
}

const REACH = 2;

/**
 * How well two logs agree at an offset chosen by hand: t_engine = offset + t_roller, rate 0.
 * Refuses (`missing-channel`) when the logs share nothing.
 *
 * @param offset [s]
 */
export function residualAt(roller: Recording, engine: Recording, offset: number): Outcome<ResidualAt> {
  const pair = signalPairs(roller, engine)[0];
  if (pair === undefined) {
    return refused({ kind: 'missing-channel', message: 'missing channel: nothing that both logs could share' });
  }
  const smooth = smoothPair(pair);
  const curve = curveAround(smooth, offset);
  const middle = curve.correlation.length >> 1;
  return answered({ residual: residualOfLag(smooth, offset, roller), correlation: curve.correlation[middle], curve });
}

function curveAround(smooth: SmoothPair, offset: number): ResidualAt['curve'] {
  const pieces = { own: smooth.ownWide, other: smooth.otherWide };
  const step = gridStep(smooth, pieces);
  const both = changesOfBoth(smooth, pieces, step);
  const reach = Math.ceil(REACH / step);
  const offsets = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => offset + (k - reach) * step);
  if (both === undefined) return { offsets, correlation: offsets.map(() => Number.NaN) };
  const lags = lagCurve(both.own, both.other);
  const correlation = offsets.map((lag) => {
    const x = (lag - lags.first) / step;
    const k = Math.floor(x);
    return k >= 0 && k + 1 < lags.local.length
      ? lags.local[k] + (x - k) * (lags.local[k + 1] - lags.local[k])
      : Number.NaN;
  });
  return { offsets, correlation };
}
