import { type CoverageRow, coverageOf, type Fault } from '../../day/verdicts/index.ts';
import type { PullScene } from '../../day/verdicts/scene/scene.ts';
import type { Limits } from '../../day/verdicts/thresholds.ts';

const known = new Map<string, readonly CoverageRow[]>();

/**
 * Which faults nobody could see with the channels of a pull's log, at their rates, as the coverage matrix says before the day. The same list of channels is asked about
 * once.
 */
export function blindWith({ tracks, facts }: PullScene, limits: Limits): (fault: Fault) => boolean {
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
  return (fault) => rows.find((row) => row.fault === fault)?.reach === 'blind';
}
