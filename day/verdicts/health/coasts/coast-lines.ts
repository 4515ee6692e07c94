import { changedBetween, type HealthEntry } from '../entries.ts';
import { type HealthLine, healthLine } from '../lines/health-line.ts';
import type { HealthLimits } from '../thresholds.ts';
import type { CoastHealth } from './coast-health.ts';
import { coastForce, firstGroup, sharedRange } from './reading.ts';

/** Lines of the coast-down force with the clutch open and of the engine's drag, both as shares of their first values. */
export function coastLines(
  { readings, changes, drags, dragChanges, repeat }: CoastHealth,
  entries: readonly HealthEntry[],
  limits: HealthLimits,
): readonly HealthLine[] {
  const open = readings.filter(({ clutch }) => clutch === 'open');
  const range = open.length > 1 ? sharedRange(open) : undefined;
  const lines: HealthLine[] = [];
  if (range) {
    const speed = (range.low + range.high) / 2;
    const baseline = Math.max(1, firstGroup(open, entries).length);
    const forces = open.map((reading) => coastForce(reading, speed));
    const centre = forces.slice(0, baseline).reduce((sum, { value }) => sum + value, 0) / baseline;
    lines.push(
      healthLine(
        {
          ...{
            name: 'coast-down force, clutch open',
            subject: 'driveline',
            kind: 'fraction',
            worse: 'up',
            baseline,
            repeat,
          },
          points: open.map(({ entry }) => pointOf(entry, open[0].entry, entries)),
          deviations: forces.map(
            ({ value }, i) => value / centre - 1 + (i < baseline ? 0 : allowedFor(changes, open[i].entry.id)),
          ),
          covariance: diagonal(forces.map(({ value, standardUncertainty }) => (standardUncertainty / value) ** 2)),
          remarks: changes.flatMap(({ notCorrected }) => notCorrected ?? []).slice(0, 1),
        },
        limits,
      ),
    );
  }
  const first = drags[0];
  if (first) {
    lines.push(
      healthLine(
        {
          ...{ name: 'engine drag', subject: 'loads', kind: 'fraction', worse: 'up', baseline: 1 },
          repeat: { value: limits['drag.repeat'].value, degreesOfFreedom: limits['repeat.weight'].value },
          points: drags.map(({ reading }) => pointOf(reading.entry, first.reading.entry, entries)),
          deviations: drags.map(({ entry }) => dragChanges.find((one) => one.entry === entry)?.change.value ?? 0),
          covariance: diagonal(
            drags.map(({ torque, shared }) => (torque.standardUncertainty ** 2 - shared ** 2) / torque.value ** 2),
          ),
          remarks: [],
        },
        limits,
      ),
    );
  }
  return lines;
}

/** What equal temperatures add to a coast-down's change [1]. */
function allowedFor(changes: CoastHealth['changes'], entry: string): number {
  const found =
    changes.find((one) => one.entry === entry && one.against === 'day') ?? changes.find((one) => one.entry === entry);
  return found ? found.change.value - found.raw.value : 0;
}

function pointOf(entry: HealthEntry, first: HealthEntry, entries: readonly HealthEntry[]) {
  return { entry: entry.id, clock: entry.clock, block: entry.block, changed: changedBetween(entries, first, entry) };
}

function diagonal(variances: readonly number[]): Float64Array {
  const matrix = new Float64Array(variances.length ** 2);
  variances.forEach((variance, i) => {
    matrix[i * variances.length + i] = Math.max(0, variance);
  });
  return matrix;
}
