import type { Written } from '../day-text.ts';
import { drawnErrors, nominalErrors, trueRig } from '../instruments.ts';
import { chanceOf } from '../random.ts';
import type { Rig } from '../rig/rig.ts';
import type { EntryTruth, MadeDay, MadeFile } from '../truth.ts';
import { mostOf } from './built.ts';
import type { Day } from './day.ts';
import { virtualDayText } from './day-facts.ts';
import { builtDecoy } from './decoys.ts';
import { makeEntry } from './entry.ts';
import { GROWING } from './faults.ts';
import { CLEAN_TURBO_SHARE } from './faults-air.ts';
import { drawHall, type Hall } from './hall.ts';
import { targetOf } from './injected.ts';
import { drawNature, rehearse } from './nature.ts';
import { ableEngine, type VirtualOptions, wantedFaults } from './options.ts';
import { planDay, type VirtualEntry } from './plan.ts';

/** A whole invented day of an engine by its physics, with faults of a size put in. Same options, same bytes. */
export function makeVirtualDay(options: VirtualOptions): MadeDay {
  const day = drawDay(options);
  const files: MadeFile[] = [];
  const entries: EntryTruth[] = [];
  const written: Written[] = [];
  for (const entry of day.plan) {
    const made = makeEntry(day, entry);
    files.push(...made.files);
    entries.push(made.truth);
    written.push(entryText(day, entry, made.files));
  }
  const text = virtualDayText(day.nature, written);
  const { turbo } = day.nature.engine;
  return {
    files: [{ name: 'day.yaml', bytes: new TextEncoder().encode(text) }, ...files],
    truth: {
      seed: options.seed,
      rig: day.rig,
      instruments: day.errors,
      entries,
      ...(turbo ? { turboLimit: mostOf(day.clean, (at) => at('turbo')) / CLEAN_TURBO_SHARE } : {}),
    },
  };
}

function drawDay(options: VirtualOptions): Day {
  const { seed } = options;
  const wanted = wantedFaults(options);
  const high = options.decoys?.includes('high-place') ? 3400 + (seed % 7) * 90 : undefined;
  const nature = drawNature(seed, {
    engine: ableEngine(options),
    roller: options.roller,
    altitude: options.altitude ?? high,
  });
  const decoys = (options.decoys ?? []).map((name) => ({
    name,
    built: builtDecoy(name, nature, chanceOf(seed, `virtual decoy ${name}`)),
  }));
  const sumOf = (key: 'warming' | 'falling'): number => decoys.reduce((sum, { built }) => sum + (built[key] ?? 0), 0);
  const roller: Partial<Hall['roller']> = Object.assign({}, ...decoys.map(({ built }) => built.roller ?? {}));
  const changed: Partial<Rig> = Object.assign({}, ...decoys.map(({ built }) => built.rig ?? {}));
  const hall = drawHall(nature, options);
  const errors =
    options.instruments === 'nominal' ? nominalErrors(0) : drawnErrors(chanceOf(seed, 'virtual instruments'), 0);
  const chance = chanceOf(seed, 'virtual day');
  const inGear = wanted.some(({ fault }) => fault === 'coast-down-drag');
  const pulls = options.pulls ?? (wanted.some(({ fault }) => GROWING.has(fault)) ? chance.integer(4, 7) : undefined);
  const plan = planDay(nature, { pulls, inGear });
  const count = plan.filter(({ kind }) => kind === 'pull').length;
  return {
    options,
    nature,
    errors,
    plan,
    decoys,
    hall: { ...hall, roller: { ...hall.roller, ...roller } },
    rig: trueRig({ ...nature.stated, ...changed }, errors),
    clean: rehearse(nature, []),
    luck: chance.between(0.003, 0.008),
    warming: chance.between(-0.2, 0.6) + sumOf('warming'),
    falling: chance.between(-25, 15) + sumOf('falling'),
    faultPull: count - (chance.uniform() < 0.3 && count > 2 ? 1 : 0),
  };
}

function entryText(day: Day, entry: VirtualEntry, files: readonly MadeFile[]): Written {
  const minutes = Math.floor(entry.clockStart / 60);
  const pad = (value: number): string => String(value).padStart(2, '0');
  const { target } = day.nature.engine;
  return {
    id: entry.id,
    kind: entry.kind,
    clock: `${pad(Math.floor(minutes / 60))}:${pad(minutes % 60)}`,
    ...(entry.kind === 'coast-down' ? { clutch: entry.clutch } : {}),
    files: files.map((file) => file.name),
    settings:
      entry.kind === 'pull' && target > 0
        ? { 'map target': `${((target + targetOf(day, entry)) / 1e3).toFixed(0)} kPa` }
        : {},
  };
}
