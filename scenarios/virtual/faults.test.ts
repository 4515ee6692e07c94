import { describe, expect, test } from 'vitest';
import { chanceOf } from '../random.ts';
import { type Built, type Context, meanOf, mostOf } from './built.ts';
import { ENGINE_FAULTS, type EngineFault } from './faults.ts';
import { drawNature, type Nature, rehearse } from './nature.ts';
import { ableEngine } from './options.ts';
import type { VirtualRun } from './run.ts';
import type { Signal } from './signals.ts';

/** One fault put into one rehearsed pull of an engine that can have it, with the same pull without it. */
function tried(
  fault: EngineFault,
  strength: number,
  { variant, luck = 0.005 }: { variant?: string | undefined; luck?: number } = {},
): { built: Built; clean: VirtualRun; run: VirtualRun; nature: Nature } {
  const nature = drawNature(41, { engine: ableEngine({ seed: 41, fault }), roller: 'brake' });
  const clean = rehearse(nature, []);
  const context: Context = { nature, luck, clean, strength, chance: chanceOf(41, fault), variant };
  const built = ENGINE_FAULTS[fault](context);
  if (!built) throw new Error(`this engine cannot have ${fault}`);
  const run = rehearse(nature, built.act ? [built.act] : [], built.plan ?? {});
  return { built, clean, run, nature };
}

const top = [0.9, 1] as const;
/** What each fault shows of its own, over what one strength is worth: 1 at strength 1. */
const OWN: readonly {
  fault: EngineFault;
  variant?: string;
  shown: (made: ReturnType<typeof tried>) => number;
  still: readonly Signal[];
}[] = [
  {
    fault: 'lean-mixture',
    shown: ({ run, nature }) => (meanOf(run, 'lambda', top) - nature.engine.lambdaFull) / 0.04,
    still: ['map', 'timing', 'rail'],
  },
  {
    fault: 'rich-mixture',
    shown: ({ run, nature }) =>
      (nature.engine.lambdaFull - meanOf(run, 'lambda', top)) / (nature.engine.lambdaFull - 0.7),
    still: ['timing', 'rail'],
  },
  {
    fault: 'fuel-pressure-drop',
    variant: 'pump',
    shown: ({ run, clean }) => (1 - meanOf(run, 'rail', [0.97, 1]) / meanOf(clean, 'rail', top)) / 0.05,
    still: ['map', 'timing', 'volts'],
  },
  {
    fault: 'injector-saturation',
    shown: ({ run }) => (mostOf(run, (at) => at('injectorDuty')) / 0.9 - 1) / 0.1 + 1,
    still: ['map', 'timing', 'lambda', 'engineTorque'],
  },
  {
    fault: 'clutch-slip',
    shown: ({ run }) =>
      ((Math.max(...run.signals.engineSpeed.map((speed, k) => speed / (run.signals.wheelSpeed[k] ?? 1))) /
        (run.signals.engineSpeed[200] ?? 1)) *
        (run.signals.wheelSpeed[200] ?? 1) -
        1) /
      0.015,
    still: ['lambda', 'timing'],
  },
  {
    fault: 'wheel-slip',
    shown: ({ run, nature }) =>
      Math.max(...Array.from(run.run.slip, (slip, k) => slip - nature.stated.creep * (run.run.tyreForce[k] ?? 0))) /
      0.015,
    still: ['lambda', 'timing', 'map'],
  },
  {
    fault: 'power-shortfall',
    shown: ({ run, clean }) => (1 - (meanOf(run, 'engineTorque') * 1) / meanOf(clean, 'engineTorque')) / 0.022,
    still: ['map', 'lambda', 'timing', 'charge', 'oilPressure'],
  },
  {
    fault: 'boost-overshoot',
    shown: ({ run }) => mostOf(run, (at) => at('map') - at('target'), 0.2) / 8e3,
    still: ['lambda', 'volts'],
  },
  {
    fault: 'boost-creep',
    shown: ({ run }) => (meanOf(run, 'map', [0.95, 1]) - meanOf(run, 'target', [0.95, 1])) / 8e3,
    still: ['lambda', 'volts'],
  },
  {
    fault: 'exhaust-restriction',
    shown: ({ run, clean }) =>
      (meanOf(run, 'exhaustPressure', [0.85, 1]) / meanOf(run, 'map', [0.85, 1]) -
        meanOf(clean, 'exhaustPressure', [0.85, 1]) / meanOf(clean, 'map', [0.85, 1])) /
      0.15,
    still: ['lambda', 'volts'],
  },
  {
    fault: 'cam-not-tracking',
    variant: 'late',
    shown: ({ run }) => mostOf(run, (at) => at('camTarget') - at('cam'), 1) / 4,
    still: ['lambda', 'volts'],
  },
  {
    fault: 'oil-pressure-low',
    shown: ({ run, clean }) => (1 - meanOf(run, 'oilPressure', top) / meanOf(clean, 'oilPressure', top)) / 0.15,
    still: ['map', 'lambda', 'timing', 'oil'],
  },
  {
    fault: 'crankcase-pressure',
    shown: ({ run, clean }) => (meanOf(run, 'crankcase', top) - meanOf(clean, 'crankcase', top)) / 1e3,
    still: ['map', 'lambda', 'timing', 'oilPressure'],
  },
  {
    fault: 'head-lift',
    shown: ({ run, clean }) =>
      (meanOf(run, 'coolantPressure', [0.97, 1]) - meanOf(clean, 'coolantPressure', [0.97, 1])) / 20e3,
    still: ['map', 'timing', 'oilPressure'],
  },
  {
    fault: 'charge-heat-soak',
    shown: ({ run, clean }) => (meanOf(run, 'charge', [0.35, 0.5]) - meanOf(clean, 'charge', [0.35, 0.5])) / 3,
    still: ['lambda', 'volts', 'oilPressure'],
  },
  {
    fault: 'spark-energy',
    variant: 'voltage',
    shown: ({ run, clean }) => (meanOf(clean, 'volts', [0.985, 1]) - meanOf(run, 'volts', [0.985, 1])) / 0.7,
    still: ['map', 'timing', 'need'],
  },
  { fault: 'knock', shown: ({ run }) => meanOf(run, 'knockRetard', [0.7, 1]) / 2, still: ['lambda', 'volts', 'map'] },
];

describe.each(OWN)('$fault', ({ fault, variant, shown, still }) => {
  test.each([1, 2])('shows its own size at strength %d and grows with it', (strength) => {
    const made = tried(fault, strength, { variant });
    expect(shown(made) / strength).toBeGreaterThan(0.78);
    expect(shown(made) / strength).toBeLessThan(1.3);
  });

  test('leaves alone what it should not touch', () => {
    const { run, clean } = tried(fault, 1, { variant });
    for (const signal of still) {
      expect(Math.abs(meanOf(run, signal) / meanOf(clean, signal) - 1), signal).toBeLessThan(0.015);
    }
  });
});

test('breakup comes from a need above the supply, at constant fuel and timing, and makes lambda read lean', () => {
  const { run, clean, built } = tried('ignition-breakup', 4);
  expect(mostOf(run, (at) => at('need') / at('supply'))).toBeGreaterThan(0.85);
  expect(mostOf(clean, (at) => at('need') / at('supply'))).toBeLessThan(0.82);
  expect(built.shown?.(run)).toBeGreaterThan(0.1);
  expect(meanOf(clean, 'missed', [0, 1])).toBe(0);
  expect(built.size.missedShare).toBeCloseTo(0.08, 9);
  expect(meanOf(run, 'pulse')).toBeCloseTo(meanOf(clean, 'pulse'), 3);
});

test('a lost trigger takes every firing at once and counts up', () => {
  const { run } = tried('lost-sync', 1);
  const lost = run.signals.missed.filter((share) => share === 1).length;
  expect(lost).toBeGreaterThan(3);
  expect(run.signals.sync.at(-1)).toBeGreaterThan(0);
});

test('surge swings the charge pressure by its amplitude at its frequency', () => {
  const { run, clean, built } = tried('surge', 2, { variant: 'load' });
  const swing = run.signals.boost.map((pressure, k) => pressure / (clean.signals.boost[k] ?? 1));
  expect(Math.max(...swing) - 1).toBeGreaterThan(0.7 * (built.size.amplitudeShare ?? 1));
});

test('a shortfall is three times the spread of a day on which pulls scatter by more than usual', () => {
  expect(tried('power-shortfall', 1, { luck: 0.003 }).built.size.lostShare).toBeCloseTo(0.02, 12);
  expect(tried('power-shortfall', 2, { luck: 0.008 }).built.size.lostShare).toBeCloseTo(0.048, 12);
  // Short once is repeated; short by far is held.
  expect([0.5, 1, 2, 4].map((strength) => tried('power-shortfall', strength, {}).built.stopClass)).toEqual([
    1, 1, 2, 2,
  ]);
});
