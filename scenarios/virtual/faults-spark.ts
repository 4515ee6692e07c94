import { lineAt } from '../interpolate.ts';
import {
  type Builder,
  type Built,
  between,
  type Context,
  from,
  fullAct,
  meanOf,
  mostOf,
  normalBeyond,
  progress,
  sized,
} from './built.ts';
import { fullLoad, type Instant, type VirtualRun } from './run.ts';

/** Share of the firings that fail over the worst second at strength 1. @source lower end of a mean loss of 2–30 %: common practice, no source */
export const MISSED = 0.02;
/** Scatter of the spark voltage needed, firing by firing and in bursts, as the model has it [1]. */
const SCATTER = 0.075;

/** Need over supply of the clean engine over the share of the redline. */
function demand({ clean, nature }: Context): { share: number[]; ratio: number[] } {
  const rows = fullLoad(clean, 0.2);
  const share = rows.map(({ at }) => at('engineSpeed') / nature.engine.redline);
  const ratio = rows.map(({ at }) => at('need') / at('supply'));
  return { share, ratio };
}

/** Chance that a firing fails whose need over supply is this. */
function failing(ratio: number): number {
  return normalBeyond((1 / ratio - 1) / SCATTER);
}

/** Largest share of failed firings over any second of the full-load part. */
export function missedIn(run: VirtualRun): number {
  return worstSecond(fullLoad(run, 0.2).map(({ at }) => at('missed')));
}

/** Largest mean over a second of values every 10 ms. */
function worstSecond(values: readonly number[]): number {
  let sum = 0;
  const sums = values.map((value) => {
    sum += value;
    return sum;
  });
  const width = Math.max(1, Math.min(100, values.length - 1));
  return sums.slice(width).reduce((worst, end, k) => Math.max(worst, (end - (sums[k] ?? 0)) / width), 0);
}

/** Factor of the need over supply (every 10 ms) at which so many firings fail over the worst second. */
function factorFor(ratio: readonly number[], missed: number): number {
  const shownAt = (factor: number): number => worstSecond(ratio.map((r) => failing(r * factor)));
  let [low, high] = [0.8, 4];
  for (let round = 0; round < 30; round += 1) {
    const middle = (low + high) / 2;
    if (shownAt(middle) < missed) low = middle;
    else high = middle;
  }
  return high;
}

const breakup: Builder = (context) => {
  const { nature, strength } = context;
  if (nature.engine.ignition !== 'spark') return undefined;
  const { share, ratio } = demand(context);
  const missed = Math.min(0.45, MISSED * strength);
  const factor = factorFor(ratio, missed);
  return {
    act: fullAct(
      ({ share: now }) => failing(lineAt(share, ratio, now) * factor) / missed,
      (knobs) => {
        knobs.need *= factor;
      },
    ),
    size: { missedShare: missed, needFactor: factor },
    shown: (run) => missedIn(run) / missed,
    moved: ['engine-torque', 'lambda', 'exhaust-temperature'],
    stopClass: missed > 0.1 ? 2 : 1,
  };
};

const energy: Builder = (context) => {
  const { nature, strength, chance } = context;
  if (nature.engine.ignition !== 'spark') return undefined;
  const variant = context.variant ?? chance.pick(['voltage', 'voltage', 'hot coil']);
  const missed = Math.min(0.45, MISSED * strength);
  const far = progress(context);
  const { ratio } = demand(context);
  const { coil } = nature.engine;
  const volts = nature.engine.volts - 0.6;
  const droop = variant === 'voltage' ? 0.7 * strength : 0;
  const warm = variant === 'voltage' ? 0 : 0.3 + 0.15 * strength;
  const currentAt = (much: number): number => {
    const ohms = coil.resistance * (1 + warm * much);
    return ((volts - droop * much) / ohms) * (1 - Math.exp((-coil.dwell * ohms) / coil.inductance));
  };
  const times = fullLoad(context.clean, 0.2).map(({ row }) => row);
  const last = times.at(-1) ?? 1;
  const first = (times[0] ?? 0) - 40;
  const needs = ratio.map((r, k) => (r * currentAt(0)) / currentAt(((times[k] ?? 0) - first) / (last - first)));
  const supply = 1 / factorFor(needs, missed);
  return {
    act: fullAct(far, (knobs, much) => {
      knobs.volts -= droop * much;
      knobs.coilResistance *= 1 + warm * much;
      knobs.supply *= supply;
    }),
    variant,
    size: { droopVolts: droop, missedShare: missed },
    shown: (run) => missedIn(run) / missed,
    moved: ['battery-voltage', 'coil-current', 'engine-torque', 'lambda'],
    stopClass: variant === 'voltage' ? 2 : 1,
  };
};

const lostSync: Builder = ({ strength, chance, variant }) => {
  const events = Math.max(1, Math.round(strength));
  const seconds = 0.05 * Math.sqrt(strength);
  const starts = Array.from({ length: events }, (_, k) => 0.55 + (0.38 * (k + chance.uniform())) / events);
  const reads = variant ?? chance.pick(['zero', 'last', 'double']);
  const begun = starts.map(() => Number.NaN);
  return {
    act: (instant, knobs) => {
      if (instant.stage !== 'full') return 0;
      let lost = 0;
      starts.forEach((share, k) => {
        if (Number.isNaN(begun[k]) && instant.share >= share) begun[k] = instant.time;
        if (instant.time - (begun[k] ?? 0) < seconds) lost = 1;
      });
      knobs.lost ||= lost > 0;
      knobs.lostShows = reads === 'zero' ? 0 : reads === 'last' ? 1 : 2;
      return lost;
    },
    variant: reads,
    size: { events, seconds },
    moved: ['sync-errors', 'engine-speed', 'ignition-timing', 'injector-pulse', 'lambda', 'engine-torque'],
    // Teeth that are counted twice mis-time the spark; a missing trigger cuts it.
    stopClass: reads === 'double' ? 2 : 1,
  };
};

/** Mean retard at strength 1 [°]. @source retard in steps of 1–4°: common practice, no source */
export const RETARD = 2;

const knock: Builder = (context) => {
  const { nature, strength } = context;
  if (nature.engine.ignition !== 'spark') return undefined;
  const where = from(context.chance.between(0.45, 0.6), 0.04);
  const wanted = Math.min(8.5, RETARD * strength);
  const act = (value: number) =>
    fullAct(where, (knobs, much) => {
      knobs.knockLimit -= value * much;
    });
  const found = sized(context, wanted, {
    low: 0,
    high: 26,
    act,
    measure: (run) => meanOf(run, 'knockRetard', [0.7, 1]),
  });
  return {
    act: act(found.value),
    size: { retardDegrees: found.shown, limitEarlierDegrees: found.value },
    reached: found.shown / wanted,
    moved: ['knock-level', 'knock-retard', 'knock-count', 'ignition-timing', 'exhaust-temperature', 'engine-torque'],
    stopClass: wanted > 6 ? 2 : 1,
  };
};

const preIgnition: Builder = ({ nature, strength, chance }) => {
  if (nature.engine.ignition !== 'spark') return undefined;
  const rate = 3 * strength;
  const low = chance.between(0.42, 0.6);
  return {
    act: fullAct(between(low, low + 0.25), (knobs, much, { speed }) => {
      knobs.preIgnition = Math.min(0.9, (rate * 4 * Math.PI * much) / speed);
      knobs.exhaustHeat -= 12 * strength * much;
    }),
    size: { eventsPerSecond: rate },
    moved: ['knock-level', 'knock-count', 'knock-retard', 'exhaust-temperature'],
    stopClass: 3,
  };
};

const cut: Builder = (context) => {
  const { strength, chance, clean } = context;
  const depth = Math.min(1, 0.25 * strength);
  const hertz = chance.between(6, 15);
  const boosted = context.nature.engine.boosted;
  const variant = context.variant ?? chance.pick(['speed', 'speed', 'temperature', boosted ? 'pressure' : 'speed']);
  const most = mostOf(clean, (at) => at('map'));
  const share = chance.between(0.84, 0.91);
  const half = (clean.run.lift - clean.run.tipIn) * chance.between(0.5, 0.8);
  let limit = Number.NaN;
  const trips = (now: Instant): boolean => {
    if (variant === 'speed') return now.share > share;
    if (variant === 'pressure') return now.state.map > 0.985 * most && now.share > 0.5;
    // The oil passes the temperature it is let up to on the way.
    if (Number.isNaN(limit) && now.sinceTipIn >= half) limit = now.state.oil;
    return now.state.oil >= limit;
  };
  return {
    act: (instant, knobs) => {
      if (instant.stage !== 'full' || !trips(instant)) return 0;
      const on = (instant.time * hertz) % 1 < 0.5;
      knobs.cut = on ? depth : 0;
      return 1;
    },
    plan: { longest: clean.run.lift - clean.run.tipIn + 2 },
    variant,
    size: { cutShare: depth, hertz },
    moved: ['cut-status', 'engine-torque', 'lambda'],
    stopClass: 0,
  };
};

/** Faults of spark, knock, trigger and commanded cuts. */
export const SPARK_FAULTS = {
  'ignition-breakup': breakup,
  'spark-energy': energy,
  'lost-sync': lostSync,
  knock,
  'pre-ignition': preIgnition,
  'rev-or-torque-cut': cut,
} as const satisfies Record<string, Builder>;

export type { Built };
