import { type FaultWindow, windowsWhere, within } from '../detector.ts';
import { kept } from '../scene/memory.ts';
import type { PullScene } from '../scene/scene.ts';
import { largest } from '../scene/series.ts';
import type { Limits } from '../thresholds.ts';
import { cutEvidence } from './cut.ts';
import { type Roughness, roughness } from './drive.ts';
import { leanBefore, leanSpike, swingsLean } from './lambda.ts';
import { syncEvidence } from './sync.ts';

/** Bursts that lambda does not confirm must add up to this [s]. @source our default */
const SHORT = 0.3;
/** Lambda that swings less than this of its limit denies a misfire, unless it is so many times rougher than it takes. @source our default */
const LEFT = 0.5;
const GROSS = 5;
/** While the driveline still swings from tip-in, and towards lift-off, faint bursts are not looked for [s]. @source our default */
const SETTLED = { after: 1, before: 0.35 } as const;

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

/** Of what is asked for, where lambda swings lean in each burst; one alone swings so many times as far. @source our default */
const FAINT = 0.65;
const ALONE = 2;

/** Bursts that are less rough than it takes alone, each with its swing of lambda. */
function faintBursts(
  scene: PullScene,
  limits: Limits,
  { drive, cut, lost }: { drive: Roughness; cut: readonly FaultWindow[]; lost: readonly FaultWindow[] },
): readonly FaultWindow[] {
  const asked = FAINT * Math.max(limits['roughness.share'].value, limits['roughness.times'].value * drive.quiet);
  const limit = limits['ignition-breakup.lean'].value;
  const windows = windowsWhere(scene, {
    times: drive.times,
    holds: (i) => {
      const time = drive.times[i];
      const ends = time < scene.from + SETTLED.after || time > scene.to - SETTLED.before;
      return !ends && drive.share[i] > asked && !within(cut, time, 0.4) && !within(lost, time, 0.5);
    },
    shortest: limits['roughness.shortest'].value,
    join: 0.2,
  }).filter((window) => !leanBefore(scene, window.from, limits) && swingsLean(scene, window, limit));
  return windows.length > 1 || windows.some((window) => swingsLean(scene, window, ALONE * limit)) ? windows : [];
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
  const clear = rough.filter(({ from }) => !leanBefore(scene, from, limits));
  const windows = clear.length > 0 ? clear : faintBursts(scene, limits, { drive, cut, lost });
  const share = Math.max(
    0,
    largest(drive.share.map((value, i) => (within(windows, drive.times[i]) ? value : Number.NaN))),
  );
  const lean = windows.length > 0 ? leanSpike(scene, windows) : undefined;
  const confirmed = lean !== undefined && lean > limits['ignition-breakup.lean'].value;
  const seconds = windows.reduce((sum, { from, to }) => sum + to - from, 0);
  // One short burst that lambda does not confirm may be anything that shakes a roller.
  const lasts = windows.length > 1 && seconds >= SHORT;
  // Where lambda is fast enough and stays even, what did not burn would have shown: only gross roughness speaks against it.
  const denied = lean !== undefined && lean < LEFT * limits['ignition-breakup.lean'].value;
  const sure =
    windows.length > 0 &&
    (confirmed ||
      (lasts &&
        (!denied ||
          share > GROSS * Math.max(limits['roughness.share'].value, limits['roughness.times'].value * drive.quiet))));
  return { drive, windows, share, lean, confirmed, sure };
}
