import type { Detection } from '../detector.ts';
import type { PullScene } from '../scene/scene.ts';
import { separatingQuestions } from '../separation.ts';
import type { Limits } from '../thresholds.ts';
import type { Occurrence } from '../verdict.ts';

/** What went wrong in a pull, from what every detector said of it: windows that meet are one occurrence. */
export function weigh(scene: PullScene, detections: readonly Detection[], limits: Limits): readonly Occurrence[] {
  return detections
    .filter(({ answer }) => answer === 'seen')
    .map((detection) => ({
      windows: detection.windows,
      hypotheses: [{ fault: detection.fault, probability: detection.strength, detection, evidence: [] }],
      separation: separatingQuestions(scene, detection.windows[0] ?? wholePull(scene), limits),
      inseparable: [],
      next: undefined,
      stopClass: detection.stopClass,
      voids: detection.voids,
      ...(detection.channel === undefined ? {} : { channel: detection.channel }),
    }));
}

function wholePull({ from, to }: PullScene) {
  return { from, to, lowSpeed: Number.NaN, highSpeed: Number.NaN };
}
