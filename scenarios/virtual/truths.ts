import { STEP } from '../rig/roll-run.ts';
import { faultDuring } from '../rig/run-truth.ts';
import type { InjectedFault } from '../truth.ts';
import type { Built } from './built.ts';
import type { Day } from './day.ts';
import type { Injected, SensorInjected } from './injected.ts';
import type { VirtualRun } from './run.ts';

/** What a fault of engine or driveline did in a run. index: its place among the acts. */
export function engineTruth(made: VirtualRun, { wanted, strength, built }: Injected, index: number): InjectedFault {
  const window = windowOf(made, built, index);
  const { run, signals } = made;
  const from = window ? run.from + window.from * STEP : run.tipIn;
  const to = window ? run.from + window.to * STEP : run.tipIn;
  const [torque, clean] = [signals.engineTorque, signals.cleanTorque].map((values) =>
    values.slice(window?.from ?? 0, (window?.to ?? -1) + 1).reduce((sum, value) => sum + value, 0),
  );
  const loss = clean && Number.isFinite(run.tipIn) ? { torqueLossShare: 1 - (torque ?? 0) / clean } : {};
  const shown = built.shown ? { shownOverWanted: built.shown(made) } : {};
  return {
    ...faultDuring(run, { kind: wanted.fault, from, to, size: { ...built.size, ...loss, ...shown } }),
    strength: built.inRun ? Math.max(0, built.inRun(made)) : strength,
    ...(built.variant ? { variant: built.variant } : {}),
    stopClass: built.stopClass,
    moved: built.moved,
  };
}

function windowOf(made: VirtualRun, built: Built, index: number): VirtualRun['active'][number] {
  if (built.window) return built.window(made);
  return built.shown ? struckIn(made) : made.active[index];
}

/** What a sensor fault did. */
export function sensorTruth(made: VirtualRun, { wanted, built }: SensorInjected): InjectedFault {
  const { from, to, size } = built;
  return {
    ...faultDuring(made.run, { kind: wanted.fault, from, to, size }),
    strength: wanted.strength ?? 1,
    variant: built.variant,
    stopClass: built.stopClass,
    moved: built.moved,
  };
}

/** What a decoy did. index: its place among the acts. */
export function decoyTruth(made: VirtualRun, { name, built }: Day['decoys'][number], index: number): InjectedFault {
  const window = made.active[index];
  const { run } = made;
  const from = window ? run.from + window.from * STEP : run.tipIn;
  const to = window ? run.from + window.to * STEP : run.lift;
  return {
    ...faultDuring(run, { kind: name, from, to, size: built.size, decoy: true }),
    resembles: built.resembles,
    moved: built.moved,
    stopClass: 0,
  };
}

/** First and last step at full load at which a firing failed. */
export function struckIn({ run, signals }: VirtualRun): { from: number; to: number } | undefined {
  const begun = Math.round((run.tipIn - run.from) / STEP);
  const full = signals.missed.slice(begun, Math.round((run.lift - run.from) / STEP));
  const from = full.findIndex((share) => share > 0);
  return from < 0 ? undefined : { from: begun + from, to: begun + full.findLastIndex((share) => share > 0) };
}
