import { against, type Detector, informs } from '../../detector.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { sceneTrack } from '../../scene/scene.ts';

/**
 * Lost crank or cam signal: the error counter climbs, or engine speed makes steps that no shaft can, with the drive collapsing for all
 * cylinders at once.
 *
 * @source signature: common practice, no source
 */
export const lostSync: Detector = {
  fault: 'lost-sync',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['ignition-breakup', 'rev-or-torque-cut'],
  look: (scene, limits) => {
    if (!sceneTrack(scene, 'sync-errors') && !sceneTrack(scene, 'engine-speed')) {
      return { why: 'neither a sync error counter nor engine speed', missing: ['sync-errors', 'engine-speed'] };
    }
    const { counted, leaps, windows, forceLeft } = syncEvidence(scene);
    const collapsed = forceLeft !== undefined && forceLeft < limits['lost-sync.force-left'].value;
    const features = [
      ...(counted === undefined ? [] : [against(limits, 'lost-sync.counts', counted)]),
      informs('impossible steps of engine speed', leaps, 'count'),
      ...(forceLeft === undefined ? [] : [against(limits, 'lost-sync.force-left', forceLeft)]),
    ];
    const byCounter = counted !== undefined && counted >= limits['lost-sync.counts'].value;
    // Without a counter one odd sample is an instrument's; a drive that stays proves that the engine saw its trigger.
    const bySpeed = counted === undefined && leaps >= 2 && (collapsed || forceLeft === undefined);
    const both = byCounter && (collapsed || leaps > 0);
    if (!byCounter && !bySpeed) return { features };
    return { windows, features, strength: both ? 0.95 : byCounter ? 0.7 : 0.55, stopClass: 1, voids: 'power' };
  },
};
