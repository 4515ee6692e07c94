import { type FaultWindow, windowsWhere, within } from '../detector.ts';
import { kept } from '../scene/memory.ts';
import type { PullScene } from '../scene/scene.ts';
import { largest } from '../scene/series.ts';
import type { Limits } from '../thresholds.ts';
import { cutEvidence } from './cut.ts';
import { type Roughness, roughness } from './drive.ts';
import { leanBefore, leanSpike } from './lambda.ts';
import { syncEvidence } from './sync.ts';

/** Bursts that lambda does not confirm must add up to this [s]. @source our default */
const SHORT = 0.3;

/**
 * Rough stretches of the drive that no command, lost trigger or lean mixture explains. sure: lambda swings lean behind them, or they last.
 * share: largest roughness in them [1]; lean: how far lambda swings, undefined without a lambda that is fast enough.
 */
export interface Bursts {
  readonly drive: Roughness;
  readonly windows: readonly FaultWindow[];
  readonly share: number;
  readonly lean: number | undefined;
  readonly confirmed: boolean;
  readonly sure: boolean;
}

/** Bursts of misfire in a pull; a sentence when the drive cannot show them. */
export const burstsOf: (scene: PullScene, limits: Limits) => Bursts | string = kept(foundBursts);

function foundBursts(scene: PullScene, limits: Limits): Bursts | string {
  const drive = roughness(scene, limits);
  if (typeof drive === 'string') return drive;
  const [cut, sync] = [cutEvidence(scene, limits).windows, syncEvidence(scene)];
  const lost = (sync.counted ?? sync.leaps) > 0 ? sync.windows : [];
  const rough = windowsWhere(scene, {
    times: drive.times,
    holds: (i) => drive.rough(i) && !within(cut, drive.times[i], 0.4) && !within(lost, drive.times[i], 0.5),
    shortest: limits['roughness.shortest'].value,
    join: 0.4,
  });
  const windows = rough.filter(({ from }) => !leanBefore(scene, from, limits));
  const share = Math.max(
    0,
    largest(drive.share.map((value, i) => (within(windows, drive.times[i]) ? value : Number.NaN))),
  );
  const lean = windows.length > 0 ? leanSpike(scene, windows) : undefined;
  const confirmed = lean !== undefined && lean > limits['ignition-breakup.lean'].value;
  const seconds = windows.reduce((sum, { from, to }) => sum + to - from, 0);
  // One short burst that lambda does not confirm may be anything that shakes a roller.
  const sure = windows.length > 0 && (confirmed || (windows.length > 1 && seconds >= SHORT));
  return { drive, windows, share, lean, confirmed, sure };
}
