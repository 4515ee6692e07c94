import { describe, expect, it } from 'vitest';
import { measured } from '../../../../core/quantities/index.ts';
import type { Detection } from '../../detector.ts';
import type { Fault } from '../../fault.ts';
import type { Moment } from '../../testing/invented-pull.ts';
import type { Occurrence } from '../../verdict.ts';
import { healthEntries } from '../entries.ts';
import { pullStates } from '../pull-state.ts';
import { type InventedEntry, inventedDay } from '../testing/invented-day.ts';
import { healthLimitsWith } from '../thresholds.ts';
import { gapPatterns } from './pattern.ts';
import type { Predict } from './predict.ts';
import { shortfallHealth } from './shortfall.ts';

/** share: power over that of a clean pull; load: manifold pressure over 200 kPa; warmer: charge temperature [K]. */
interface Made {
  readonly share?: number;
  readonly load?: number;
  readonly warmer?: number;
  readonly settings?: Readonly<Record<string, string>>;
}

function pull(id: number, { share = 1, load = 1, warmer = 0, settings = {} }: Made = {}): InventedEntry {
  const change = {
    'manifold-pressure': (value: number, { t }: Moment) => (t > 0 && t < 10 ? value * load : value),
    'charge-temperature': (value: number) => value + warmer,
  };
  return {
    facts: { id: `${id}`, clock: `10:${10 + id}`, settings },
    pull: { rate: 20, seed: id, change, power: () => share },
  };
}

function shortfalls(made: readonly Made[], predict?: Predict) {
  const entries = healthEntries(inventedDay(made.map((one, i) => pull(i + 1, one))));
  return shortfallHealth({ pulls: pullStates(entries), entries, limits: healthLimitsWith(), predict });
}

const found = (made: readonly Made[]) =>
  shortfalls(made).findings.map(({ entry, kind, stopClass }) => `${entry} ${kind} ${stopClass}`);
const CLEAN: readonly Made[] = [{}, { share: 1.004 }, { share: 0.997 }];

function occurrence(fault: Fault): Occurrence {
  const seen = { windows: [], stopClass: 1, voids: 'nothing' } as const;
  const detection: Detection = {
    ...{ fault, subject: 'air', answer: 'seen', features: [], strength: 1, lookAlikes: [], needs: [], missing: [] },
    ...seen,
  };
  const unknown = { answer: 'unknown', evidence: [], missing: [] } as const;
  return {
    ...{ hypotheses: [{ fault, probability: 0.9, detection, evidence: [] }], inseparable: [], next: undefined },
    ...{ separation: { tied: unknown, commanded: unknown, supply: unknown }, ...seen },
  };
}

describe('power against expected', () => {
  it('is not told before two clean pulls', () => {
    const { unknown, shortfalls: known } = shortfalls([{}, {}]);
    expect(known).toEqual([]);
    expect(unknown.map(({ why }) => why)).toEqual([
      'not enough pulls: 0 clean ones before, 2 needed',
      'not enough pulls: 1 clean ones before, 2 needed',
    ]);
  });

  it('keeps quiet over scatter, over what lower pressure or a hotter charge explains, and over a gain', () => {
    expect(found([...CLEAN, { share: 0.994 }, { share: 1.006 }])).toEqual([]);
    expect(found([...CLEAN, { share: 0.9 ** 1.15, load: 0.9 }, { share: 0.9 ** 1.2, load: 0.9 }])).toEqual([]);
    expect(found([...CLEAN, { share: 1 - 0.0031 * 12, warmer: 12 }])).toEqual([]);
    expect(found([...CLEAN, { share: 1.05 }])).toEqual([]);
  });

  it('one short pull asks to look; two in a row at load that does not fall are a sign of mechanical distress', () => {
    expect(found([...CLEAN, { share: 0.96 }])).toEqual(['4 power-shortfall 1']);
    expect(found([...CLEAN, { share: 0.96 }, { share: 0.955 }])).toEqual([
      '4 power-shortfall 1',
      '5 mechanical-distress-sign 2',
    ]);
    expect(found([...CLEAN, { share: 0.96 }, {}, { share: 0.96 }])).toEqual([
      '4 power-shortfall 1',
      '6 power-shortfall 1',
    ]);
  });

  it('a second short pull at less load starts counting anew', () => {
    expect(found([...CLEAN, { share: 0.95 }, { share: 0.95 * 0.95 ** 1.2, load: 0.95 }])).toEqual([
      '4 power-shortfall 1',
      '5 power-shortfall 1',
    ]);
  });

  it('a setting that is new may be the whole cause and is named', () => {
    const [phase0, phase6] = [{ settings: { 'cam phase': '0 °' } }, { settings: { 'cam phase': '-6 °' } }];
    const { findings } = shortfalls([phase0, phase0, phase0, { ...phase6, share: 0.95 }, { ...phase6, share: 0.95 }]);
    expect(findings.map(({ stopClass }) => stopClass)).toEqual([1, 1]);
    expect(findings[0]?.why).toContain('cam phase: -6 °');
  });

  it('takes another prediction in place of the sensitivities', () => {
    const model: Predict = ({ pull: asked }) => ({
      power: new Map(asked.cells.map(({ step, power }) => [step, power / 0.9])),
      ...{ uncertainty: 0.02, rests: ['1'], origin: 'engine model', remarks: [] },
    });
    const [first] = shortfalls([{}], model).shortfalls;
    expect(first?.gap.value).toBeCloseTo(-0.1, 9);
    expect(first?.gap.standardUncertainty).toBeGreaterThan(0.02);
  });

  it('a prediction that cannot tell leaves it to the sensitivities, and both say why', () => {
    const cannot: Predict = () => ({ why: 'no map of this engine' });
    const { unknown, shortfalls: known } = shortfalls([...CLEAN, {}], cannot);
    expect(unknown[0]?.why).toBe(
      'not enough pulls: 0 clean ones before, 2 needed; engine model not asked: no map of this engine',
    );
    expect(known.at(-1)?.prediction.origin).toBe('3 earlier clean pulls and sensitivities');
    expect(known.at(-1)?.prediction.remarks).toContain('engine model not asked: no map of this engine');
  });

  it('settings that a prediction allows for are no excuse, and are named with what they may do', () => {
    const allows: Predict = ({ pull: asked }) => ({
      power: new Map(asked.cells.map(({ step, power }) => [step, power / 0.9])),
      ...{ uncertainty: 0.02, rests: [], origin: 'a model', remarks: [] },
      notSeen: [{ setting: 'cam phase: 6 °', effect: measured(0, 0.015) }],
    });
    const { findings, unknown } = shortfalls(
      [{ settings: { 'cam phase': '6 °' } }, { settings: { 'cam phase': '6 °' } }],
      allows,
    );
    expect(findings.map(({ kind }) => kind)).toEqual(['power-shortfall', 'mechanical-distress-sign']);
    expect(findings[0]?.why).toContain('allowed for: cam phase: 6 ° (± 1.5 %)');
    expect(unknown[0]).toMatchObject({ what: 'what a new setting does to power', entries: ['1'] });
    expect(unknown[0]?.why).toMatch(/^cam phase: 6 °: too few earlier clean pulls had it, ± 1.5 % of power/);
  });

  it('two short pulls that a leak or a mixture may explain are no sign of distress; a head that lifts excuses nothing', () => {
    const with_ = (fault: Fault) => {
      const entries = healthEntries(
        inventedDay([...CLEAN, { share: 0.95 }, { share: 0.95 }].map((one, i) => pull(i + 1, one))),
      );
      const pulls = pullStates(entries).map((one, i) => (i < 3 ? one : { ...one, believed: [occurrence(fault)] }));
      return shortfallHealth({ pulls, entries, limits: healthLimitsWith() }).findings;
    };
    expect(with_('boost-leak').map(({ kind }) => kind)).toEqual(['power-shortfall', 'power-shortfall']);
    expect(with_('boost-leak')[0]?.why).toBe('short beside boost-leak: that may be the whole cause');
    expect(with_('head-lift').map(({ kind }) => kind)).toEqual(['power-shortfall', 'mechanical-distress-sign']);
  });
});

describe('pattern of a gap', () => {
  const speed = Array.from({ length: 20 }, (_, i) => 250 + 20 * i);
  const torque = speed.map((w) => 430 - 0.0012 * (w - 400) ** 2);
  const wavy = (i: number): number => 0.001 * Math.sin(3 * i);

  it.each([
    ['with speed', (i: number) => -0.05 * (speed[i] / 630)],
    ['with cylinder pressure', (i: number) => -0.05 * (torque[i] / 430) ** 4],
    ['constant', () => -0.04],
  ] as const)('%s is ranked first', (pattern, gap) => {
    const ranked = gapPatterns({ speed, torque, gap: speed.map((_, i) => gap(i) + wavy(i)) });
    expect(ranked[0]?.pattern).toBe(pattern);
    expect(ranked[0]?.weight).toBeGreaterThan(0.6);
    expect(ranked.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
  });

  it('is left open where torque does not change and the gap is hardly there, and with few speeds', () => {
    const flat = gapPatterns({ speed, torque: speed.map(() => 400), gap: speed.map((_, i) => wavy(i)) });
    expect(Math.max(...flat.map(({ weight }) => weight))).toBeLessThan(0.5);
    expect(gapPatterns({ speed: [1, 2], torque: [1, 1], gap: [0, 0] })).toEqual([]);
  });
});
