import { type FaultWindow, windowOf, windowsWhere, within } from '../detector.ts';
import { kept } from '../scene/memory.ts';
import { levelBetween, type PullScene } from '../scene/scene.ts';
import { largest } from '../scene/series.ts';
import type { Limits } from '../thresholds.ts';
import { cutEvidence } from './cut.ts';
import { type Roughness, roughness } from './drive.ts';
import { lambdas, leanBefore, leanSpike, swingsLean } from './lambda.ts';
import { syncEvidence } from './sync.ts';
import { agree, fullStops, type Pulse, unlitFirings, worstSecond } from './unlit.ts';

/** Bursts that lambda does not confirm must add up to this [s]. @source our default */
const SHORT = 0.3;
/** Lambda that swings less than this of its limit denies a misfire, unless it is so many times rougher than it takes. @source our default */
const LEFT = 0.5;
const GROSS = 5;
/** While the driveline still swings from tip-in, and towards lift-off, faint bursts are not looked for [s]. @source our default */
const SETTLED = { after: 1, before: 0.35 } as const;

/**
 * Rough stretches of the drive that no command, lost trigger or lean mixture explains. sure: lambda swings lean behind them, or they last.
 * share: largest roughness in them [1]; lean: how far lambda swings, undefined without a lambda that is fast enough. unlit: share of the firings of the worst
 * second that did not burn [1], NaN where single bursts do not show.
 */
export interface Bursts {
  readonly drive: Roughness;
  readonly windows: readonly FaultWindow[];
  readonly share: number;
  readonly lean: number | undefined;
  readonly confirmed: boolean;
  readonly sure: boolean;
  readonly unlit: number;
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
  const [cut, sync] = [cutEvidence(scene, limits).windows, syncEvidence(scene)];
  const stops = fullStops(scene).map((stop) => windowOf(scene, stop));
  const lost = (sync.counted ?? sync.leaps) > 0 ? sync.windows : stops;
  const shown = shownBursts(scene, limits, [...cut, ...lost]);
  const { every } = unlitFirings(scene);
  if (typeof drive === 'string') {
    if (shown) return { ...shown, drive: unknownDrive(scene) };
    return every ? { ...NONE, drive: unknownDrive(scene) } : drive;
  }
  if (shown) return { ...shown, drive, share: roughest(drive, shown.windows) };
  const rough = windowsWhere(scene, {
    times: drive.times,
    holds: (i) => drive.rough(i) && !within(cut, drive.times[i], 0.4) && !within(lost, drive.times[i], 0.5),
    shortest: limits['roughness.shortest'].value,
    join: 0.4,
  });
  const clear = rough.filter(({ from }) => !leanBefore(scene, from, limits));
  const windows = clear.length > 0 ? clear : faintBursts(scene, limits, { drive, cut, lost });
  const share = roughest(drive, windows);
  const lean = windows.length > 0 ? leanSpike(scene, windows) : undefined;
  // Where lambda shows single bursts and shows none, a swing of it is something else.
  const confirmed = !every && lean !== undefined && lean > limits['ignition-breakup.lean'].value;
  const seconds = windows.reduce((sum, { from, to }) => sum + to - from, 0);
  // One short burst that lambda does not confirm may be anything that shakes a roller.
  const lasts = windows.length > 1 && seconds >= SHORT;
  // Where lambda is fast enough and stays even, what did not burn would have shown: only gross roughness speaks against it.
  const denied = every || (lean !== undefined && lean < LEFT * limits['ignition-breakup.lean'].value);
  const sure =
    windows.length > 0 &&
    (confirmed ||
      (lasts &&
        (!denied ||
          share > GROSS * Math.max(limits['roughness.share'].value, limits['roughness.times'].value * drive.quiet))));
  return { drive, windows, share, lean, confirmed, sure, unlit: Number.NaN };
}

const NONE: Omit<Bursts, 'drive'> = {
  ...{ windows: [], share: 0, lean: undefined, confirmed: false, sure: false, unlit: Number.NaN },
};

function roughest(drive: Roughness, windows: readonly FaultWindow[]): number {
  return Math.max(0, largest(drive.share.map((value, i) => (within(windows, drive.times[i]) ? value : Number.NaN))));
}

/** Stands for a drive that nobody can look at where lambda tells alone. */
function unknownDrive(scene: PullScene): Roughness {
  const times = Float64Array.of(scene.from, scene.to);
  const none = new Float64Array(2).fill(Number.NaN);
  const rough = (): boolean => false;
  return { times, share: none, quiet: Number.NaN, rough, force: none, swing: none, blind: undefined };
}

/** Pulses nearer than this are one burst [s]. @source our default */
const ONE_BURST = 0.4;
/** One pulse of the drive alone may be anything that jerks a driveline; two of them, or one of so many firings of a second, count [1]. @source our default */
const ONE_IS_ENOUGH = 0.01;

/** Of the limit, so few unlit firings are no breakup yet [1]. @source our default */
const LEAST = 0.5;

/** Bursts that lambda or the drive show one by one; undefined where neither does. */
function shownBursts(
  scene: PullScene,
  limits: Limits,
  without: readonly FaultWindow[],
): Omit<Bursts, 'drive'> | undefined {
  const { lambda, drive, every } = unlitFirings(scene);
  const free = (pulses: readonly Pulse[]): readonly Pulse[] =>
    pulses.filter(({ from, to }) => !within(without, from, 0.4) && !within(without, to, 0.4));
  const losses = free(drive ?? []);
  const swings = free(lambda ?? []).filter(({ from }) => !isOffMixture(scene, limits, from));
  const confirmed = swings.length > 1 || swings.some((one) => losses.some((other) => agree(one, other)));
  const alone = !every && (losses.length > 1 || worstSecond(losses) > ONE_IS_ENOUGH);
  if (!confirmed && !alone) return undefined;
  const pulses = confirmed ? swings : losses;
  if (worstSecond(pulses) < LEAST * limits['ignition-breakup.unlit'].value) return undefined;
  const windows = burstWindows(scene, pulses);
  const lean = confirmed ? leanSpike(scene, windows) : undefined;
  return { windows, share: Number.NaN, lean, confirmed, sure: true, unlit: worstSecond(pulses) };
}

/** True when the mixture was too lean or too rich to burn well before a moment. */
function isOffMixture(scene: PullScene, limits: Limits, moment: number): boolean {
  const rich = lambdas(scene).some(
    (track) => levelBetween(track, moment - 1, moment - 0.1) < limits['rich.absolute'].value,
  );
  return rich || leanBefore(scene, moment, limits);
}

function burstWindows(scene: PullScene, pulses: readonly Pulse[]): readonly FaultWindow[] {
  const spans: { from: number; to: number }[] = [];
  for (const { from, to } of [...pulses].sort((a, b) => a.from - b.from)) {
    const last = spans[spans.length - 1];
    if (last && from - last.to < ONE_BURST) last.to = Math.max(last.to, to);
    else spans.push({ from, to });
  }
  return spans.map((span) => windowOf(scene, span));
}
