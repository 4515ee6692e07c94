import type { EntryResult } from '../../pulls/index.ts';
import type { PullScene, PullVerdict } from '../../verdicts/index.ts';
import type { Foresight } from '../limits/foresight.ts';
import type { EngineModel, Prediction, Step } from '../model/engine-model.ts';
import { channelAt, type Observation, observedAt } from '../model/observations.ts';
import { settingNumbers } from '../model/settings.ts';

/** One pull of the day with everything that was logged and found. */
export interface JudgedPull {
  readonly verdict: PullVerdict;
  readonly scene: PullScene;
  readonly result: EntryResult;
}

/** A moment of a pull as the engine model can be asked about it: where it stood, and what was set. SI. */
export interface Moment {
  /** Title of the pull's entry in words: `pull 12`. */
  readonly where: string;
  /** On the record's clock [s]. */
  readonly time: number;
  readonly speed: number;
  readonly step: Step;
  /** What the model says of this one engine speed. */
  readonly told: Prediction;
  /** As logged; NaN when not. */
  readonly timing: number;
}

/** Distance between the moments of a pull that are looked at [s], and what is left out at both ends of the full load [s]. @source our default */
const SPACING = 0.5;
const ENDS = { start: 0.8, end: 0.25 } as const;

/** Moments of the full load of a pull, evenly spaced; those whose state is not logged are left out. */
export function momentsOf(foresight: Foresight, pull: JudgedPull): readonly Moment[] {
  const { segment } = pull.verdict.pull;
  const [first, last] = [segment.fromTime + ENDS.start, segment.toTime - ENDS.end];
  const count = Math.max(0, Math.floor((last - first) / SPACING) + 1);
  const times = Array.from({ length: count }, (_, k) => first + k * SPACING);
  return times.flatMap((time) => momentAt(foresight, pull, time) ?? []);
}

/** The pull at a time; undefined where its speed, pressure or air is not known. */
export function momentAt(foresight: Foresight, pull: JudgedPull, time: number): Moment | undefined {
  const { verdict, scene, result } = pull;
  const { curve } = verdict.pull;
  if (curve.time.length === 0) return undefined;
  let index = 0;
  for (let i = 1; i < curve.time.length; i++)
    if (Math.abs(curve.time[i] - time) < Math.abs(curve.time[index] - time)) index = i;
  if (!(curve.engineSpeed[index] > 0) || Math.abs(curve.time[index] - time) > SPACING) return undefined;
  const seen = observedAt({ verdict, scene, result, pull: 0, odd: false }, index);
  if (!seen) return undefined;
  const { speed, timing } = seen;
  const step = withSoak(foresight, stepOf(foresight.model, pull, seen), seen);
  const told = foresight.predict(step, Float64Array.of(speed));
  return { where: `pull ${verdict.entry}`, time: curve.time[index], speed, step, told, timing };
}

function stepOf(model: EngineModel, { scene }: JudgedPull, seen: Observation): Step {
  const habit = model.habits.timing(seen.speed, seen.manifoldPressure).value;
  const volts = channelAt(scene, 'battery-voltage', { time: seen.time, lost: new Set() });
  const set = settingNumbers(scene.settings);
  const known = (name: 'plugGap' | 'dwell' | 'strapForce') => set.get(name)?.value;
  return withoutGaps({
    manifoldPressure: seen.manifoldPressure,
    timing: Number.isFinite(seen.timing) ? seen.timing - habit : seen.timingShift,
    camPhase: seen.camPhase,
    lambda: seen.lambda,
    ambientTemperature: seen.ambientTemperature,
    ambientPressure: seen.ambientPressure,
    coilVoltage: volts,
    plugGap: known('plugGap'),
    dwell: known('dwell'),
    strapForce: known('strapForce'),
  });
}

type Loose = { readonly [Key in keyof Step]: number | undefined } & Pick<Step, 'manifoldPressure'>;

/** What was not logged or set stays as the day's. */
function withoutGaps(loose: Loose): Step {
  const known = Object.entries(loose).filter(([, value]) => value !== undefined && Number.isFinite(value));
  return { ...Object.fromEntries(known), manifoldPressure: loose.manifoldPressure };
}

/** Most that a charge cooler is taken to be off [K]. @source our default */
const FARTHEST_SOAK = 60;

/** The step with the warmth of the cooler that makes the charge as hot as it was logged. */
function withSoak({ model, predict }: Foresight, step: Step, { speed, chargeTemperature }: Observation): Step {
  if (!Number.isFinite(chargeTemperature)) return step;
  const cold = { ...step, soak: 0 };
  const told = predict(cold, Float64Array.of(speed)).lines['charge temperature'].value[0];
  const share = model.values.get('coolerEffectiveness')?.value ?? 1;
  const soak = (chargeTemperature - told) / Math.max(0.3, share);
  return Number.isFinite(soak) ? { ...step, soak: Math.max(-FARTHEST_SOAK, Math.min(FARTHEST_SOAK, soak)) } : step;
}
