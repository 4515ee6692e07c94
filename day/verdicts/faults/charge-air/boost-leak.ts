import { against, type Detector, strengthOf, windowOf } from '../../detector.ts';
import { equalPressure, heldAgainst, meanDifference, meanRatio } from '../../evidence/references.ts';
import type { Fault } from '../../fault.ts';
import { sceneTrack } from '../../scene/scene.ts';

/** Pulls with these say nothing about how hard the turbocharger usually works. */
const SPOILING: readonly Fault[] = ['boost-leak', 'exhaust-restriction', 'charge-heat-soak', 'surge', 'wrong-scale'];

/** A second sign counts from this share of its limit; all signs over their limits must add up to this. @source our default */
const PARTLY = 0.4;
const TOGETHER = 2;
/** Duty alone must be so many times its limit where the pressure is not reached any more. @source our default */
const STRAINED = 1.5;

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
    const ratios = [
      Math.abs(duty) / limits['boost-leak.duty'].value,
      turbo / limits['boost-leak.turbo'].value,
      heat / limits['boost-leak.temperature'].value,
    ];
    const speaking = ratios.slice(0, 2).filter((ratio) => ratio > 1).length;
    // One sign beyond its limit and the others at least on the way there, or the others unknown and this one far beyond.
    const agreeing = ratios.filter((ratio) => ratio > PARTLY).length;
    const together = ratios.reduce(
      (sum, ratio) => sum + (Number.isFinite(ratio) ? Math.max(-1, Math.min(2, ratio)) : 0),
      0,
    );
    const inlet = meanRatio(heldAgainst(scene, limits, { meaning: 'compressor-inlet-pressure', spoiling: SPOILING }));
    const starved = inlet < -0.015;
    const slower = turbo < 0;
    // Where the pressure is no longer reached, speed and temperature fall with it: then the work of the wastegate speaks alone.
    const short = equalPressure(scene, limits, SPOILING).length === 0;
    const strained = short && ratios[0] > STRAINED && !starved;
    if (strained)
      return { windows: [windowOf(scene, scene)], features, strength: strengthOf(ratios[0], 0.4, 0.6), stopClass: 1 };
    if (speaking === 0 || agreeing < 2 || together < TOGETHER || starved || slower) return { features };
    return {
      windows: [windowOf(scene, scene)],
      features,
      strength: strengthOf(Math.max(...ratios.filter(Number.isFinite)), speaking === 2 ? 0.7 : 0.5),
      stopClass: 1,
    };
  },
};
