import type { Finding } from '../../../core/quantities/index.ts';
import { type GroupPeaks, groupPeaks, type LagRange, type SmoothPair } from './coarse.ts';
import { NEARLY } from './lagged.ts';
import type { SmoothPiece } from './smooth.ts';

/** A group of the own clock laid on a group of the other with this lag [s]. sameHill: other tops nearby worth trying. */
export interface GroupMatch {
  readonly ownGroup: number;
  readonly otherGroup: number;
  readonly lag: number;
  readonly sameHill: readonly number[];
}

const LEAST = 0.6;
/** How far apart two clocks may believably run while a log pauses: 1 s and 0.4 %. @source our default */
const DRIFT = { seconds: 1, share: 0.004 } as const;

/**
 * Lays every further group (after a clock was set, or a long pause) beside the best one. A file is written in order, so a
 * later group must lie later on the other clock. The lag that the clocks state themselves is kept where it fits as well.
 * A group that fits nowhere is left out, with a finding.
 */
export function matchedGroups(smooth: SmoothPair, best: GroupPeaks, findings: Finding[]): GroupMatch[] {
  const matches: GroupMatch[] = [best];
  const ownGroups = groupsOf(smooth.own);
  const otherGroups = groupsOf(smooth.other);
  for (const own of ownGroups) {
    for (const other of otherGroups) {
      if (own === best.ownGroup && other === best.otherGroup) continue;
      const match = matchOf(smooth, best, { own, other });
      if (match) matches.push(match);
    }
    if (matches.some((match) => match.ownGroup === own)) continue;
    const span = spanOf(smooth.own, own);
    findings.push({
      kind: 'piece-not-aligned',
      weight: 'doubt',
      message: 'this stretch of the roller clock could not be laid on the engine clock and is left out',
      place: { from: span.start, to: span.end },
    });
  }
  return matches.sort((a, b) => a.ownGroup - b.ownGroup || a.otherGroup - b.otherGroup);
}

function matchOf(
  smooth: SmoothPair,
  best: GroupPeaks,
  groups: { readonly own: number; readonly other: number },
): GroupMatch | undefined {
  const range = inOrder(smooth, best, groups);
  if (!(range.to > range.from)) return undefined;
  const own = spanOf(smooth.own, groups.own);
  const other = spanOf(smooth.other, groups.other);
  const away = Math.abs(own.start - spanOf(smooth.own, best.ownGroup).start);
  const reach = DRIFT.seconds + DRIFT.share * away;
  const stated = { from: Math.max(range.from, best.lag - reach), to: Math.min(range.to, best.lag + reach) };
  const free = groupPeaks(smooth, groups, range);
  const near = stated.to > stated.from ? groupPeaks(smooth, groups, stated) : undefined;
  const bar = Math.max(LEAST, NEARLY * (free?.correlation ?? 0));
  const found = near && near.correlation >= bar ? near : free;
  if (found && found.correlation >= LEAST && overlapOf(own, other, found.lag) > 1) return { ...found };
  // Nothing happens here; a clock that ran on keeps its lag.
  const continuing = groups.other === best.otherGroup || groups.own === best.ownGroup;
  if (continuing && stated.to > stated.from && runsOn(smooth, best, groups) && overlapOf(own, other, best.lag) > 1) {
    return { ownGroup: groups.own, otherGroup: groups.other, lag: best.lag, sameHill: [] };
  }
  return undefined;
}

/** Lags that keep the order in which both files were written. */
function inOrder(
  smooth: SmoothPair,
  best: GroupPeaks,
  { own, other }: { readonly own: number; readonly other: number },
): LagRange {
  const slack = 0.3;
  let from = Number.NEGATIVE_INFINITY;
  let to = Number.POSITIVE_INFINITY;
  const ownBest = spanOf(smooth.own, best.ownGroup);
  const ownHere = spanOf(smooth.own, own);
  const otherBest = spanOf(smooth.other, best.otherGroup);
  const otherHere = spanOf(smooth.other, other);
  if (other === best.otherGroup) {
    if (own > best.ownGroup) from = ownBest.end + best.lag - slack - ownHere.start;
    if (own < best.ownGroup) to = ownBest.start + best.lag + slack - ownHere.end;
  } else if (own === best.ownGroup) {
    if (other > best.otherGroup) to = otherHere.start - (otherBest.end - best.lag) + slack;
    else from = otherHere.end - (otherBest.start - best.lag) - slack;
  } else if (own > best.ownGroup !== other > best.otherGroup) return { from: 0, to: 0 };
  return { from, to };
}

function runsOn(
  smooth: SmoothPair,
  best: GroupPeaks,
  { own, other }: { readonly own: number; readonly other: number },
): boolean {
  const forward = (pieces: readonly SmoothPiece[], a: number, b: number): boolean => {
    const first = spanOf(pieces, Math.min(a, b));
    const last = spanOf(pieces, Math.max(a, b));
    return a === b || last.start > first.end;
  };
  return forward(smooth.own, own, best.ownGroup) && forward(smooth.other, other, best.otherGroup);
}

function overlapOf(own: Span, other: Span, lag: number): number {
  return Math.min(own.end + lag, other.end) - Math.max(own.start + lag, other.start);
}

interface Span {
  readonly start: number;
  readonly end: number;
}

function spanOf(pieces: readonly SmoothPiece[], group: number): Span {
  const members = pieces.filter((piece) => piece.group === group);
  return { start: members[0].start, end: members[members.length - 1].end };
}

function groupsOf(pieces: readonly SmoothPiece[]): number[] {
  return [...new Set(pieces.map((piece) => piece.group))];
}
