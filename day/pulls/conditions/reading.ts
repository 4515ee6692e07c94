import { median, medianAbsoluteDeviation } from '../../../core/numerics/index.ts';
import { type Measured, measured } from '../../../core/quantities/index.ts';
import type { Meaning } from '../../channels/index.ts';
import type { JoinedRecord } from '../record.ts';
import { trackOf, usableSamples } from '../rolls/find-track.ts';

/** A reading of the air with its origin in words and the step in which it moves. */
export interface AirReading {
  readonly value: Measured;
  readonly origin: string;
  readonly step: number;
}

/**
 * The middle value of a channel over the record. Its uncertainty: the stated one of the sensor, its scatter, and its resolution
 * (step/√12).
 *
 * @param floor standard uncertainty of such a sensor in a hall, same unit
 * @source GUM F.2.2.1 for the resolution
 */
export function channelReading(record: JoinedRecord, meaning: Meaning, floor: number): AirReading | undefined {
  const track = trackOf(record, meaning);
  if (!track) return undefined;
  const samples = usableSamples(track);
  const step = resolution(samples);
  const spread = Math.hypot(floor, medianAbsoluteDeviation(samples, 'skip'), step / Math.sqrt(12));
  return {
    value: measured(median(samples, 'skip'), spread),
    origin: `logged, "${track.channel.name}" in ${track.file}`,
    step,
  };
}

/** Smallest step between neighbouring values that ever occur; 0 for a channel that never moves. */
function resolution(samples: Float64Array): number {
  const values = [...new Set(samples.filter(Number.isFinite))].sort((a, b) => a - b);
  let least = 0;
  for (let i = 1; i < values.length; i++) {
    const step = values[i] - values[i - 1];
    if (least === 0 || step < least) least = step;
  }
  return least;
}

/** Steps in which a barometer is read or written [Pa], coarsest first. */
const PRESSURE_STEPS: readonly { readonly step: number; readonly text: string }[] = [
  { step: 6894.757293168361, text: 'a whole psi' },
  { step: 3386.388640341, text: 'a whole inch of mercury' },
  { step: 1000, text: 'a whole kPa' },
  { step: 338.6388640341, text: 'a tenth of an inch of mercury' },
  { step: 133.322387415, text: 'a whole mm of mercury' },
  { step: 100, text: 'a whole hPa' },
];

/** Into what a stated pressure looks rounded: the coarsest usual step that it is a whole number of. @source our default */
export function pressureRounding(pascals: number): { readonly step: number; readonly text: string } | undefined {
  return PRESSURE_STEPS.find(({ step }) => Math.abs(pascals / step - Math.round(pascals / step)) < 1e-6);
}
