import { against, type Detector, type FaultWindow, informs, strengthOf, windowsWhere } from '../../detector.ts';
import { rollSpeed } from '../../evidence/drive.ts';
import { type SlipSeries, slipSeries } from '../../evidence/slip.ts';
import { type Ahead, engineAhead, wheelAhead } from '../../evidence/slip-beside.ts';
import { wheelKeepsToRoll } from '../../evidence/wheel.ts';
import type { PullScene } from '../../scene/scene.ts';
import { largest } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

/**
 * Tyre slipping on the roller: engine speed over roll speed rises smoothly away from what creep explains, or from what earlier pulls did at
 * equal roll speed. With a driven wheel speed it is read from the wheel itself, whatever stands between it and the engine; a wheel that stays
 * with the roll is not slipping.
 *
 * @source signature and limits: common practice, no source
 */
export const wheelSlip: Detector = {
  fault: 'wheel-slip',
  subject: 'traction',
  needs: ['engine-speed'],
  lookAlikes: ['clutch-slip', 'converter-slip', 'lost-sync'],
  look: (scene, limits) => {
    const wheel = wheelAhead(scene);
    const seen = slipSeries(scene, limits);
    if (typeof seen === 'string') {
      if (wheel) return byWheel(scene, limits, wheel);
      const missing =
        scene.facts.vehicle.transmission === 'converter' && rollSpeed(scene) ? ['wheel-speed' as const] : [];
      return { why: seen, missing };
    }
    const limit = limits['wheel-slip.departure'].value;
    const engine = engineAhead(scene, limits);
    const windows = [...ownWindows(scene, limits, seen), ...(engine ? beyondWindows(scene, limits, engine) : [])];
    const top = largest(seen.departure);
    const features = [
      against(limits, 'wheel-slip.departure', top),
      ...(engine ? [against(limits, 'wheel-slip.beyond', largest(engine.beyond))] : []),
      informs('creep at the largest force', seen.creep, 'fraction'),
    ];
    if (windows.length === 0) return { features };
    const keeps = wheel ? beyondWindows(scene, limits, wheel).length === 0 : wheelKeepsToRoll(scene, windows);
    if (keeps === true) return { features };
    const size = Math.max(top / limit, engine ? largest(engine.beyond) / limits['wheel-slip.beyond'].value : 0);
    return {
      windows: joined(windows),
      features,
      strength: strengthOf(size, keeps === false ? 0.6 : 0.5, keeps === false ? 0.95 : 0.8) - (seen.relative ? 0.1 : 0),
      stopClass: classOf(Math.max(top, engine ? largest(engine.beyond) : 0) + hiddenByClocks(scene), windows, limits),
      voids: 'power',
    };
  },
};

/** Lags that are left from here on show that the clocks do not fit [s]. @source our default */
const FITS_BADLY = 0.06;

/**
 * How much of the slip the clocks may have taken [1]: logs that are laid on one another by their speeds take a long slip for a lag. How grave it is, is judged by the upper
 * end.
 */
function hiddenByClocks({ alignment, from, to }: PullScene): number {
  const lags = alignment.pieces.flatMap((piece) => piece.lags).filter(({ time }) => time > from && time < to);
  const most = largest(lags.map(({ lag }) => Math.abs(lag)));
  return most > FITS_BADLY ? most / (to - from) : 0;
}

/** Gross slip that lasts so long in all burns rubber and pulls at the straps [s]; a gear change or a jolt does not. @source our default */
const BURNS = 0.5;

/** Gross slip that lasts holds: tyres and straps are looked at before the next pull. @source common practice, no source */
function classOf(slip: number, windows: readonly FaultWindow[], limits: Limits): 1 | 2 {
  const seconds = windows.reduce((sum, { from, to }) => sum + to - from, 0);
  return slip > limits['wheel-slip.gross'].value && seconds >= BURNS ? 2 : 1;
}

/** Where the engine leaves what creep explains in this pull. */
function ownWindows(scene: PullScene, limits: Limits, { times, departure, doubt }: SlipSeries): readonly FaultWindow[] {
  const limit = limits['wheel-slip.departure'].value;
  return lasting(scene, limits, { times, holds: (i) => departure[i] > limit + doubt[i] });
}

/** Where something leaves what it did in earlier pulls. */
function beyondWindows(scene: PullScene, limits: Limits, { times, beyond, noise }: Ahead): readonly FaultWindow[] {
  const limit = limits['wheel-slip.beyond'].value + noise;
  return lasting(scene, limits, { times, holds: (i) => beyond[i] > limit });
}

function lasting(
  scene: PullScene,
  limits: Limits,
  marks: { readonly times: Float64Array; readonly holds: (index: number) => boolean },
): readonly FaultWindow[] {
  const shortest = Math.max(limits['wheel-slip.shortest'].value, 3 * (marks.times[1] - marks.times[0]));
  return windowsWhere(scene, { ...marks, shortest, join: 0.1 });
}

/** The wheels alone say it: what stands between them and the engine slips anyway. */
function byWheel(scene: PullScene, limits: Limits, wheel: Ahead) {
  const top = largest(wheel.beyond);
  const features = [against(limits, 'wheel-slip.beyond', top)];
  const windows = beyondWindows(scene, limits, wheel);
  if (windows.length === 0) return { features };
  const strength = strengthOf(top / limits['wheel-slip.beyond'].value, 0.6);
  return { windows, features, strength, stopClass: classOf(top, windows, limits), voids: 'power' } as const;
}

/** Windows that meet made into one, in order of time. */
function joined(windows: readonly FaultWindow[]): readonly FaultWindow[] {
  const result: FaultWindow[] = [];
  for (const window of [...windows].sort((a, b) => a.from - b.from)) {
    const last = result[result.length - 1];
    if (!last || window.from > last.to) result.push(window);
    else if (window.to > last.to)
      result[result.length - 1] = {
        from: last.from,
        to: window.to,
        lowSpeed: Math.min(last.lowSpeed, window.lowSpeed),
        highSpeed: Math.max(last.highSpeed, window.highSpeed),
      };
  }
  return result;
}
