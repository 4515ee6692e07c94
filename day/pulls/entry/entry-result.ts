import type { Finding } from '../../../core/quantities/index.ts';
import { fillingFindings } from '../air/filling.ts';
import { conditionsOf } from '../conditions/conditions.ts';
import type { DayFacts } from '../facts.ts';
import type { LossModel } from '../losses/loss-model.ts';
import { pullPower } from '../power/pull-power.ts';
import type { SlipReference } from '../power/signals.ts';
import type { Track } from '../record.ts';
import type { Conditions, EntryResult, PullResult } from '../result.ts';
import { trackOf } from '../rolls/find-track.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';
import { coverageFindings } from './coverage.ts';
import type { OpenEntry } from './open-entry.ts';
import { belongsToPull, contradictions, negativeForce, notOfThisPull } from './plausible.ts';
import { withSensorDelays } from './sensor-delays.ts';

/** Bandwidth of curves and derivatives [Hz]; at most a fifth of the roll speed's refresh rate. @source our default: 0.46 s to either side */
export const CURVE_BANDWIDTH = 1.5;

/** What the rest of the day says about an entry. */
export interface DayKnowledge {
  readonly losses: LossModel | undefined;
  readonly reference: SlipReference | undefined;
}

/** The result of one entry with the day's knowledge. */
export function entryResult(open: OpenEntry, knowledge: DayKnowledge, day: DayFacts): EntryResult {
  const { facts, joined, segments, side } = open;
  const conditions = conditionsOf({ record: joined.record, day, rule: facts.rule ?? day.ambient.rule });
  const base = {
    id: facts.id,
    alignment: joined.alignment,
    segments,
    conditions,
    losses: open.losses,
    findings: unique([
      ...(side.ok ? side.value.findings : []),
      ...withSensorDelays(joined.record).findings,
      ...open.findings,
      ...conditions.findings,
      ...coverageFindings(joined.record),
      ...fillingFindings(joined.record),
      ...contradictions(day, knowledge.reference),
    ]),
  };
  if (!side.ok) return { ...base, refusal: side.refusal, pulls: [] };
  const negative = negativeForce(side.value, segments);
  if (negative) return { ...base, refusal: negative, pulls: [] };
  return { ...base, pulls: pullsOf(open, knowledge, { day, conditions }) };
}

function pullsOf(
  open: OpenEntry,
  knowledge: DayKnowledge,
  { day, conditions }: { day: DayFacts; conditions: Conditions },
): readonly PullResult[] {
  const { side, zero, joined } = open;
  if (!side.ok || !zero) return [];
  const factor = conditions.chosen;
  return open.segments
    .filter(({ kind }) => kind === 'full-load')
    .map((segment) => {
      const engine = engineOf(open, side.value, { segment, day });
      const pull = pullPower({
        sources: {
          side: side.value,
          segment,
          engine: engine.track,
          alignment: joined.alignment,
          reference: engine.track && referenceFor(segment, knowledge.reference, day),
          statedRatio: statedRatio(day),
          bandwidth: Math.min(CURVE_BANDWIDTH, side.value.refreshRate / 5),
        },
        zero,
        facts: day,
        losses: knowledge.losses,
        factor,
      });
      return { ...pull, findings: [...engine.findings, ...pull.findings] };
    });
}

/** The engine speed of a pull, unless it is plainly another run's. */
function engineOf(
  { joined }: OpenEntry,
  side: RollSide,
  { segment, day }: { segment: Segment; day: DayFacts },
): { track: Track | undefined; findings: readonly Finding[] } {
  const track = trackOf(joined.record, 'engine-speed');
  const foreign = track && day.vehicle.transmission !== 'converter' && !belongsToPull(track, side, segment);
  return foreign ? { track: undefined, findings: [notOfThisPull(track)] } : { track, findings: [] };
}

/** Engine speed over tyre surface speed that follows from stated facts [rad/m]. A converter slips by an unknown amount: then none. */
function statedRatio({ vehicle }: DayFacts): number | undefined {
  const { overallRatio, tyreRadius, transmission } = vehicle;
  return overallRatio && tyreRadius && transmission !== 'converter' ? overallRatio.value / tyreRadius.value : undefined;
}

/** A reference holds in its own gear only, and a converter's slip cannot be told from a tyre's. @source same gear within 10 %: our default */
function referenceFor(
  segment: Segment,
  reference: SlipReference | undefined,
  { vehicle }: DayFacts,
): SlipReference | undefined {
  if (!reference || segment.ratio === undefined || vehicle.transmission === 'converter') return undefined;
  return Math.abs(Math.log(segment.ratio / reference.ratio)) < 0.1 ? reference : undefined;
}

function unique(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Set<string>();
  return findings.filter((finding) => {
    const key = `${finding.kind}|${finding.message}|${finding.place?.file ?? ''}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
