import type { LossFit } from '../../../pulls/index.ts';
import { TAKES_POWER } from '../../evidence/beside.ts';
import type { Fault } from '../../fault.ts';
import { BELIEVED } from '../../pull-verdict.ts';
import type { HealthEntry } from '../entries.ts';
import { type PullState, spoilsPower } from '../pull-state.ts';
import type { HealthFinding } from '../result.ts';

/** Faults that leave a pull's power usable but make it no example of a healthy one. */
const UNHEALTHY: ReadonlySet<Fault> = new Set<Fault>([
  'head-lift',
  'crankcase-pressure',
  'oil-pressure-low',
  'driveline-loss-rising',
  'power-shortfall',
  'pre-ignition',
  'valve-float',
]);

/** From this stop class on a finding of health holds the day. */
const HOLDS = 2;

/** Whether something is the matter with the engine or the car in this pull by its verdict. */
export function distressed(pull: PullState): boolean {
  return believedIn(pull, (fault) => UNHEALTHY.has(fault)).length > 0;
}

/** Faults that take power in what is compared and are no distress by themselves: a leak, a mixture, a cam that lags. Windows that were cut out count no more. */
export function takenBy(pull: PullState): readonly Fault[] {
  return believedIn(pull, (fault) => TAKES_POWER.includes(fault) && !UNHEALTHY.has(fault));
}

function believedIn({ believed }: PullState, which: (fault: Fault) => boolean): readonly Fault[] {
  const left = believed.filter((one) => !(spoilsPower(one) && one.windows.length > 0));
  const faults = left.flatMap(({ hypotheses }) =>
    hypotheses.flatMap(({ fault, probability }) => (probability >= BELIEVED && which(fault) ? [fault] : [])),
  );
  return [...new Set(faults)];
}

/** Finding of health that holds the day at this pull: at it or before it, with nothing changed since. */
export function holdAt({ entry }: PullState, findings: readonly HealthFinding[], entries: readonly HealthEntry[]) {
  return findings.find((finding) => {
    const at = entries.find(({ id }) => id === finding.entry);
    return (
      at && finding.stopClass >= HOLDS && counts(finding, at) && at.order <= entry.order && at.block === entry.block
    );
  });
}

function counts({ kind }: HealthFinding, { facts }: HealthEntry): boolean {
  return !Object.hasOwn(facts.overruled ?? {}, `health.${kind}`);
}

/** Losses of the last coast-down with the clutch open before a pull that was not found to have risen; undefined without one. */
export function lossBefore(
  { entry }: PullState,
  findings: readonly HealthFinding[],
  entries: readonly HealthEntry[],
): LossFit | undefined {
  const healthy = entries.filter(
    (one) =>
      one.order < entry.order &&
      !findings.some(
        (found) =>
          found.kind === 'coast-force-rise' && found.entry === one.id && found.stopClass > 0 && counts(found, one),
      ),
  );
  return healthy.flatMap(({ result }) => (result?.losses ?? []).filter(({ clutch }) => clutch === 'open')).at(-1);
}
