import type { Alignment, ClockPiece } from '../../../day/channels/index.ts';

/** `joined by speed, correlation 0.9987; second-best peak 0.412 at 3.20 s`. */
export function joinText({ by, correlation, second }: Alignment): string {
  if (by === 'hand') return 'joined by hand';
  const other = second ? `; second-best peak ${second.correlation.toFixed(3)} at ${second.lag.toFixed(2)} s` : '';
  return `joined by ${by}, correlation ${correlation.toFixed(4)}${other}`;
}

/** `offset 3.210 ± 0.004 s, rate 85 ± 30 ppm, residual 2.1 ms`: a rate within its band of nothing is not resolved. */
export function clockText({ offset, offsetUncertainty, rate, rateUncertainty, residual }: ClockPiece): string {
  const band = 2 * rateUncertainty;
  const ppm = (value: number): string => (1e6 * value).toFixed(0);
  const isResolved = Math.abs(rate) >= band;
  const parts = [
    `offset ${offset.toFixed(3)} ± ${(2 * offsetUncertainty).toFixed(3)} s`,
    isResolved ? `rate ${ppm(rate)} ± ${ppm(band)} ppm` : `rate not resolved (within ± ${ppm(band)} ppm)`,
    ...(Number.isFinite(residual) ? [`residual ${(1000 * residual).toFixed(1)} ms`] : []),
  ];
  return parts.join(', ');
}
