import type { Finding, Measured, Place, Refusal } from '../../../core/quantities/index.ts';
import type { FindingLine, MeasuredValue, RefusalRecord } from '../../contract/index.ts';

/** A number for JSON: what is not finite is missing. */
export function plainNumber(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** Samples for JSON: as long as `values`, null where missing. */
export function plainSamples(values: ArrayLike<number>): (number | null)[] {
  return Array.from(values, plainNumber);
}

/** A measured value, or undefined when it is not a number. */
export function plainMeasured(measured: Measured | undefined): MeasuredValue | undefined {
  if (!measured || !Number.isFinite(measured.value)) return undefined;
  const { value, standardUncertainty } = measured;
  return { value, standardUncertainty: plainNumber(standardUncertainty) };
}

export function plainFinding(finding: Finding): FindingLine {
  return { ...plainRefusal(finding), weight: finding.weight };
}

export function plainRefusal({ kind, message, place, numbers, rule }: Refusal): RefusalRecord {
  return {
    kind,
    message,
    ...(place && { place: finitePlace(place) }),
    ...(numbers && { numbers: plainNumbers(numbers) }),
    ...(rule !== undefined && { rule }),
  };
}

/** Open ends of a window (±∞) are left out: JSON cannot hold them. */
function finitePlace({ file, channel, line, column, from, to }: Place): Place {
  return {
    ...(file !== undefined && { file }),
    ...(channel !== undefined && { channel }),
    ...(line !== undefined && { line }),
    ...(column !== undefined && { column }),
    ...(from !== undefined && Number.isFinite(from) && { from }),
    ...(to !== undefined && Number.isFinite(to) && { to }),
  };
}

function plainNumbers(numbers: Readonly<Record<string, number | string>>): Record<string, number | string | null> {
  return Object.fromEntries(
    Object.entries(numbers).map(([name, value]) => [name, typeof value === 'number' ? plainNumber(value) : value]),
  );
}
