import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import {
  breakup,
  clutchSlips,
  dragging,
  lifting,
  limiter,
  lockUpReleases,
  oscillation,
  short,
  soaked,
  syncLoss,
  tyreSlip,
} from '../../testing/faults.ts';
import type { Invented } from '../../testing/invented-pull.ts';
import { clutchSlip } from './clutch-slip.ts';
import { converterSlip } from './converter-slip.ts';
import { drivelineLossRising } from './driveline-loss-rising.ts';
import { revOrTorqueCut } from './rev-or-torque-cut.ts';

behaves({
  detector: clutchSlip,
  fault: clutchSlips(),
  below: clutchSlips(0.01),
  lookAlikes: { 'tyre slip': tyreSlip(), breakup: breakup(), 'lost sync': syncLoss() },
  rates: [10, 100, 1000],
  span: [4, 7],
});

behaves({
  detector: converterSlip,
  fault: lockUpReleases(),
  below: lockUpReleases(0.012),
  lookAlikes: { 'tyre slip': tyreSlip(), 'a converter that stays locked': { facts: { transmission: 'converter' } } },
  rates: [10, 100, 1000],
  span: [4.8, 5.5],
});

behaves({
  detector: drivelineLossRising,
  fault: dragging(),
  below: dragging(0.01, 20),
  lookAlikes: {
    'an engine that is leaner and short': short(0.02),
    'a head that lifts': { ...lifting(60e3), power: () => 0.965 },
    'heat soak': soaked(),
  },
  clean: { references: [{}, {}] },
});

behaves({
  detector: revOrTorqueCut,
  fault: limiter(),
  below: {},
  lookAlikes: { breakup: breakup(), 'lost sync': syncLoss(), 'boost oscillation': oscillation() },
  span: [8.5, 10],
});

/** The throttle shuts after lift-off, and the drag of engine and driveline there is so many newtons more. */
const overrun = (more = 0, rest: Invented = {}): Invented => ({
  ...rest,
  change: {
    ...rest.change,
    throttle: (value, { full }) => (full ? value : 0),
    'brake-force': (value, { t }) => value - (t > 10 ? more : 0),
  },
});

describe('driveline-loss-rising by the drag after lift-off', () => {
  const references = [overrun(), overrun(), overrun()];

  it('is seen by the drag alone, long before the power shows it', () => {
    const found = detected(drivelineLossRising, overrun(120, { references }));
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
    expect(found.strength).toBeGreaterThan(0.6);
  });

  it('asks for more against one earlier pull alone, unless the axle runs hotter', () => {
    const hot = { 'axle-temperature': (value: number) => value + 15 };
    const alone = [overrun()];
    const answer = (invented: Invented) => detected(drivelineLossRising, invented).answer;
    expect(answer(overrun(52, { references }))).toBe('seen');
    expect(answer(overrun(52, { references: alone }))).toBe('not seen');
    expect(answer(overrun(52, { references: alone, change: hot }))).toBe('seen');
    expect(answer(overrun(120, { references: alone }))).toBe('seen');
  });

  it('is silent when power is short and nothing drags', () => {
    const found = detected(drivelineLossRising, overrun(0, { references, power: () => 0.95 }));
    expect(found.answer, JSON.stringify(found.features)).toBe('not seen');
  });

  it('cannot tell it from friction of the engine when oil pressure fell as well', () => {
    const oil = { 'oil-pressure': (value: number) => value * 0.8 };
    expect(detected(drivelineLossRising, overrun(120, { references, change: oil })).answer).toBe('cannot tell');
  });

  it('does not take a colder pull for a dragging one', () => {
    const cold = { 'oil-temperature': (value: number) => value - 15 };
    expect(detected(drivelineLossRising, overrun(120, { references, change: cold })).answer).not.toBe('seen');
  });
});

describe('clutch-slip', () => {
  it('is seen through most of a pull against the ratio of earlier pulls, by its whole size', () => {
    // 3 % from a second after tip-in on: its own lower fifth slips as well.
    const most: Invented = {
      change: { 'engine-speed': (value, { t, full }) => value * (full && t > 1 ? 1.03 : 1) },
      references: [{}, {}],
    };
    const found = detected(clutchSlip, most);
    expect(found, JSON.stringify(found.features)).toMatchObject({ answer: 'seen', stopClass: 2 });
  });

  it('holds from about twice the customary limit on, a quarter of which may be hidden', () => {
    const slips = (size: number) => detected(clutchSlip, clutchSlips(size)).stopClass;
    expect([0.017, 0.025, 0.03].map(slips)).toEqual([1, 2, 2]);
  });

  it('is seen against the ratio of earlier pulls where only its very end has that ratio', () => {
    const slips: Invented['change'] = { 'engine-speed': (value, { t }) => value * (t > 0 && t < 9.7 ? 1.03 : 1) };
    expect(detected(clutchSlip, { change: slips, references: [{}, {}] }).answer).toBe('seen');
  });

  it('is not seen where the wheel reads less from the start on', () => {
    const change: Invented['change'] = { 'wheel-speed@driven left': (value) => 0.97 * value };
    expect(detected(clutchSlip, { change, references: [{}, {}] }).answer).toBe('not seen');
  });
});

describe('converter-slip', () => {
  it('is seen at the customary 2 % against earlier pulls', () => {
    const references = [lockUpReleases(0), lockUpReleases(0)];
    expect(detected(converterSlip, { ...lockUpReleases(0.02), references }).answer).toBe('seen');
  });

  it('does not take the usual slip of a converter for a step', () => {
    const references = [lockUpReleases(0.03), lockUpReleases(0.03)];
    expect(detected(converterSlip, { ...lockUpReleases(0.03), references }).answer).toBe('not seen');
  });

  it('does not take for one what every other pull does there, although each was called one', () => {
    const called: Invented = { ...lockUpReleases(0.045), spoiled: ['converter-slip'] };
    expect(detected(converterSlip, { ...lockUpReleases(0.045), references: [called, called] }).answer).toBe('not seen');
    const other: Invented = { ...lockUpReleases(0), spoiled: ['converter-slip'] };
    expect(detected(converterSlip, { ...lockUpReleases(0.045), references: [called, other] }).answer).toBe('seen');
  });
});

describe('rev-or-torque-cut', () => {
  it('hears a limiter by its rhythm where the drive is smoothed', () => {
    const cutting = (t: number): number => (t > 8.3 && t < 10 ? 1 : 0);
    const found = detected(revOrTorqueCut, {
      rate: 50,
      without: ['cut-status'],
      change: {
        'brake-force': (value, { t }) => value * (1 - 0.15 * cutting(t)),
        'engine-speed': (value, { t }) => value + 2 * cutting(t) * Math.sin(2 * Math.PI * 13 * t),
        lambda: (value, { t }) => value + cutting(t) * (0.06 + 0.04 * Math.sin(2 * Math.PI * 13 * t)),
      },
    });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
    expect(found.windows[0].from).toBeGreaterThan(10.5);
  });

  it('is silent on drive that is lost without any rhythm', () => {
    const found = detected(revOrTorqueCut, {
      rate: 50,
      without: ['cut-status'],
      change: { 'brake-force': (value, { t }) => value * (t > 8.3 ? 0.85 : 1) },
    });
    expect(found.answer, JSON.stringify(found.features)).not.toBe('seen');
  });

  it('cannot tell without a status where the drive is too slow to show notches', () => {
    const found = detected(revOrTorqueCut, { rate: 20, without: ['cut-status'] });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: ['cut-status'] });
  });
});

describe('fuel that is away without a status', () => {
  /** Injectors shut from 6 s after tip-in on for so many seconds, once or again and again at 10 Hz. */
  const shut = (seconds: number): Invented => ({
    without: ['cut-status'],
    change: { 'injector-duty': (value, { t }) => (t > 6 && t < 6 + seconds ? 0 : value) },
  });

  it('is a cut when it lasts, and no more than a dropped event when it does not', () => {
    expect(detected(revOrTorqueCut, shut(0.4)).answer).toBe('seen');
    expect(detected(revOrTorqueCut, shut(0.06)).answer).not.toBe('seen');
  });
});

describe('even notches of the drive', () => {
  /** Drive and manifold pressure swing at 7 Hz by so much of themselves, three seconds long; nothing else tells a cut. */
  const swings = (drive: number, air: number): Invented => {
    const swing = (t: number): number => (t > 5 && t < 8 ? Math.sin(14 * Math.PI * t) : 0);
    return {
      without: ['cut-status', 'injector-duty', 'ignition-timing', 'lambda'],
      change: {
        'brake-force': (value, { t }) => value * (1 + drive * swing(t)),
        'manifold-pressure': (value, { t }) => value * (1 + air * swing(t)),
      },
      references: [{}, {}],
    };
  };

  it('are a limiter’s where the air stays where it was, and surge’s where it swings as well', () => {
    expect(detected(revOrTorqueCut, swings(0.12, 0.02)).answer).toBe('seen');
    expect(detected(revOrTorqueCut, swings(0.12, 0.1)).answer).toBe('not seen');
  });
});
