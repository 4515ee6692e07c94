import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import {
  breakup,
  choke,
  creep,
  dragging,
  droop,
  leak,
  limiter,
  oscillation,
  overshoot,
  restricted,
  soaked,
  surging,
} from '../../testing/faults.ts';
import type { Invented } from '../../testing/invented-pull.ts';
import { boostCreep, boostDroop } from './boost-control.ts';
import { boostLeak } from './boost-leak.ts';
import { boostOscillation } from './boost-oscillation.ts';
import { boostOvershoot } from './boost-overshoot.ts';
import { compressorChoke } from './compressor-choke.ts';
import { exhaustRestriction } from './exhaust-restriction.ts';
import { surge } from './surge.ts';
import { turboOverspeed } from './turbo-overspeed.ts';

behaves({
  detector: boostOvershoot,
  fault: overshoot(),
  below: overshoot(6e3),
  lookAlikes: { oscillation: oscillation(), creep: creep(), droop: droop(), breakup: breakup() },
  span: [0.6, 1.3],
});

behaves({
  detector: boostOscillation,
  fault: oscillation(),
  below: oscillation(2e3),
  lookAlikes: { overshoot: overshoot(), surge: surging(), breakup: breakup(), droop: droop() },
  rates: [20, 100, 1000],
  span: [2, 7],
});

behaves({
  detector: boostDroop,
  fault: droop(),
  below: droop(0.03),
  lookAlikes: { oscillation: oscillation(), creep: creep(), overshoot: overshoot() },
  rates: [10, 100, 1000],
  span: [6, 10],
});

behaves({
  detector: boostCreep,
  fault: creep(),
  below: creep(0.02),
  lookAlikes: { oscillation: oscillation(), droop: droop(), overshoot: overshoot() },
  rates: [10, 100, 1000],
  span: [5, 10],
});

behaves({
  detector: boostLeak,
  fault: leak(),
  below: leak(0.4),
  lookAlikes: { 'heat soak': soaked(), 'exhaust restriction': restricted(), 'driveline drag': dragging() },
  clean: { references: [{}, {}] },
});

behaves({
  detector: compressorChoke,
  fault: choke(),
  below: choke(0.02),
  lookAlikes: {
    'droop with the wheel no faster': {
      change: { ...droop().change, 'turbo-speed': (value, { place }) => value * (1 - 0.16 * place) },
    },
    overshoot: overshoot(),
    oscillation: oscillation(),
  },
  rates: [20, 100, 1000],
});

behaves({
  detector: exhaustRestriction,
  fault: restricted(),
  below: restricted(0.08),
  lookAlikes: { 'boost leak': leak(), 'heat soak': soaked() },
  clean: { references: [{}, {}] },
});

behaves({
  detector: surge,
  fault: surging(),
  below: surging(0.012),
  lookAlikes: { 'boost oscillation': oscillation(), breakup: breakup(), 'a limiter': limiter() },
  span: [2, 4],
});

behaves({
  detector: turboOverspeed,
  fault: {},
  below: { change: { 'turbo-speed': (value) => value * 0.96 } },
  lookAlikes: {
    'a slower wheel with breakup': { change: { ...breakup().change, 'turbo-speed': (value) => value * 0.96 } },
  },
  set: { 'turbo.limit': 11_200 },
  clean: { change: { 'turbo-speed': (value) => value * 0.95 } },
});

describe('boost control', () => {
  it('is no overshoot where two readings stand far over the target and are gone', () => {
    const astray = (share: number, seconds: number): Invented => ({
      rates: { 'manifold-pressure': 20 },
      change: { 'manifold-pressure': (value, { t }) => value * (t > 1 && t < 1 + seconds ? 1 + share : 1) },
    });
    expect(detected(boostOvershoot, astray(0.5, 0.15)).answer).toBe('not seen');
    expect(detected(boostOvershoot, astray(0.15, 0.6)).answer).toBe('seen');
  });

  it('counts a smaller overshoot when the other pulls have none', () => {
    const references = [{}, {}, {}];
    expect(detected(boostOvershoot, { ...overshoot(7e3) }).answer).toBe('not seen');
    expect(detected(boostOvershoot, { ...overshoot(7e3), references }).answer).toBe('seen');
    const usual = [overshoot(6.5e3), overshoot(7e3)];
    expect(detected(boostOvershoot, { ...overshoot(7e3), references: usual }).answer).toBe('not seen');
  });

  it('does not take a pressure that stays too high for an overshoot', () => {
    const scaled = { change: { 'manifold-pressure': (value: number) => value * 1.09 } };
    expect(detected(boostOvershoot, scaled).answer).toBe('not seen');
  });

  it('cannot tell a short overshoot from ten readings a second', () => {
    expect(detected(boostOvershoot, { rate: 10 }).answer).toBe('cannot tell');
  });

  it('sees an oscillation of the customary size in a noisy pressure, and says so when the noise hides it', () => {
    const noise = (pascal: number) => ({
      change: {
        'manifold-pressure': (value: number, { t }: { t: number }) =>
          value + pascal * Math.sin(1e4 * t * t) + 3.2e3 * Math.sin(2 * Math.PI * 1.6 * t),
      },
    });
    expect(detected(boostOscillation, { ...noise(2.5e3), rate: 50 }).answer).toBe('seen');
    const hidden = {
      change: { 'manifold-pressure': (value: number, { t }: { t: number }) => value + 2e4 * Math.sin(1e4 * t * t) },
    };
    expect(detected(boostOscillation, { ...hidden, rate: 10 }).answer).toBe('cannot tell');
  });
});

describe('pulsation of the firings in a slow log', () => {
  const engine = { ignition: 'spark', strokesPerCycle: 4, cylinders: 2 } as const;
  /** A twin: 35 to 110 firings a second, read a hundred times a second. */
  const pulsating = (value: number, { t, full }: { t: number; full: boolean }): number =>
    value + (full ? 5e3 * Math.sin(220 * t + 23.5 * t * t) : 0);
  const swing = (value: number, { t }: { t: number }): number =>
    value * (1 + (t > 3 && t < 5 ? 0.05 * Math.sin(2 * Math.PI * 9 * t) : 0));

  it('is neither surge nor an oscillation', () => {
    const change = { 'manifold-pressure': pulsating, 'boost-pressure': pulsating };
    for (const rate of [20, 25, 50, 100]) {
      expect(detected(surge, { engine, change, rate }).answer, `surge at ${rate} Hz`).not.toBe('seen');
      expect(detected(boostOscillation, { engine, change, rate }).answer, `oscillation at ${rate} Hz`).not.toBe('seen');
    }
  });

  it('hides no surge', () => {
    const both = (value: number, moment: { t: number; full: boolean }): number =>
      pulsating(swing(value, moment), moment);
    const found = detected(surge, { engine, change: { 'manifold-pressure': both, 'boost-pressure': both } });
    expect(found).toMatchObject({ answer: 'seen', stopClass: 2 });
    expect(found.strength).toBeGreaterThan(0.75);
  });
});

it('does not take a peak of surging air for an overshoot of the control', () => {
  const peaks = (value: number, { t }: { t: number }): number =>
    value * (1 + (t > 0.6 && t < 2.4 ? 0.1 * Math.sin(2 * Math.PI * 9 * t) : 0));
  const once = (value: number, { t }: { t: number }): number => value + (t > 0.8 && t < 1 ? 16e3 : 0);
  const change = (of: typeof peaks): Invented => ({ change: { 'manifold-pressure': of, 'boost-pressure': of } });
  expect(detected(surge, change(peaks)).answer).toBe('seen');
  expect(detected(boostOvershoot, change(peaks)).answer).toBe('not seen');
  expect(detected(boostOvershoot, change(once)).answer).toBe('seen');
});

describe('swings between lost triggers', () => {
  it('are the triggers’, not the control’s', () => {
    const swing = (value: number, { t }: { t: number }): number =>
      value + (t > 2 && t < 7 ? 7e3 * Math.sin(2 * Math.PI * 1.8 * t) : 0);
    const counts =
      (at: readonly number[]) =>
      (value: number, { t }: { t: number }) =>
        value + at.filter((each) => t > each).length;
    const lost = (...at: number[]): Invented => ({ change: { 'manifold-pressure': swing, 'sync-errors': counts(at) } });
    expect(detected(boostOscillation, lost(3, 4.5, 6)).answer).toBe('not seen');
    expect(detected(boostOscillation, lost(3)).answer).toBe('seen');
  });
});

describe('a swing that runs into the end of the gate', () => {
  const cut = (t: number): number => (t > 2 && t < 8 ? 15e3 * Math.min(0.15, Math.sin(2 * Math.PI * 1.8 * t)) : 0);
  const change = { 'manifold-pressure': (value: number, { t }: { t: number }) => value + cut(t) };

  it('is neither a droop nor an overshoot', () => {
    expect(detected(boostOscillation, { change }).answer).toBe('seen');
    expect(detected(boostDroop, { change }).answer).toBe('not seen');
    expect(detected(boostOvershoot, { change }).answer).toBe('not seen');
  });
});

describe('boost leak', () => {
  const references = [{}, {}, {}];
  const duty = (value: number): number => value + 0.08;

  it('is seen at the customary eight points when the wheel turns a little faster', () => {
    const faster = (value: number, { place }: { place: number }): number => value * (place > 0 ? 1.01 : 1);
    const found = detected(boostLeak, { change: { 'wastegate-duty': duty, 'turbo-speed': faster }, references });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
  });

  it('is seen where the pressure is far from every other pull’s and the wheel turns faster than it asks for at every speed', () => {
    const gross = (wheel: (place: number) => number): Invented => ({
      change: {
        'manifold-pressure': (value, { full }) => (full ? 0.8 * value : value),
        'boost-pressure': (value, { full }) => (full ? 0.8 * value : value),
        'turbo-speed': (value, { place }) => value * (place > 0 ? wheel(place) : 1),
      },
      references,
    });
    expect(
      detected(
        boostLeak,
        gross(() => 1.03),
      ).answer,
    ).toBe('seen');
    // What comes on with the flow is the compressor's end; a wheel as slow as its pressure is driven too little.
    expect(
      detected(
        boostLeak,
        gross((place) => 0.8 + 0.24 * place),
      ).answer,
    ).not.toBe('seen');
    expect(
      detected(
        boostLeak,
        gross(() => 0.75),
      ).answer,
    ).not.toBe('seen');
  });

  it('is seen without duty by a wheel that turns a little faster at every speed and boost that comes later', () => {
    const later = (wheel: number): Invented => ({
      without: ['wastegate-duty'],
      change: {
        'manifold-pressure': (value, { t }) => (t > 0 && t < 10 ? value - 14e3 * Math.exp(-t / 1.2) : value),
        'turbo-speed': (value, { place }) => value * (place > 0 ? wheel : 1),
      },
      references: [{ without: ['wastegate-duty'] }, { without: ['wastegate-duty'] }],
    });
    expect(detected(boostLeak, later(1.01)).answer).toBe('seen');
    expect(detected(boostLeak, later(1.002)).answer).not.toBe('seen');
  });

  it('is not claimed when the wheel turns slower for the same pressure', () => {
    const slower = (value: number, { place }: { place: number }): number => value * (place > 0 ? 0.993 : 1);
    const change = { 'wastegate-duty': duty, 'turbo-speed': slower };
    expect(detected(boostLeak, { change, references }).answer).toBe('not seen');
  });

  it('is claimed weakly by duty alone, and not where duty grows from nothing with the flow', () => {
    const without = ['turbo-speed'] as const;
    const alone = detected(boostLeak, { change: { 'wastegate-duty': duty }, references, without });
    expect(alone.answer).toBe('seen');
    expect(alone.strength).toBeLessThanOrEqual(0.6);
    const growing = (value: number, { place }: { place: number }): number => value + 0.3 * Math.max(0, place - 0.45);
    expect(detected(boostLeak, { change: { 'wastegate-duty': growing }, references, without }).answer).toBe('not seen');
  });

  it('cannot be told by duty alone when the mixture changed as well', () => {
    const change = { 'wastegate-duty': duty, lambda: (value: number) => value - 0.06 };
    const found = detected(boostLeak, { change, references, without: ['turbo-speed'] });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: ['turbo-speed'] });
  });
});

/** Manifold pressure that builds up slowly enough to be watched. */
const rising =
  (late: number) =>
  (_: number, { t }: { t: number }): number =>
    90e3 + 110e3 * (t <= 0 ? 0 : 1 - Math.exp(-t / (t < 10 ? late : 0.1)));

describe('boost leak by duty alone', () => {
  const controlled = (value: number, { t }: { t: number }): number => (t < 0.8 ? 1 : value);
  const pull = (more: (place: number) => number, late: number) => ({
    without: ['turbo-speed' as const],
    change: {
      'manifold-pressure': rising(late),
      'wastegate-duty': (value: number, moment: { t: number; place: number }) =>
        moment.t < 0.8 ? 1 : controlled(value, moment) + more(moment.place),
    },
  });
  const references = [pull(() => 0, 0.6), pull(() => 0, 0.6), pull(() => 0, 0.6)];

  it('is sure where boost comes later and duty is higher at all speeds alike', () => {
    const found = detected(boostLeak, { ...pull(() => 0.08, 0.72), references });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
    expect(found.strength).toBeGreaterThan(0.75);
  });

  it('is not sure where boost comes as ever, or duty grows with the flow', () => {
    const punctual = detected(boostLeak, { ...pull(() => 0.08, 0.6), references });
    expect(punctual.strength).toBeLessThanOrEqual(0.6);
    const growing = detected(boostLeak, { ...pull((place) => 0.14 * place, 0.72), references });
    expect(growing.strength).toBeLessThanOrEqual(0.6);
  });
});

describe('boost that falls away or climbs', () => {
  const references = [{}, {}, {}];
  const later =
    (most: number) =>
    (value: number, { t, full }: { t: number; full: boolean }): number =>
      value + (full && t > 6 ? (most * (t - 6)) / 4 : 0);
  const shut = (_: number, { t }: { t: number }): number => (t > 6 ? 1 : 0.5);

  it('is the turbine’s where the charge is cooler for it, and something else’s where it is not', () => {
    const without = ['turbo-speed' as const];
    const change = { ...droop().change, 'wastegate-duty': shut };
    const cooler = { ...change, 'charge-temperature': later(-3) };
    expect(detected(boostDroop, { change: cooler, references, without }).strength).toBeGreaterThan(0.75);
    expect(detected(boostDroop, { change, references, without }).strength).toBeLessThanOrEqual(0.5);
  });

  it('is surely a creep where the control opens the wastegate in vain', () => {
    const built = (value: number, { t }: { t: number }): number => (t < 0.8 ? 1 : value);
    const slow = (value: number, { t }: { t: number }): number =>
      value - (t > 0 && t < 10 ? 110e3 * (Math.exp(-t / 0.6) - Math.exp(-t / 0.15)) : 0);
    const clean = { change: { 'manifold-pressure': slow, 'wastegate-duty': built } };
    const risen = creep(0.04).change?.['manifold-pressure'];
    const climbing = (value: number, moment: Parameters<NonNullable<typeof risen>>[1]): number =>
      risen ? risen(slow(value, moment), moment) : value;
    const fought = {
      'manifold-pressure': climbing,
      'wastegate-duty': (value: number, moment: { t: number }) => built(value, moment) - (moment.t > 5 ? 0.2 : 0),
    };
    const day = [clean, clean, clean];
    expect(detected(boostCreep, { change: fought, references: day }).strength).toBeGreaterThan(0.74);
    const left = { 'manifold-pressure': climbing, 'wastegate-duty': built };
    expect(detected(boostCreep, { change: left, references: day }).strength).toBeLessThan(0.74);
  });
});

describe('boost that arrives late', () => {
  /** Builds up until 8 s after tip-in, is `above` its target by then, and falls back from `back` s on. */
  const late = (above: number, back: number): Invented => ({
    change: {
      'manifold-pressure': (value, { t, full }) =>
        !full ? value : t < 8 ? value - 8e3 * (8 - t) : value * (1 + (t < back ? above : 0)),
    },
  });

  it('creeps where the end of the pull cuts it off while it climbs well beyond its limit', () => {
    const climbs = (most: number): Invented => ({
      change: {
        'manifold-pressure': (value, { t }) =>
          t < 10 ? value * (1 + most * Math.max(0, (t - 9) / 0.9) ** 1.5) : value,
      },
    });
    expect(detected(boostCreep, climbs(0.06)).answer).toBe('seen');
    expect(detected(boostCreep, climbs(0.028)).answer).toBe('not seen');
  });

  it('creeps where it stays above its target to the end of the pull, and does not where it comes back', () => {
    expect(detected(boostCreep, late(0.06, 11)).answer).toBe('seen');
    expect(detected(boostCreep, late(0.06, 8.8)).answer).toBe('not seen');
    expect(detected(boostCreep, late(0.01, 11)).answer).toBe('not seen');
  });
});

describe('compressor choke against other pulls', () => {
  const references = [{}, {}, {}];
  const top =
    (share: number) =>
    (value: number, { place }: { place: number }): number =>
      value * (1 - share * Math.max(0, (place - 0.6) / 0.4));
  const short = { 'manifold-pressure': top(0.04), 'boost-pressure': top(0.04) };

  it('is seen where pressure is short at the largest flow and the wheel turns no slower', () => {
    const found = detected(compressorChoke, { change: short, references });
    expect(found).toMatchObject({ answer: 'seen', stopClass: 2 });
    expect(found.strength).toBeGreaterThanOrEqual(0.75);
    expect(found.windows[0].from - 3).toBeGreaterThan(5);
  });

  it('is seen where it begins at half of the flow, and not where as much is missing there', () => {
    const early = (low: number) => ({
      ...short,
      'turbo-speed': (value: number, { place }: { place: number }) =>
        value * (1 + low + 0.02 * Math.max(0, (place - 0.6) / 0.4)),
    });
    const slack = (low: number) => detected(compressorChoke, { change: early(low), references });
    expect(slack(0.03)).toMatchObject({ answer: 'seen' });
    expect(slack(0.06)).toMatchObject({ answer: 'not seen' });
  });

  it('is not seen where the wheel turns as much slower as the pressure asks for', () => {
    const change = { ...short, 'turbo-speed': top(0.028) };
    expect(detected(compressorChoke, { change, references }).answer).toBe('not seen');
  });

  it('is not seen just below, nor where the wheel turns faster at all speeds', () => {
    const less = { 'manifold-pressure': top(0.015), 'boost-pressure': top(0.015) };
    expect(detected(compressorChoke, { change: less, references }).answer).toBe('not seen');
    const leaking = {
      ...short,
      'turbo-speed': (value: number, { place }: { place: number }) => value * (place > 0 ? 1.06 : 1),
    };
    expect(detected(compressorChoke, { change: leaking, references }).answer).toBe('not seen');
  });
});

describe('a boost leak', () => {
  it('is not read from a turbo speed that is off by one scale under load and before it', () => {
    const faster = (from: number): Invented => ({
      change: {
        'turbo-speed': (value, { t }) => value * (t > from ? 1.06 : 1),
        'wastegate-duty': (value, { t }) => value + (t > 0 ? 0.1 : 0),
      },
      references: [{}, {}, {}],
    });
    const signs = (from: number) => detected(boostLeak, faster(from)).features.map(({ name }) => name);
    expect(signs(0)).toContain('boost-leak.turbo');
    expect(signs(-9)).not.toContain('boost-leak.turbo');
    expect(signs(-9)).toContain('boost-leak.duty');
    expect(detected(boostLeak, faster(-9)).strength).toBeLessThan(detected(boostLeak, faster(0)).strength);
  });
});

describe('exhaust restriction beside a wastegate that closes', () => {
  /** Exhaust pressure by the ellipse law: flow ∝ engine speed; gate: what duty leaves open [1]; behind: behind the turbine [Pa]. */
  const exhaust = (duty: number, place: number, behind = 0): number =>
    Math.hypot(101325 + behind * (0.3 + 0.7 * place) ** 2, (260e3 * (0.45 + 0.55 * place)) / (1 + 1.2 * (1 - duty)));
  const dutyAt = (place: number): number => 0.95 - 0.5 * place;
  const pull = (more: (place: number) => number, behind = 0) => ({
    change: {
      'manifold-pressure': rising(0.6),
      'wastegate-duty': (_: number, { t, place }: { t: number; place: number }) =>
        t < 0.8 ? 1 : Math.min(1, dutyAt(place) + more(place)),
      'exhaust-pressure': (_: number, { t, place }: { t: number; place: number }) =>
        t < 0 || t > 10 ? 105e3 : exhaust(Math.min(1, dutyAt(place) + more(place)), place, behind),
    },
  });
  const references = [pull(() => 0), pull(() => 0), pull(() => 0)];

  it('is not seen where the closed wastegate makes all of the rise', () => {
    const found = detected(exhaustRestriction, { ...pull((place) => 0.45 * place), references });
    expect(found.answer, JSON.stringify(found.features)).toBe('not seen');
  });

  it('is surely seen where pressure is held back behind the turbine', () => {
    const found = detected(exhaustRestriction, { ...pull((place) => 0.1 * place, 70e3), references });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
    expect(found.strength).toBeGreaterThanOrEqual(0.75);
  });

  it('is seen where the wastegate closes as well to make up for it, and most of the rise is its own', () => {
    const found = detected(exhaustRestriction, { ...pull((place) => 0.2 * place, 47e3), references });
    const of = (name: string): number => found.features.find((one) => one.name === name)?.value ?? Number.NaN;
    const behind = of('rise beyond what the wastegate makes') / of('exhaust.ratio-rise');
    expect(behind).toBeGreaterThan(0.24);
    expect(behind).toBeLessThan(0.33);
    expect(found.answer).toBe('seen');
  });

  it('is not seen where the wheel turns faster for the same boost: it is driven harder, not held back', () => {
    const restricted = pull((place) => 0.1 * place, 70e3);
    const driven = { ...restricted.change, 'turbo-speed': (value: number) => value * 1.03 };
    expect(detected(exhaustRestriction, { change: driven, references }).answer).toBe('not seen');
  });

  it('is not seen where air is lost at every speed, and the turbine does more for it', () => {
    const restricted = pull((place) => 0.1 * place, 70e3);
    const leaking = {
      ...restricted.change,
      'manifold-pressure': (value: number, { t }: { t: number }) => (t > 0 && t < 10 ? 0.93 * value : value),
      'boost-pressure': (value: number, { t }: { t: number }) => (t > 0 && t < 10 ? 0.93 * value : value),
      'turbo-speed': (value: number, { place }: { place: number }) => value * (place > 0 ? 1.01 : 1),
    };
    expect(detected(exhaustRestriction, { change: leaking, references }).answer).toBe('not seen');
  });

  it('is not seen beside an inlet that is blocked', () => {
    const restricted = pull((place) => 0.1 * place, 70e3);
    const blocked = { ...restricted.change, 'compressor-inlet-pressure': (value: number) => value * 0.97 };
    expect(detected(exhaustRestriction, { change: blocked, references }).answer).toBe('not seen');
  });

  it('is seen although it keeps the pressure from being reached', () => {
    const restricted = pull((place) => 0.1 * place, 70e3);
    const weak = {
      ...restricted.change,
      'manifold-pressure': (value: number, moment: { t: number }) => 0.85 * rising(0.6)(value, moment),
    };
    expect(detected(exhaustRestriction, { change: weak, references }).answer).toBe('seen');
  });
});

describe('turbo overspeed', () => {
  const spiked = (seconds: number, factor: number) => ({
    change: {
      'turbo-speed': (value: number, { t, place }: { t: number; place: number }) =>
        value * 0.9 * (t > 9 && t < 9 + seconds ? factor / (0.9 * (0.85 + 0.15 * place)) : 1),
    },
  });

  it('near the limit has to last, beyond it counts at once', () => {
    const set = { 'turbo.limit': 11_200 };
    expect(detected(turboOverspeed, spiked(0.08, 1), set).answer).toBe('not seen');
    expect(detected(turboOverspeed, spiked(0.5, 1), set).answer).toBe('seen');
    expect(detected(turboOverspeed, spiked(0.2, 1.08), set)).toMatchObject({ answer: 'seen', stopClass: 3 });
  });

  it('counts behind a gap of the log, and not in the next pull', () => {
    const set = { 'turbo.limit': 11_200 };
    const cut = (from: number, to: number): Invented => ({ ...spiked(0.2, 1.08), cut: [from, to] });
    expect(detected(turboOverspeed, cut(6, 7.2), set)).toMatchObject({ answer: 'seen', stopClass: 3 });
    expect(detected(turboOverspeed, cut(6, 8.5), set).answer).toBe('not seen');
  });
});

describe('exhaust restriction without pressure before the turbine', () => {
  const references = [{}, {}, {}];
  const without = ['exhaust-pressure'] as const;

  it('is ruled out by a wastegate that works as usual', () => {
    expect(detected(exhaustRestriction, { references, without }).answer).toBe('not seen');
  });

  it('cannot be told when the wastegate works harder', () => {
    const change = { 'wastegate-duty': (value: number) => value + 0.12 };
    const found = detected(exhaustRestriction, { change, references, without });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: ['exhaust-pressure'] });
  });
});

describe('surge', () => {
  it('says that a flutter after lift-off does not show behind the throttle', () => {
    const found = detected(surge, { without: ['boost-pressure', 'turbo-speed'] });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: ['boost-pressure'] });
  });

  it('is not looked for where there is no boost', () => {
    const change = {
      'manifold-pressure': (value: number, { t }: { t: number }) =>
        value * 0.47 * (1 + (t > 2 && t < 4 ? 0.05 * Math.sin(2 * Math.PI * 9 * t) : 0)),
    };
    expect(detected(surge, { change, without: ['boost-pressure'] }).answer).toBe('not seen');
  });

  it('shows at the wheel after lift-off', () => {
    const ripple = (value: number, { t }: { t: number }): number =>
      t < 10 ? value : 11e3 * Math.exp((10 - t) / 2) * (1 + (t < 11 ? 0.01 * Math.sin(2 * Math.PI * 8 * t) : 0));
    const found = detected(surge, { change: { 'turbo-speed': ripple }, without: ['boost-pressure'] });
    expect(found).toMatchObject({ answer: 'seen', stopClass: 0 });
  });
});
