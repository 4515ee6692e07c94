import type { Finding } from '../../core/quantities/index.ts';
import type { Alignment, Channel, Piece } from '../channels/index.ts';

/**
 * One channel on the common clock of a joined record.
 * times: s on the record's clock, as long as the channel's samples. pieces: index ranges without a gap.
 */
export interface Track {
  readonly channel: Channel;
  readonly times: Float64Array;
  readonly pieces: readonly Piece[];
  readonly file: string;
}

/** One record out of one or two logs: every channel at its own rate, on the roller's clock (or the only clock there is). */
export interface JoinedRecord {
  readonly tracks: readonly Track[];
  readonly alignment: Alignment;
  readonly findings: readonly Finding[];
}
