import { kept } from '../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack } from '../scene/scene.ts';
import { middle, smooth } from '../scene/series.ts';
import { onTimes } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';

/**
 * What the coils can store over the pull, against its first second [1], on `times` [s].
 * by: what it was worked out from. voltage: as logged, undefined where not. start: current at the start as logged [A], undefined where it was worked out.
 */
export interface CoilSupply {
  readonly times: Float64Array;
  readonly energy: Float64Array;
  readonly by: readonly ('coil-current' | 'battery-voltage' | 'dwell')[];
  readonly voltage: Float64Array | undefined;
  readonly start: number | undefined;
}

/** Start of full load that the rest is held against [s]. @source our default */
const START = 1;
const RATE = 20;

/**
 * Stored energy ∝ i²; i as logged, else i ∝ V·(1 − e^(−dwell/τ)), τ = inductance over resistance. Undefined when neither current, voltage
 * nor dwell is logged. Without a dwell channel it is taken as constant.
 *
 * @source first-order charging of an inductance through a resistance
 */
export const coilSupply: (scene: PullScene, limits: Limits) => CoilSupply | undefined = kept(measuredSupply);

function measuredSupply(scene: PullScene, limits: Limits): CoilSupply | undefined {
  const tracks = {
    current: sceneTrack(scene, 'coil-current'),
    voltage: sceneTrack(scene, 'battery-voltage'),
    dwell: sceneTrack(scene, 'dwell'),
  };
  if (!tracks.current && !tracks.voltage && !tracks.dwell) return undefined;
  const times = gridOf(scene, RATE);
  const at = (track: typeof tracks.current): Float64Array | undefined =>
    track && smooth({ times, values: onTimes(track, times) }, 2);
  const [logged, voltage, dwell] = [at(tracks.current), at(tracks.voltage), at(tracks.dwell)];
  const tau = limits['spark-energy.coil-time'].value;
  const current = logged ?? times.map((_, i) => (voltage?.[i] ?? 1) * (dwell ? 1 - Math.exp(-dwell[i] / tau) : 1));
  const first = middle(current.filter((_, i) => times[i] < scene.from + START));
  return {
    times,
    energy: current.map((value) => (value / first) ** 2),
    start: logged ? first : undefined,
    by: logged
      ? ['coil-current']
      : [...(voltage ? (['battery-voltage'] as const) : []), ...(dwell ? (['dwell'] as const) : [])],
    voltage,
  };
}
