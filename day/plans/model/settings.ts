import { median } from '../../../core/numerics/index.ts';
import { type Measured, measured, parseQuantity, type QuantityKind } from '../../../core/quantities/index.ts';
import type { DayFacts, EntryResult } from '../../pulls/index.ts';
import type { Numbers } from './known-values.ts';

/** Settings of an entry that are numbers of the engine: by key word and quantity. Relative uncertainty as set. */
const WORDS: readonly {
  readonly name: string;
  readonly words: RegExp;
  readonly kind: QuantityKind;
  readonly share: number;
}[] = [
  { name: 'plugGap', words: /gap/i, kind: 'length', share: 0.05 },
  { name: 'strapForce', words: /strap/i, kind: 'force', share: 0.1 },
  { name: 'dwell', words: /dwell/i, kind: 'pulse-width', share: 0.03 },
  { name: 'injectorPressure', words: /fuel.*pressure|rail/i, kind: 'pressure-difference', share: 0.02 },
];

/** What the settings of a pull say in words that are understood; the rest is left alone. */
export function settingNumbers(settings: Readonly<Record<string, string>>): Numbers {
  const found = new Map<string, Measured>();
  for (const [key, text] of Object.entries(settings)) {
    const word = WORDS.find(({ words }) => words.test(key));
    const read = word && parseQuantity(text, word.kind);
    if (!word || !read?.ok || read.value.value < 0) continue;
    const { value, standardUncertainty } = read.value;
    found.set(word.name, measured(value, standardUncertainty ?? word.share * value));
  }
  return found;
}

/** Manifold pressure that a pull was set to [Pa]; undefined when no setting says so. */
export function targetPressure(settings: Readonly<Record<string, string>>): number | undefined {
  return settingOf(settings, /map|manifold|boost.*target/i, 'absolute-pressure');
}

/** Timing on top of the day's own that a pull was set to [rad]; 0 without one. Only what is written with a sign or is small is a shift. */
export function timingShift(settings: Readonly<Record<string, string>>): number {
  const shift = settingOf(settings, /timing|ignition|spark.*advance/i, 'angle') ?? 0;
  return Math.abs(shift) < LARGEST_SHIFT ? shift : 0;
}

/** [rad] @source our default: 6°; more is the timing itself */
const LARGEST_SHIFT = 0.105;

/** Phase of the inlet cam that a pull was set to, advance positive [rad]; undefined when no setting says so. */
export function camPhase(settings: Readonly<Record<string, string>>): number | undefined {
  return settingOf(settings, /^(?!.*(exhaust|outlet)).*(phas|cam.*(angle|advance))/i, 'angle');
}

function settingOf(settings: Readonly<Record<string, string>>, words: RegExp, kind: QuantityKind): number | undefined {
  for (const [key, text] of Object.entries(settings)) {
    if (!words.test(key)) continue;
    const read = parseQuantity(text, kind);
    if (read.ok) return read.value.value;
  }
  return undefined;
}

/** Settings that are answered with yes or no and with which this pull differs from most others. */
export function oddSettings(
  settings: Readonly<Record<string, string>>,
  others: readonly Readonly<Record<string, string>>[],
): readonly string[] {
  return Object.entries(settings).flatMap(([key, text]) => {
    if (!/^(yes|no|on|off|fitted|removed)$/i.test(text.trim())) return [];
    const same = others.filter((other) => other[key]?.trim().toLowerCase() === text.trim().toLowerCase()).length;
    return same < others.length / 2 ? [key] : [];
  });
}

/** What the day's logs say of the air, the losses and the gear. */
export function measuredToday(facts: DayFacts, results: ReadonlyMap<string, EntryResult | undefined>): Numbers {
  const entries = [...results.values()].flatMap((result) => result ?? []);
  const found = new Map<string, Measured>();
  const put = (name: string, values: readonly (Measured | undefined)[], least: number): void => {
    const known = values.flatMap((value) => value ?? []);
    if (known.length === 0) return;
    const middle = median(
      known.map(({ value }) => value),
      'skip',
    );
    const spread =
      median(
        known.map(({ value }) => Math.abs(value - middle)),
        'skip',
      ) * 1.4826;
    found.set(name, measured(middle, Math.max(least, spread)));
  };
  put(
    'ambientTemperature',
    entries.map(({ conditions }) => conditions.temperature),
    1.5,
  );
  put(
    'ambientPressure',
    entries.map(({ conditions }) => conditions.pressure),
    100,
  );
  const open = entries.flatMap(({ losses }) => losses).filter(({ clutch }) => clutch === 'open');
  put(
    'lossConstant',
    open.map(({ f0 }) => f0),
    5,
  );
  put(
    'lossSlope',
    open.map(({ f1 }) => f1),
    0,
  );
  put(
    'lossSquare',
    open.map(({ f2 }) => f2),
    0,
  );
  const radius = facts.vehicle.tyreRadius?.value;
  const ratios = entries.flatMap(({ pulls }) => pulls).flatMap(({ segment }) => segment.ratio ?? []);
  if (radius !== undefined && ratios.length > 0)
    put(
      'overallRatio',
      ratios.map((value) => measured(value * radius, 0)),
      0.005,
    );
  return found;
}
