import { blankPull } from '../../day/verdicts/coverage/blank-pull.ts';
import { type Detection, detect } from '../../day/verdicts/detector.ts';
import { DETECTORS } from '../../day/verdicts/detectors.ts';
import type { Fault } from '../../day/verdicts/index.ts';
import type { PullScene } from '../../day/verdicts/scene/scene.ts';
import type { Limits } from '../../day/verdicts/thresholds.ts';

/**
 * Faults that nobody could see with the channels of a pull's log, at their rates: their detectors lacked a channel, or cannot tell on a blank pull with exactly these
 * channels either, as the coverage matrix asks them before the day.
 */
export function blindFaults(scene: PullScene, said: readonly Detection[], limits: Limits): readonly Fault[] {
  const untold = said.filter(({ answer }) => answer === 'cannot tell');
  const open = untold.filter(({ missing }) => missing.length === 0).map(({ fault }) => fault);
  const tooSlow = open.length > 0 ? untoldOnBlank(scene, open, limits) : [];
  return untold.filter(({ fault, missing }) => missing.length > 0 || tooSlow.includes(fault)).map(({ fault }) => fault);
}

function untoldOnBlank({ tracks, facts }: PullScene, faults: readonly Fault[], limits: Limits): readonly Fault[] {
  const channels = tracks.map(({ meaning, rate }) => ({ meaning, rate }));
  const { transmission } = facts.vehicle;
  const blank = blankPull(channels, transmission === 'converter' ? 'converter' : 'manual', facts.engine);
  return DETECTORS.filter(
    (detector) => faults.includes(detector.fault) && detect(detector, blank, limits).answer === 'cannot tell',
  ).map(({ fault }) => fault);
}
