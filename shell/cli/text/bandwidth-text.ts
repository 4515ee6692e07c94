import { formatQuantity } from '../../../core/quantities/index.ts';
import type { PowerCurve } from '../../../day/pulls/index.ts';

/** `bandwidth 1.5 Hz, which lowers a peak by less than 0.1 %`. */
export function bandwidthText({ bandwidth, peakBias }: Pick<PowerCurve, 'bandwidth' | 'peakBias'>): string {
  const width = `bandwidth ${bandwidth.toFixed(1)} Hz`;
  if (!Number.isFinite(peakBias)) return width;
  return `${width}, which lowers a peak by ${peakBias < 0.0005 ? 'less than 0.1 %' : formatQuantity(peakBias, 'fraction')}`;
}
