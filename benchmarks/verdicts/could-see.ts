import { type CoverageRow, coverageOf, type Fault } from '../../day/verdicts/index.ts';
import type { PullScene } from '../../day/verdicts/scene/scene.ts';
import type { Limits } from '../../day/verdicts/thresholds.ts';
import { areTwins } from '../../day/verdicts/weighing/look-alikes.ts';

/** What could be seen of the faults of a pull with the channels of its log, at their rates, as the coverage matrix says before the day. */
export interface CouldSee {
  /** No detector could answer. */
  readonly blind: (fault: Fault) => boolean;
  /** Another fault looks the same without a channel that was not logged. */
  readonly unparted: (fault: Fault) => boolean;
}

const known = new Map<string, readonly CoverageRow[]>();

/** The coverage of a pull's log. The same list of channels is asked about once. */
export function couldSee({ tracks, facts }: PullScene, limits: Limits): CouldSee {
  const channels = tracks.map(({ meaning, rate }) => ({
    meaning,
    // Two digits: a rate that jitters is the same plan.
    rate: Number(rate.toPrecision(2)),
  }));
  const { transmission } = facts.vehicle;
  const joined = transmission === 'manual' || transmission === 'converter' ? { transmission } : {};
  const key = JSON.stringify([channels, transmission, facts.engine.redline, limits]);
  const rows = known.get(key) ?? coverageOf({ channels, engine: facts.engine, limits, ...joined });
  known.set(key, rows);
  const rowOf = (fault: Fault): CoverageRow | undefined => rows.find((row) => row.fault === fault);
  return {
    blind: (fault) => rowOf(fault)?.reach === 'blind',
    unparted: (fault) => rowOf(fault)?.unparted.some((other) => areTwins(fault, other.fault)) === true,
  };
}
