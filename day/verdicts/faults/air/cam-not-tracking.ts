import { against, type Detector, informs, strengthOf, windowsWhere } from '../../detector.ts';
import { gridOf, tracksAt } from '../../scene/scene.ts';
import { largest, runningQuantile } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';

/** Cam phaser away from its target for long, on any bank. @source limits: common practice, no source */
export const camNotTracking: Detector = {
  fault: 'cam-not-tracking',
  subject: 'air',
  needs: ['cam-angle', 'cam-target'],
  lookAlikes: [],
  look: (scene, limits) => {
    const targets = tracksAt(scene, 'cam-target');
    const limit = limits['cam.departure'].value;
    const banks = tracksAt(scene, 'cam-angle').flatMap((angle) => {
      const asked =
        targets.find(({ position }) => position === angle.position) ?? (targets.length === 1 ? targets[0] : undefined);
      if (!asked) return [];
      const times = gridOf(scene, Math.min(50, angle.rate));
      const target = onTimes(asked, times);
      const error = runningQuantile(
        { times, values: onTimes(angle, times).map((value, i) => Math.abs(value - target[i])) },
        0.15,
        0.5,
      );
      const windows = windowsWhere(scene, {
        times,
        holds: (i) => error[i] > limit,
        shortest: limits['cam.shortest'].value,
        join: 0.1,
      });
      return [{ name: angle.position ?? angle.name, windows, top: largest(error) }];
    });
    if (banks.length === 0) return { why: 'no cam angle has a target of its own' };
    const top = largest(banks.map((bank) => bank.top));
    const windows = banks.flatMap((bank) => bank.windows).sort((a, b) => a.from - b.from);
    const features = [
      against(limits, 'cam.departure', top),
      ...banks.map((bank) => informs(`largest departure, ${bank.name}`, bank.top, 'angle')),
    ];
    return windows.length > 0
      ? { windows, features, strength: strengthOf(top / limit, 0.7), stopClass: 1 }
      : { features };
  },
};
