import { type Finding, measured, type Outcome } from '../../../core/quantities/index.ts';
import type { Recording } from '../../channels/index.ts';
import { cutRecord } from '../cutting/cut.ts';
import type { DayFacts, EntryFacts } from '../facts.ts';
import { coastDownLosses } from '../losses/coast-down.ts';
import { DEFAULTS } from '../power/chain-inputs.ts';
import type { LossFit } from '../result.ts';
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
    recordings,
    nudge: facts.nudge,
    rollMass: day.roller.equivalentMass?.value,
    needed: facts.kind === 'pull',
    converter: day.vehicle.transmission === 'converter',
  });
  if (!joined) return undefined;
  const { segments, findings } = cutRecord(joined.record);
  const side = rollSide(joined.record, day.roller);
  const zero = side.ok ? forceZero(side.value, day.roller) : undefined;
  const losses = side.ok && zero ? coastLosses({ facts, day, segments, side: side.value, zero }) : [];
  return { facts, joined, segments, side, zero, losses, findings: [...joined.findings, ...findings] };
}

interface Coasting {
  readonly facts: EntryFacts;
  readonly day: DayFacts;
  readonly segments: readonly Segment[];
  readonly side: RollSide;
  readonly zero: ForceZero;
}

/**
 * Fits every coast-down of an entry that was made as one. A pull's roll-out is not used: clutch and brake are in the driver's hands
 * there, and nobody said how.
 */
function coastLosses({ facts, day, segments, side, zero }: Coasting): readonly LossFit[] {
  if (facts.kind !== 'coast-down') return [];
  return segments
    .filter(({ kind }) => kind === 'coast-down' || kind === 'overrun')
    .flatMap((segment) => {
      const clutch = facts.clutch ?? (segment.kind === 'overrun' ? 'in gear' : 'unknown');
      const fit = coastDownLosses({
        side,
        segment,
        clutch,
        forceZero: zero.zero.value,
        mass: coastingMass(day, { side, segment, clutch }),
      });
      return fit.ok ? [fit.value] : [];
    });
}

function coastingMass(
  day: DayFacts,
  { side, segment, clutch }: { side: RollSide; segment: Segment; clutch: LossFit['clutch'] },
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
