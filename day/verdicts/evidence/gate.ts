import { STANDARD_ATMOSPHERE } from '../../../core/quantities/index.ts';
import type { Meaning } from '../../channels/index.ts';
import { type PullScene, sceneTrack } from '../scene/scene.ts';
import { largest } from '../scene/series.ts';
import { closingDuty } from './boost.ts';
import { type BySpeed, SPEED_STEP, trackBySpeed } from './by-speed.ts';
import { startLevel } from './references.ts';

/** Openings up to this apart speak for one another, the nearer the more; so many places must know one [1]. @source our default */
const NEAR = 0.06;
const FEWEST = 3;
/** While boost builds up the exhaust is not yet hot, and nothing is learnt of the gate: manifold pressure over the most of the pull [1]. @source our default */
const BOOSTED = 0.9;

/** What a pull tells of turbine and gate, by engine speed; duty: towards closing [1]. */
interface Passed {
  readonly before: BySpeed;
  readonly manifold: BySpeed;
  readonly duty: BySpeed;
  readonly flow: BySpeed;
  readonly outside: number;
}

/**
 * Pressure before the turbine that the opening of the wastegate makes of the flow, as other pulls show it at any engine speed [Pa], by engine speed; NaN where
 * none had the gate so far open. What stands above it is held back behind the turbine.
 *
 *     p₃² = p₀² + ṁ²·h(duty)        h from the other pulls
 *
 * Undefined without duty, or when no other pull logs all of it.
 *
 * @source ellipse law of Stodola for turbine and gate together (textbook); flow as logged, else as manifold pressure times engine speed
 */
export function gatePressure(scene: PullScene, others: readonly PullScene[]): BySpeed | undefined {
  const closing = closingDuty(scene);
  const metered = [scene, ...others].every((each) => sceneTrack(each, 'air-flow') !== undefined);
  const here = closing === 0 ? undefined : passedIn(scene, closing, metered);
  const known = others.flatMap((other) => {
    const passed = passedIn(other, closing, metered);
    return passed ? placesOf(passed) : [];
  });
  if (!here || known.length < FEWEST) return undefined;
  return here.duty.map((duty, k) => {
    const resistance = resistanceAt(known, duty);
    return Math.sqrt(here.outside ** 2 + here.flow[k] ** 2 * resistance);
  });
}

/** Straight line through the places near an opening; NaN when too few know it. */
function resistanceAt(known: readonly Place[], duty: number): number {
  let [sum, along, square, up, cross, count] = [0, 0, 0, 0, 0, 0];
  for (const place of known) {
    const away = place.duty - duty;
    if (!(Math.abs(away) < NEAR)) continue;
    const weight = 1 - (away / NEAR) ** 2;
    sum += weight;
    along += weight * away;
    square += weight * away ** 2;
    up += weight * place.resistance;
    cross += weight * away * place.resistance;
    count += 1;
  }
  if (count < FEWEST) return Number.NaN;
  const spread = sum * square - along ** 2;
  return spread > 1e-4 * sum ** 2 * NEAR ** 2 ? (square * up - along * cross) / spread : up / sum;
}

/** How a gate held the flow back at an opening. */
interface Place {
  readonly duty: number;
  readonly resistance: number;
}

function passedIn(scene: PullScene, closing: number, metered: boolean): Passed | undefined {
  const of = (meaning: Meaning): BySpeed | undefined => {
    const track = sceneTrack(scene, meaning);
    return track && trackBySpeed(scene, track);
  };
  const [before, manifold, logged, flow] = [
    of('exhaust-pressure'),
    of('manifold-pressure'),
    of('wastegate-duty'),
    of('air-flow'),
  ];
  if (!before || !manifold || !logged) return undefined;
  const air = startLevel(scene, 'barometric-pressure');
  return {
    ...{ before, manifold, outside: Number.isFinite(air) ? air : STANDARD_ATMOSPHERE },
    duty: closing < 0 ? logged.map((value) => 1 - value) : logged,
    flow: metered && flow ? flow : manifold.map((value, k) => value * k * SPEED_STEP),
  };
}

/** Where a pull had boost: the gate and how it held the flow back. */
function placesOf({ before, manifold, duty, flow, outside }: Passed): Place[] {
  const most = largest(manifold);
  return [...before].flatMap((pressure, k) => {
    const resistance = (pressure ** 2 - outside ** 2) / flow[k] ** 2;
    return manifold[k] > BOOSTED * most && Number.isFinite(resistance + duty[k]) ? [{ duty: duty[k], resistance }] : [];
  });
}
