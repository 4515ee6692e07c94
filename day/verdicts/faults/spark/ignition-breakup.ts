import { against, type Detector, type FaultWindow, type Feature, informs, strengthOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { type Bursts, burstsOf } from '../../evidence/bursts.ts';
import { coilSupply } from '../../evidence/coil.ts';
import { startLevel } from '../../evidence/references.ts';
import { unlitFirings } from '../../evidence/unlit.ts';
import { levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';
import { surge } from '../charge-air/surge.ts';
import { NO_SPARK, sparkEnergy } from './spark-energy.ts';

/** Left of the strength where the supply of the coils is short. @source our default */
const FED_TOO_LITTLE = 0.6;

/**
 * Ignition breakup: bursts of rough drive that no command, lost trigger or lean mixture explains, with lambda swinging lean behind them.
 * Whether spark demand (with pressure) or coil energy (with speed, voltage) is short, or something else misfires: the features tell where
 * it began, at what voltage and with what coolant pressure.
 *
 * @source signature and limits: common practice, no source
 */
export const ignitionBreakup: Detector = {
  fault: 'ignition-breakup',
  subject: 'spark',
  needs: [],
  lookAlikes: [
    'spark-energy',
    'lost-sync',
    'rev-or-torque-cut',
    'lean-mixture',
    'valve-float',
    'wheel-slip',
    'head-lift',
  ],
  look: (scene, limits) => {
    if (scene.facts.engine.ignition === 'compression') return { why: NO_SPARK };
    const bursts = burstsOf(scene, limits);
    if (typeof bursts === 'string') return { why: bursts };
    const { drive, share, lean, sure, unlit } = bursts;
    const windows = outsideSurge(scene, limits, bursts);
    const limit = Math.max(limits['roughness.share'].value, limits['roughness.times'].value * drive.quiet);
    const features = [
      { ...against(limits, 'roughness.share', share), threshold: limit },
      informs('roughness of the quiet part', drive.quiet, 'fraction'),
      ...(lean === undefined ? [] : [against(limits, 'ignition-breakup.lean', lean)]),
      ...(Number.isFinite(unlit) ? [against(limits, 'ignition-breakup.unlit', unlit)] : []),
      ...(windows.length > 0 ? circumstances(scene, limits, { ...bursts, windows }) : []),
    ];
    // A lambda that shows every burst and shows none tells, however noisy the drive is.
    if (sure && windows.length === 0) return { features };
    if (!sure) return drive.blind === undefined || unlitFirings(scene).every ? { features } : { why: drive.blind };
    // Coils that are fed too little misfire just so: what is short there is less likely short here.
    const fed = 'windows' in sparkEnergy.look(scene, limits) ? FED_TOO_LITTLE : 1;
    const strength = strengthOfBursts({ ...bursts, windows }, limits, share / limit) * fed;
    return { windows, features, strength, stopClass: unlit > BANGS ? 2 : 1, voids: 'power' };
  },
};

/** Air that surges shakes the drive as well, in these seconds and so near them [s]: there lambda must say that firings did not burn. @source our default */
const SHAKEN = 0.3;

function outsideSurge(scene: PullScene, limits: Limits, { windows, confirmed }: Bursts): readonly FaultWindow[] {
  if (confirmed) return windows;
  const found = surge.look(scene, limits);
  if (!('windows' in found)) return windows;
  const shaken = found.windows;
  return windows.filter(
    ({ from, to }) => !shaken.some((swing) => from > swing.from - SHAKEN && to < swing.to + SHAKEN),
  );
}

/** Share of the firings from which what burns in the exhaust overheats it [1]. @source our default: a catalyst is endangered from a few per cent of misfire on, turbines stand more */
const BANGS = 0.1;

/** What each time the limit of roughness adds where several bursts show in the drive alone, and at most. @source our default */
const ROUGHER = { each: 0.1, most: 0.15 } as const;

/** By how many firings did not burn, where single bursts show; else by how many bursts there are, whether lambda says the same, and how rough the drive is. @param rough roughness over its limit [1] */
function strengthOfBursts({ windows, lean, confirmed, unlit }: Bursts, limits: Limits, rough: number): number {
  const more = 0.05 * Math.min(4, windows.length - 1);
  const rougher = windows.length > 1 ? Math.min(ROUGHER.most, ROUGHER.each * (rough - 1)) : 0;
  if (!Number.isFinite(unlit)) return (confirmed ? 0.75 : lean === undefined ? 0.5 + rougher : 0.35) + more;
  const size = unlit / limits['ignition-breakup.unlit'].value;
  const least = confirmed ? 0.75 : windows.length > 1 ? 0.65 : 0.55;
  return size < 1 ? least - FAINT * (1 - size) : strengthOf(size, least, least + 0.2);
}

/** What fewer firings than the limit take from the strength. @source our default */
const FAINT = 0.25;

/** What went with the bursts. */
function circumstances(scene: PullScene, limits: Limits, { windows }: Bursts): Feature[] {
  const features: Feature[] = [];
  const [first] = windows;
  const during = (track: Parameters<typeof levelBetween>[0]): number =>
    middle(windows.map(({ from, to }) => levelBetween(track, from - 0.05, to + 0.05)));
  const pressure = sceneTrack(scene, 'manifold-pressure');
  if (pressure) {
    const began = levelBetween(pressure, first.from - 0.2, first.to);
    const inside = pressure.values.filter((_, i) => pressure.times[i] > scene.from && pressure.times[i] < scene.to);
    const below = inside.filter((value) => value < began).length;
    const known = inside.filter(Number.isFinite).length;
    features.push(informs('manifold pressure where it began', began, 'absolute-pressure'));
    features.push(informs('share of the pull at a lower pressure', below / known, 'fraction'));
  }
  const voltage = sceneTrack(scene, 'battery-voltage');
  if (voltage) {
    const fall = levelBetween(voltage, scene.from, scene.from + 1) - during(voltage);
    features.push(informs('battery voltage fell since the start of the pull', fall, 'voltage'));
  }
  const supply = coilSupply(scene, limits);
  if (supply) {
    const energy = middle(supply.energy.filter((_, i) => supply.times[i] >= first.from && supply.times[i] <= first.to));
    features.push(informs('energy of the coils against the start', energy, 'fraction'));
  }
  const usual = middle(besideState(scene, ['head-lift']).map((other) => startLevel(other, 'coolant-pressure')));
  const lost = usual - startLevel(scene, 'coolant-pressure');
  if (Number.isFinite(lost))
    features.push(informs('coolant pressure lost before the pull', lost, 'pressure-difference'));
  features.push(informs('time since tip-in', first.from - scene.from, 'time'));
  features.push(informs('engine speed where it began', first.lowSpeed, 'engine-speed'));
  return features;
}
