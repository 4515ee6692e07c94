import { against, type Detector, informs, windowsWhere, within } from '../../detector.ts';
import { cutEvidence } from '../../evidence/cut.ts';
import { roughness } from '../../evidence/drive.ts';
import { leanBefore, leanSpike } from '../../evidence/lambda.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { levelBetween, sceneTrack } from '../../scene/scene.ts';
import { largest, middle } from '../../scene/series.ts';

/** Bursts that lambda does not confirm must add up to this [s]. @source our default */
const SHORT = 0.3;

/**
 * Ignition breakup: bursts of rough drive that no command, lost trigger or lean mixture explains, with lambda swinging lean behind them.
 * Whether spark demand (with pressure) or coil energy (with speed, voltage) is short: the features tell where it began and at what voltage.
 *
 * @source signature and limits: common practice, no source
 */
export const ignitionBreakup: Detector = {
  fault: 'ignition-breakup',
  subject: 'spark',
  needs: [],
  lookAlikes: ['lost-sync', 'rev-or-torque-cut', 'lean-mixture', 'valve-float', 'wheel-slip'],
  look: (scene, limits) => {
    const drive = roughness(scene, limits);
    if (typeof drive === 'string') return { why: drive };
    const [cut, sync] = [cutEvidence(scene, limits).windows, syncEvidence(scene)];
    const lost = (sync.counted ?? sync.leaps) > 0 ? sync.windows : [];
    const bursts = windowsWhere(scene, {
      times: drive.times,
      holds: (i) => drive.rough(i) && !within(cut, drive.times[i], 0.4) && !within(lost, drive.times[i], 0.5),
      shortest: limits['roughness.shortest'].value,
      join: 0.4,
    });
    const windows = bursts.filter(({ from }) => !leanBefore(scene, from, limits));
    const share = drive.share.map((value, i) => (within(windows, drive.times[i]) ? value : Number.NaN));
    const limit = Math.max(limits['roughness.share'].value, limits['roughness.times'].value * drive.quiet);
    const features = [
      { ...against(limits, 'roughness.share', Math.max(0, largest(share))), threshold: limit },
      informs('roughness of the quiet part', drive.quiet, 'fraction'),
    ];
    if (windows.length === 0) {
      const blind = limits['roughness.times'].value * drive.quiet > limits['roughness.blind'].value;
      return blind ? { why: 'the drive is too noisy here: ordinary bursts of misfire would not show' } : { features };
    }
    const lean = leanSpike(scene, windows);
    const pressure = sceneTrack(scene, 'manifold-pressure');
    const voltage = sceneTrack(scene, 'battery-voltage');
    const first = windows[0];
    if (lean !== undefined) features.push(against(limits, 'ignition-breakup.lean', lean));
    if (pressure)
      features.push(
        informs(
          'manifold pressure where it began',
          levelBetween(pressure, first.from - 0.2, first.to),
          'absolute-pressure',
        ),
      );
    if (voltage) {
      const fall =
        levelBetween(voltage, scene.from, scene.from + 1) -
        middle(windows.map((w) => levelBetween(voltage, w.from, w.to)));
      features.push(informs('battery voltage fell since the start of the pull', fall, 'voltage'));
    }
    const agreed = lean !== undefined && lean > limits['ignition-breakup.lean'].value;
    // One short burst that lambda does not confirm may be anything that shakes a roller.
    const seconds = windows.reduce((sum, { from, to }) => sum + to - from, 0);
    if (!agreed && (windows.length < 2 || seconds < SHORT)) return { features };
    const base = agreed ? 0.75 : lean === undefined ? 0.5 : 0.35;
    return { windows, features, strength: base + 0.05 * Math.min(4, windows.length - 1), stopClass: 1 };
  },
};
