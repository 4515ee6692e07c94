import { median } from '../../../core/numerics/index.ts';
import { type LowForceRatio, lowForceRatio } from '../cutting/low-force-ratio.ts';
import type { SlipReference } from '../power/signals.ts';
import { keptStep, type StepMemory } from '../steps.ts';
import { steppedRatio, steppedSpread, steppedTyre } from './day-steps.ts';
import type { OpenEntry } from './open-entry.ts';

/** Ratios of one gear agree within this [1]; further apart they belong to different gears. @source our default */
const SAME_GEAR = 0.03;

/**
 * The ratio without slip for every entry that has both speeds: its own where its low-force data give one, else the middle one of the
 * day's entries in the same gear. An engine speed that was computed from roll speed gives none: it cannot show slip.
 */
export function daySlipReference(
  opened: ReadonlyMap<string, OpenEntry | undefined>,
  memory?: StepMemory,
): ReadonlyMap<string, SlipReference> {
  const own = new Map<string, LowForceRatio>();
  for (const [id, open] of opened) {
    const ratio = open && ownRatio(open, memory);
    if (ratio) own.set(id, ratio);
  }
  const good = [...own.values()].filter(({ relative }) => !relative);
  const creep = dayCreep(good);
  return new Map(
    [...own].map(([id, ratio]) => [
      id,
      { ...(ratio.relative ? fromTheDay(ratio, good) : fromItself(ratio)), ...creep },
    ]),
  );
}

const ownRatio = keptStep(
  ({ joined, segments, side }: OpenEntry): LowForceRatio | undefined => {
    const found = lowForceRatio(joined.record, segments, side.ok ? { rollMass: side.value.mass.value } : {});
    if (!found.ok || found.findings.some(({ kind }) => kind === 'computed-engine-speed')) return undefined;
    return found.value;
  },
  (open, nameOf) => nameOf(open),
);

/** Creep of a tyre that nobody measured [1/N]. @source common practice, no source: 0.3–1 % per kN */
const USUAL_CREEP = { creep: 6e-6, creepSpread: 3e-6 } as const;

/** One car, one set of tyres: the middle creep of the day's entries, with their scatter. */
function dayCreep(good: readonly LowForceRatio[]): { creep: number; creepSpread: number } {
  const values = good.filter(({ creepOf }) => creepOf === 'force').map(({ creep }) => creep.value);
  if (values.length === 0) return USUAL_CREEP;
  const creep = median(values, 'skip');
  const own = median(
    good.map((one) => one.creep.standardUncertainty),
    'skip',
  );
  const scatter =
    1.4826 *
    median(
      values.map((value) => Math.abs(value - creep)),
      'skip',
    );
  return { creep: steppedTyre(creep), creepSpread: steppedSpread(Math.max(own, scatter)) };
}

function fromItself({ ratio, growth }: LowForceRatio): SlipReference {
  return {
    ratio: ratio.value,
    growth: growth.value,
    spread: ratio.standardUncertainty / ratio.value,
    growthSpread: growth.standardUncertainty,
    ...USUAL_CREEP,
    origin: 'ratio at low force in the same record',
  };
}

/** Unknown tyre state of another entry against this one [1]. @source our default */
const BETWEEN_ENTRIES = 0.003;

function fromTheDay(relative: LowForceRatio, good: readonly LowForceRatio[]): SlipReference {
  const alike = good.filter(({ ratio }) => Math.abs(Math.log(ratio.value / relative.ratio.value)) < SAME_GEAR);
  if (alike.length === 0) {
    const { ratio } = relative;
    return {
      ...fromItself(relative),
      spread: Math.max(0.01, ratio.standardUncertainty / ratio.value),
      origin: 'no low-force data: slip counts from the lowest force',
    };
  }
  const middle = steppedRatio(
    median(
      alike.map(({ ratio }) => ratio.value),
      'skip',
    ),
  );
  const growth = steppedTyre(
    median(
      alike.map((one) => one.growth.value),
      'skip',
    ),
  );
  return {
    ratio: middle,
    growth,
    spread: BETWEEN_ENTRIES,
    growthSpread: alike[0]?.growth.standardUncertainty ?? 0,
    ...USUAL_CREEP,
    origin: 'middle ratio at low force of the day’s entries in this gear',
  };
}
