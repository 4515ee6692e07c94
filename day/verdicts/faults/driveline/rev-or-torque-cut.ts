import { type Detector, informs } from '../../detector.ts';
import { type CutEvidence, cutEvidence } from '../../evidence/cut.ts';
import { roughness } from '../../evidence/drive.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import type { Limits } from '../../thresholds.ts';

const STRENGTH = { status: 0.95, fuel: 0.85, timing: 0.7, notches: 0.6, rhythm: 0.75, nothing: 0 } as const;

/**
 * A commanded rev or torque cut: by its status, by fuel or timing taken away, by even notches, or by drive that is
 * lost with the air still there while engine speed, rolls or lambda swing at one rate.
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
    const { windows, by } = commanded(scene, limits);
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

/** Cuts, less those that go with a lost trigger: fuel and timing stop then without any command. */
function commanded(scene: PullScene, limits: Limits): CutEvidence {
  const cut = cutEvidence(scene, limits);
  const sync = syncEvidence(scene);
  if (cut.by === 'status' || !((sync.counted ?? sync.leaps) > 1)) return cut;
  const windows = cut.windows.filter(
    ({ from, to }) => !sync.windows.some((lost) => lost.from < to + NEAR && lost.to > from - NEAR),
  );
  return { windows, by: windows.length > 0 ? cut.by : 'nothing' };
}

/** A lost trigger and what stops with it are this near [s]. @source our default */
const NEAR = 0.3;
