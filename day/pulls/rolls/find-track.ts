import type { Meaning } from '../../channels/index.ts';
import type { JoinedRecord, Track } from '../record.ts';

/** Tracks of this meaning that a computation may use: measured or commanded, with at least one usable sample. */
export function tracksOf(record: JoinedRecord, meaning: Meaning): readonly Track[] {
  return record.tracks.filter(
    ({ channel }) =>
      channel.meaning === meaning &&
      (channel.origin === 'measured' || channel.origin === 'commanded') &&
      channel.samples.some((sample, i) => channel.mask[i] === 0 && Number.isFinite(sample)),
  );
}

/** The first such track, fastest refresh first; undefined when the record has none. */
export function trackOf(record: JoinedRecord, meaning: Meaning): Track | undefined {
  return [...tracksOf(record, meaning)].sort((a, b) => b.channel.refreshRate - a.channel.refreshRate)[0];
}

/** Samples with NaN wherever the mask says that they are not a measurement. As long as the channel. */
export function usableSamples({ channel }: Track): Float64Array {
  return channel.samples.map((sample, i) => (channel.mask[i] === 0 ? sample : Number.NaN));
}
