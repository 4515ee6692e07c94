import { clamp } from '../interpolate.ts';
import { chanceOf } from '../random.ts';
import type { Built } from './built.ts';
import type { Day } from './day.ts';
import { ENGINE_FAULTS, type EngineFault, GROWING } from './faults.ts';
import { type BuiltSensor, builtSensor, SENSOR_FAULTS, type SensorFault } from './faults-sensors.ts';
import { type WantedFault, wantedFaults } from './options.ts';
import type { VirtualEntry } from './plan.ts';
import type { VirtualRun } from './run.ts';

/** An engine that shows less of a fault than this share of what is wanted does not have it. */
const LEAST_REACHED = 0.5;

/** A fault of engine or driveline at its size in one entry. */
export interface Injected {
  readonly wanted: WantedFault;
  readonly strength: number;
  readonly built: Built;
}

/** Faults of engine and driveline in one entry, at their size there. */
export function injectedInto(day: Day, entry: VirtualEntry): Injected[] {
  return wantedFaults(day.options).flatMap((wanted) => {
    const { fault } = wanted;
    if (!isEngineFault(fault)) return [];
    const share = shareIn(day, entry, fault);
    if (share === 0) return [];
    const strength = (wanted.strength ?? 1) * share;
    const chance = chanceOf(day.options.seed, `virtual ${fault}`);
    const context = { nature: day.nature, luck: day.luck, clean: day.clean, strength, chance, variant: wanted.variant };
    const built = ENGINE_FAULTS[fault](context);
    if (!built || (built.reached ?? 1) < LEAST_REACHED) return [];
    const acts = entry.kind === 'pull' ? (built.act ?? built.plan) : built.coast;
    // What an engine cannot show in full is recorded at what it shows.
    const reached = built.reached === undefined || Math.abs(built.reached - 1) < 0.05 ? 1 : Math.max(0, built.reached);
    return acts ? [{ wanted, strength: strength * reached, built }] : [];
  });
}

/** Share of a fault's strength in an entry: all of it in the pull of the fault, growing towards it, and in the coast-downs after it. */
function shareIn({ faultPull, plan }: Day, entry: VirtualEntry, fault: EngineFault): number {
  if (entry.kind === 'coast-down') return entry.last ? 1 : 0;
  if (fault === 'coast-down-drag') return 0;
  if (!GROWING.has(fault)) return entry.pull === faultPull ? 1 : 0;
  const pulls = plan.filter(({ kind }) => kind === 'pull').length;
  return clamp(1 - (pulls - entry.pull) / 3, 0, 1);
}

function isEngineFault(fault: string): fault is EngineFault {
  return fault in ENGINE_FAULTS;
}

/** Decoys of one entry: those of the whole day, and in the pull of the fault the others. */
export function decoysIn({ decoys, faultPull }: Day, entry: VirtualEntry): Day['decoys'] {
  return decoys.filter(({ built }) => entry.kind === 'pull' && (built.where === 'day' || entry.pull === faultPull));
}

/** Change of the manifold pressure target in a pull [Pa]. */
export function targetOf(day: Day, entry: VirtualEntry): number {
  return decoysIn(day, entry).reduce((sum, { built }) => sum + (built.target ?? 0), entry.target);
}

/** A sensor fault in one run. */
export interface SensorInjected {
  readonly wanted: WantedFault;
  readonly built: BuiltSensor;
}

/** Sensor faults of one entry. */
export function sensorsOf(day: Day, entry: VirtualEntry, made: VirtualRun): SensorInjected[] {
  return wantedFaults(day.options).flatMap((wanted) => {
    const fault = SENSOR_FAULTS.find((name) => name === wanted.fault);
    if (!fault || !sensorFaultIn(day, entry, fault)) return [];
    const built = builtSensor(fault, {
      hall: day.hall,
      made,
      strength: wanted.strength ?? 1,
      chance: chanceOf(day.options.seed, `virtual ${fault}`),
      variant: wanted.variant,
      pull: entry.pull,
    });
    return built ? [{ wanted, built }] : [];
  });
}

/** A probe is wrong all day, a wrong scale or a swap from the pull of the fault on, the rest in that pull. */
function sensorFaultIn({ faultPull }: Day, entry: VirtualEntry, fault: SensorFault): boolean {
  if (fault === 'ambient-probe') return entry.kind === 'pull';
  if (fault === 'wrong-scale' || fault === 'swapped-channels' || fault === 'lagging-channel')
    return entry.pull >= faultPull;
  return entry.pull === faultPull;
}
