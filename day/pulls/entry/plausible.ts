import { median } from '../../../core/numerics/index.ts';
import type { Finding, Refusal } from '../../../core/quantities/index.ts';
import { sampleTrack } from '../../channels/index.ts';
import type { DayFacts } from '../facts.ts';
import type { SlipReference } from '../power/signals.ts';
import type { Track } from '../record.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';

/** Change of engine speed over roll speed within one gear that no slip makes [1, logarithm]. @source our default: slip beyond 20 % ends a pull */
const DRIFT = 0.2;

/** Whether an engine log belongs to this pull: within one gear its speed keeps its ratio to the rolls. A converter may drift. */
export function belongsToPull(engine: Track, side: RollSide, segment: Segment): boolean {
  const times = side.times.slice(segment.from, segment.to);
  const omega = sampleTrack(engine, times);
  const ratios = omega.map((w, i) => Math.log(w / side.speed[segment.from + i]));
  const fifth = Math.floor(times.length / 5);
  if (segment.ratio === undefined || fifth < 3) return true;
  const at = (start: number): number => median(ratios.slice(start, start + fifth).filter(Number.isFinite), 'skip');
  return !(Math.abs(at(0) - at(times.length - fifth)) > DRIFT);
}

export function notOfThisPull({ file }: Track): Finding {
  return {
    kind: 'engine-log-of-another-run',
    weight: 'fault',
    message: `engine speed in ${file} does not keep its ratio to the rolls through the pull: it is another run’s log, or wrongly joined, and is not used`,
    place: { file },
    numbers: { limit: DRIFT },
  };
}

/**
 * A driving force that reads negative is a wrong sign or a wrong column; no power follows from it. A brake that is off shows its zero, on either side
 * of nothing: small beside what speeds the roll up.
 */
export function negativeForce(side: RollSide, segments: readonly Segment[]): Refusal | undefined {
  const { force } = side;
  if (!force) return undefined;
  const pulls = segments.filter(({ kind }) => kind === 'full-load');
  const known = pulls.flatMap(({ from, to }) => [...force.slice(from, to)]).filter(Number.isFinite);
  const middle = median(known, 'skip');
  const most = known.reduce((top, one) => Math.max(top, Math.abs(one)), 0);
  const largest = Math.max(most, side.forceKind === 'brake' ? inertiaForce(side, pulls) : 0);
  if (!(middle < -NEGATIVE * largest)) return undefined;
  return {
    kind: 'negative-force',
    message: `invalid roll force: about ${middle.toFixed(0)} N in the middle of the pulls, expected above zero; the column counts the other way round or is not this force`,
    numbers: { middle, largest },
    rule: 'a driven roll is pushed forwards',
  };
}

/** @source our default */
const NEGATIVE = 0.05;

/** Force that speeds the roll up [N], in the middle of the pulls, each by its mean acceleration; 0 where none is known. */
function inertiaForce({ times, speed, mass }: RollSide, pulls: readonly Segment[]): number {
  const forces = pulls.map(
    ({ from, to }) => (mass.value * (speed[to - 1] - speed[from])) / (times[to - 1] - times[from]),
  );
  const middle = median(forces, 'skip');
  return Number.isFinite(middle) ? middle : 0;
}

/** Stated and found ratios further apart than this contradict each other [1, logarithm]; masses outside are no roller's [kg]. @source our default */
const RATIO_APART = 0.05;
const MASSES = { least: 50, most: 20_000 } as const;

/** What was stated held against what the logs show and against what a roller can be. */
export function contradictions(
  { vehicle, roller }: DayFacts,
  reference: SlipReference | undefined,
): readonly Finding[] {
  const found: Finding[] = [];
  const { overallRatio, tyreRadius } = vehicle;
  const stated = overallRatio && tyreRadius ? overallRatio.value / tyreRadius.value : undefined;
  if (stated !== undefined && reference && Math.abs(Math.log(stated / reference.ratio)) > RATIO_APART) {
    found.push({
      kind: 'ratio-differs-from-stated',
      weight: 'doubt',
      message: `the logs show ${reference.ratio.toFixed(2)} rad/m of engine over roll, the stated ratio and tyre radius make ${stated.toFixed(2)}: another gear, another tyre, or one of the speeds is wrongly scaled`,
      numbers: { found: reference.ratio, stated, limit: RATIO_APART },
    });
  }
  const mass = roller.equivalentMass?.value;
  if (mass !== undefined && (mass < MASSES.least || mass > MASSES.most)) {
    found.push({
      kind: 'implausible-mass',
      weight: 'doubt',
      message: `equivalent mass out of what rollers have: ${mass} kg, usual ${MASSES.least}–${MASSES.most} kg`,
      numbers: { mass, ...MASSES },
    });
  }
  return found;
}
