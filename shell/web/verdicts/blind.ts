import type { UntoldView } from '../../contract/index.ts';

/** A channel that would open faults, and which: those that lack nothing else, and those that lack more. */
export interface Opening {
  readonly channel: string;
  readonly alone: readonly string[];
  readonly withMore: readonly string[];
}

/** Missing channels, the one that opens most by itself first. */
export function openings(untold: readonly UntoldView[]): readonly Opening[] {
  const channels = [...new Set(untold.flatMap(({ missing }) => missing))];
  const titles = (is: (one: UntoldView) => boolean) => untold.filter(is).map(({ title }) => title);
  return channels
    .map((channel) => ({
      channel,
      alone: titles(({ missing }) => missing.length === 1 && missing.includes(channel)),
      withMore: titles(({ missing }) => missing.length > 1 && missing.includes(channel)),
    }))
    .sort((one, other) => other.alone.length - one.alone.length || other.withMore.length - one.withMore.length);
}

/** Faults that lack no channel and still cannot be told: a stated limit, a pull to be held against, a rate. */
export function otherReasons(untold: readonly UntoldView[]): readonly UntoldView[] {
  return untold.filter(({ missing }) => missing.length === 0);
}
