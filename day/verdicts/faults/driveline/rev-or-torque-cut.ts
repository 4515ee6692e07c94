import { type Detector, informs } from '../../detector.ts';
import { cutEvidence } from '../../evidence/cut.ts';
import { roughness } from '../../evidence/drive.ts';
import { sceneTrack } from '../../scene/scene.ts';

const STRENGTH = { status: 0.95, fuel: 0.85, timing: 0.7, notches: 0.6, nothing: 0 } as const;

/**
 * A commanded rev or torque cut: by its status, by fuel or timing taken away, or by even notches at a speed that no longer rises.
 *
 * @source signature: common practice, no source
 */
export const revOrTorqueCut: Detector = {
  fault: 'rev-or-torque-cut',
  subject: 'driveline',
  needs: [],
  lookAlikes: ['ignition-breakup', 'lost-sync', 'valve-float'],
  look: (scene, limits) => {
    const commands = ['cut-status', 'injector-pulse', 'injector-duty', 'fuel-flow', 'ignition-timing'] as const;
    const told = commands.some((meaning) => sceneTrack(scene, meaning));
    if (!told && typeof roughness(scene, limits) === 'string') {
      return { why: 'neither a cut status, fuel or timing, nor a drive fast enough', missing: ['cut-status'] };
    }
    const { windows, by } = cutEvidence(scene, limits);
    const features = [informs('windows with a cut', windows.length, 'count')];
    if (windows.length === 0) {
      const drive = roughness(scene, limits);
      const why = typeof drive === 'string' ? drive : drive.blind;
      // Fuel and timing show some cuts, a drive that is fast and even shows that there was none.
      return sceneTrack(scene, 'cut-status') || why === undefined
        ? { features }
        : { why: `no cut status, and ${why}`, missing: ['cut-status'] };
    }
    return {
      windows,
      features: [...features, informs('lowest engine speed of the cut', windows[0].lowSpeed, 'engine-speed')],
      strength: STRENGTH[by],
      stopClass: 0,
      voids: 'power',
    };
  },
};
