import type { ClockedChannel, JoinedChannels } from '../channels/index.ts';

/** One channel on the common clock of a joined record; see `ClockedChannel`. */
export type Track = ClockedChannel;

/** One record out of one or two logs: every channel at its own rate, on the roller's clock (or the only clock there is). */
export type JoinedRecord = JoinedChannels;
