import type { Finding, Outcome } from '../../../core/quantities/index.ts';
import type { Recording } from '../../channels/index.ts';
import { cutRecord } from '../cutting/cut.ts';
import type { DayFacts, EntryFacts } from '../facts.ts';
import { type CoastLosses, coastLosses } from '../losses/coast-losses.ts';
import type { LossFit } from '../result.ts';
import { atTheSurface } from '../rolls/at-the-surface.ts';
import { type ForceZero, forceZero } from '../rolls/force-zero.ts';
import { type RollSide, rollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';
import { type JoinedEntry, joinEntry } from './join-entry.ts';

/** What one entry's logs say by themselves, before the rest of the day is known. */
export interface OpenEntry {
  readonly facts: EntryFacts;
  readonly joined: JoinedEntry;
  readonly segments: readonly Segment[];
  readonly side: Outcome<RollSide>;
  readonly zero: ForceZero | undefined;
  readonly losses: readonly LossFit[];
  readonly findings: readonly Finding[];
}

/** Joins, cuts and reads one entry's logs. Undefined when there is no log. */
export function openEntry(facts: EntryFacts, recordings: readonly Recording[], day: DayFacts): OpenEntry | undefined {
  const joined = joinEntry({
    recordings: recordings.map((recording) => atTheSurface(recording, day.roller)),
    nudge: facts.nudge,
    rollMass: day.roller.equivalentMass?.value,
    needed: facts.kind === 'pull',
    converter: day.vehicle.transmission === 'converter',
  });
  if (!joined) return undefined;
  const { segments, findings } = cutRecord(joined.record);
  const side = rollSide(joined.record, day.roller);
  const zero = side.ok ? forceZero(side.value, day.roller) : undefined;
  const coasts =
    side.ok && zero ? coastLosses({ facts, day, record: joined.record, segments, side: side.value, zero }) : NO_COASTS;
  const { losses } = coasts;
  return {
    facts,
    joined,
    segments,
    side,
    zero,
    losses,
    findings: [...joined.findings, ...findings, ...coasts.findings],
  };
}

const NO_COASTS: CoastLosses = { losses: [], findings: [] };
