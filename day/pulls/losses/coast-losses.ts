import { type Finding, measured } from '../../../core/quantities/index.ts';
import type { DayFacts, EntryFacts } from '../facts.ts';
import { DEFAULTS } from '../power/chain-inputs.ts';
import type { JoinedRecord } from '../record.ts';
import type { LossFit } from '../result.ts';
import { trackOf } from '../rolls/find-track.ts';
import type { ForceZero } from '../rolls/force-zero.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';
import { coastDownLosses } from './coast-down.ts';
import { isEngineTied, untiedFrom } from './tied-engine.ts';

export interface Coasting {
  readonly facts: EntryFacts;
  readonly day: DayFacts;
  readonly record: JoinedRecord;
  readonly segments: readonly Segment[];
  readonly side: RollSide;
  readonly zero: ForceZero;
}

export interface CoastLosses {
  readonly losses: readonly LossFit[];
  readonly findings: readonly Finding[];
}

/**
 * Fits every coast-down of an entry that was made as one. A pull's roll-out is not used: clutch and brake are in the driver's hands
 * there, and nobody said how. What was stated of the clutch is held against the engine's speed; where both are silent the clutch is
 * unknown, and the loss is shown but not used.
 */
export function coastLosses(coasting: Coasting): CoastLosses {
  const { facts, record, segments, side } = coasting;
  if (facts.kind !== 'coast-down') return { losses: [], findings: [] };
  const engine = trackOf(record, 'engine-speed');
  const losses: LossFit[] = [];
  const findings: Finding[] = [];
  for (const whole of slowing(segments)) {
    const opened = untiedFrom(engine, side, whole);
    const late = opened !== undefined && facts.clutch === 'open';
    const segment = opened === undefined ? whole : (late ? after : until)(whole, side, opened);
    const tied = opened === undefined ? isEngineTied(engine, side, segment) : !late;
    const clutch = clutchOf(facts, tied);
    const fit = coastDownLosses({
      side,
      segment,
      clutch,
      forceZero: coasting.zero.zero.value,
      mass: coastingMass(coasting, segment, clutch),
    });
    if (!fit.ok) continue;
    losses.push(fit.value);
    findings.push(...clutchFindings(facts, tied, clutch), ...openedFindings(segment, side, opened));
  }
  return { losses, findings };
}

/** Left out around the moment at which the clutch is seen open, while it opens [s]. @source our default */
const OPENING = 0.1;

/** A coast-down in gear lasts until the clutch was opened: what comes after holds no engine, and nobody said what else was done. */
function until(segment: Segment, { times, speed }: RollSide, opened: number): Segment {
  let to = opened;
  while (to > segment.from + 1 && times[to - 1] > times[opened] - OPENING) to -= 1;
  return { ...segment, to, toTime: times[to - 1], lowSpeed: speed[to - 1] };
}

/** A coast-down that was stated open begins where the clutch was. */
function after(segment: Segment, { times, speed }: RollSide, opened: number): Segment {
  let from = opened;
  while (from < segment.to - 1 && times[from] < times[opened] + OPENING) from += 1;
  return { ...segment, from, fromTime: times[from], highSpeed: speed[from] };
}

function openedFindings(segment: Segment, { times }: RollSide, opened: number | undefined): readonly Finding[] {
  if (opened === undefined) return [];
  const at = times[opened];
  return [
    {
      kind: 'clutch-opened',
      weight: 'note',
      message: `the engine left the rolls at ${at.toFixed(2)} s: ${segment.from >= opened ? 'the coast-down counts from there on' : 'the coast-down counts as one in gear up to there'}`,
      place: { from: segment.fromTime, to: segment.toTime },
    },
  ];
}

/** Stretches of slowing down that follow one another closely are one: the cut between them came from the engine's side. */
function slowing(segments: readonly Segment[]): readonly Segment[] {
  const joined: Segment[] = [];
  for (const segment of segments.filter(({ kind }) => kind === 'coast-down' || kind === 'overrun')) {
    const last = joined[joined.length - 1];
    if (last && segment.fromTime - last.toTime < CLOSE) {
      const { to, toTime, lowSpeed } = segment;
      const { ratio: _, ...rest } = last;
      joined[joined.length - 1] = { ...rest, to, toTime, lowSpeed: Math.min(last.lowSpeed, lowSpeed) };
    } else joined.push(segment);
  }
  return joined;
}

/** Stretches closer than this are joined [s]. @source our default */
const CLOSE = 1;

function clutchOf(facts: EntryFacts, tied: boolean | undefined): LossFit['clutch'] {
  if (tied === true) return 'in gear';
  return facts.clutch ?? (tied === false ? 'open' : 'unknown');
}

function clutchFindings(
  { clutch: stated }: EntryFacts,
  tied: boolean | undefined,
  clutch: LossFit['clutch'],
): readonly Finding[] {
  if (stated === 'open' && tied === true) {
    return [
      {
        kind: 'coast-in-gear',
        weight: 'fault',
        message:
          'invalid clutch: stated open, but the engine turns with the rolls all the way: this coast-down holds the engine’s drag and is not used for losses',
      },
    ];
  }
  if (clutch !== 'unknown') return [];
  return [
    {
      kind: 'clutch-not-stated',
      weight: 'doubt',
      message:
        'missing clutch: nothing says whether this coast-down was made with the clutch open; state `clutch: open` to use it for losses',
    },
  ];
}

function coastingMass(
  { day, side }: Coasting,
  segment: Segment,
  clutch: LossFit['clutch'],
): { value: number; standardUncertainty: number } {
  const { wheelInertia, tyreRadius } = day.vehicle;
  const wheels =
    wheelInertia && tyreRadius
      ? measured(
          wheelInertia.value / tyreRadius.value ** 2,
          (wheelInertia.standardUncertainty || 0.1 * wheelInertia.value) / tyreRadius.value ** 2,
        )
      : DEFAULTS.wheelMass;
  const engineInertia = day.engine.inertia ?? DEFAULTS.engineInertia;
  const engine = clutch === 'in gear' && segment.ratio !== undefined ? engineInertia.value * segment.ratio ** 2 : 0;
  return {
    value: side.mass.value + wheels.value + engine,
    standardUncertainty: Math.hypot(side.mass.standardUncertainty, wheels.standardUncertainty),
  };
}
