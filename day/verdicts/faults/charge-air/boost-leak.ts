import { against, type Detector, strengthOf, windowOf } from '../../detector.ts';
import { heldAgainst, meanDifference, meanRatio } from '../../evidence/references.ts';
import type { Fault } from '../../fault.ts';
import { sceneTrack } from '../../scene/scene.ts';

/** Pulls with these say nothing about how hard the turbocharger usually works. */
const SPOILING: readonly Fault[] = ['boost-leak', 'exhaust-restriction', 'charge-heat-soak', 'surge', 'wrong-scale'];

/**
 * Boost leak: the same manifold pressure takes more wastegate work, more turbo speed and hotter air than in the day's other pulls. Two of
 * the three must speak, one of them duty or turbo speed. The inlet side must be unchanged.
 *
 * @source limits: common practice, no source
 */
export const boostLeak: Detector = {
  fault: 'boost-leak',
  subject: 'charge-air',
  needs: ['manifold-pressure'],
  lookAlikes: ['charge-heat-soak', 'exhaust-restriction', 'boost-droop'],
  look: (scene, limits) => {
    const duty = meanDifference(heldAgainst(scene, limits, { meaning: 'wastegate-duty', spoiling: SPOILING }));
    const turbo = meanRatio(heldAgainst(scene, limits, { meaning: 'turbo-speed', spoiling: SPOILING }));
    const charge = meanDifference(heldAgainst(scene, limits, { meaning: 'charge-temperature', spoiling: SPOILING }));
    const outlet = meanDifference(
      heldAgainst(scene, limits, { meaning: 'compressor-outlet-temperature', spoiling: SPOILING }),
    );
    if (!Number.isFinite(duty) && !Number.isFinite(turbo)) {
      const missing = (['wastegate-duty', 'turbo-speed'] as const).filter((meaning) => !sceneTrack(scene, meaning));
      return { why: 'no other pull at the same manifold pressure that logs wastegate duty or turbo speed', missing };
    }
    const heat = Number.isFinite(outlet) ? outlet : charge;
    const features = [
      ...(Number.isFinite(duty) ? [against(limits, 'boost-leak.duty', Math.abs(duty))] : []),
      ...(Number.isFinite(turbo) ? [against(limits, 'boost-leak.turbo', turbo)] : []),
      ...(Number.isFinite(heat) ? [against(limits, 'boost-leak.temperature', heat)] : []),
    ];
    const ratios = [Math.abs(duty) / limits['boost-leak.duty'].value, turbo / limits['boost-leak.turbo'].value];
    const speaking = ratios.filter((ratio) => ratio > 1).length;
    const hot = heat > limits['boost-leak.temperature'].value;
    const inlet = meanRatio(heldAgainst(scene, limits, { meaning: 'compressor-inlet-pressure', spoiling: SPOILING }));
    const starved = inlet < -0.015;
    const slower = turbo < 0;
    if (speaking === 0 || speaking + (hot ? 1 : 0) < 2 || starved || slower) return { features };
    return {
      windows: [windowOf(scene, scene)],
      features,
      strength: strengthOf(Math.max(...ratios.filter(Number.isFinite)), speaking === 2 ? 0.7 : 0.5),
      stopClass: 1,
    };
  },
};
