import { against, type Detector, informs, strengthOf, windowsWhere } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { keptOf } from '../../scene/memory.ts';
import { gridOf, type PullScene, tracksAt } from '../../scene/scene.ts';
import { largest, runningQuantile } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';

/** A phaser that moves slowly is late for a short time only: seen from this share of the limit where the day's other pulls have at most such a share of it. @source our default; slew below half of the usual: common practice, no source */
const BRIEFLY = { share: 0.8, usual: 0.5, shortest: 0.05 } as const;

/** Cam phaser away from its target for long, or for a short time and much further than in other pulls, on any bank. @source limits: common practice, no source */
export const camNotTracking: Detector = {
  fault: 'cam-not-tracking',
  subject: 'air',
  needs: ['cam-angle', 'cam-target'],
  lookAlikes: [],
  look: (scene, limits) => {
    const banks = banksOf(scene);
    if (banks.length === 0) return { why: 'no cam angle has a target of its own' };
    const limit = limits['cam.departure'].value;
    const others = besideState(scene, ['cam-not-tracking', 'stuck-channel', 'lagging-channel']).flatMap(banksOf);
    const found = banks.map((bank) => {
      const usual = largest(others.filter(({ name }) => name === bank.name).map(({ top }) => top));
      const away = { times: bank.times, join: 0.1 };
      const long = windowsWhere(scene, {
        ...away,
        holds: (i) => bank.error[i] > limit,
        shortest: limits['cam.shortest'].value,
      });
      const late = Number.isFinite(usual) && usual < BRIEFLY.usual * bank.top;
      const brief = windowsWhere(scene, {
        ...away,
        holds: (i) => late && bank.error[i] > BRIEFLY.share * limit,
        shortest: BRIEFLY.shortest,
      });
      return { long, brief };
    });
    const long = found.flatMap((bank) => bank.long);
    const windows = [...(long.length > 0 ? long : found.flatMap((bank) => bank.brief))].sort((a, b) => a.from - b.from);
    const top = largest(banks.map((bank) => bank.top));
    const features = [
      against(limits, 'cam.departure', top),
      ...banks.map((bank) => informs(`largest departure, ${bank.name}`, bank.top, 'angle')),
    ];
    if (windows.length === 0) return { features };
    return { windows, features, strength: strengthOf(top / limit, long.length > 0 ? 0.7 : 0.6), stopClass: 1 };
  },
};

/** How far one bank is off its target [rad] on `times` [s]; top: at most. */
interface Bank {
  readonly name: string;
  readonly times: Float64Array;
  readonly error: Float64Array;
  readonly top: number;
}

const banksOf: (scene: PullScene) => readonly Bank[] = keptOf((scene) => {
  const targets = tracksAt(scene, 'cam-target');
  return tracksAt(scene, 'cam-angle').flatMap((angle) => {
    const asked =
      targets.find(({ position }) => position === angle.position) ?? (targets.length === 1 ? targets[0] : undefined);
    if (!asked) return [];
    const times = gridOf(scene, Math.min(50, angle.rate));
    const target = onTimes(asked, times);
    const values = onTimes(angle, times).map((value, i) => Math.abs(value - target[i]));
    const error = runningQuantile({ times, values }, 0.15, 0.5);
    return [{ name: angle.position ?? angle.name, times, error, top: largest(error) }];
  });
});
