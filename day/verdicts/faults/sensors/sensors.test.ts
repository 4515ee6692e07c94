import { describe, expect, it } from 'vitest';
import type { Meaning } from '../../../channels/index.ts';
import { detect } from '../../detector.ts';
import { emptyMemory } from '../../scene/memory.ts';
import { behaves, detected } from '../../testing/behaves.ts';
import {
  breakup,
  creep,
  ends,
  fallsOut,
  keeps,
  limiter,
  restricted,
  soaked,
  surging,
  syncLoss,
  tyreSlip,
} from '../../testing/faults.ts';
import { type Invented, inventedPull } from '../../testing/invented-pull.ts';
import { limitsWith } from '../../thresholds.ts';
import { ambientProbe } from './ambient-probe.ts';
import { clockFault } from './clock-fault.ts';
import { dropout } from './dropout.ts';
import { laggingChannel } from './lagging-channel.ts';
import { saturatedChannel } from './saturated-channel.ts';
import { spikes } from './spikes.ts';
import { stuckChannel } from './stuck-channel.ts';
import { swappedChannels } from './swapped-channels.ts';
import { wrongScale } from './wrong-scale.ts';

const real = {
  breakup: breakup(),
  'tyre slip': tyreSlip(),
  'a limiter': limiter(),
  creep: creep(),
  'heat soak': soaked(),
};

behaves({
  detector: stuckChannel,
  fault: keeps('lambda', 3, 8),
  below: keeps('lambda', 3, 3.8),
  lookAlikes: {
    ...real,
    'a command that rests': { change: { 'ignition-timing': () => 0.3, dwell: () => 3e-3 } },
    'a temperature that is written in whole kelvin': { change: { 'oil-temperature': (value) => Math.round(value) } },
    'the end of a scale': ends('exhaust-pressure', 180e3),
  },
  rates: [10, 20, 50, 100, 1000],
  span: [3, 8],
});

behaves({
  detector: saturatedChannel,
  fault: ends('exhaust-pressure', 190e3),
  below: ends('exhaust-pressure', 260e3),
  lookAlikes: {
    ...real,
    'a stuck channel': keeps('exhaust-pressure', 4, 12),
    'a boost plateau that is truly constant': {
      change: { 'manifold-pressure': (value, { t }) => (t > 1 && t < 10 ? 200e3 : value) },
    },
  },
  rates: [10, 20, 50, 100, 1000],
});

behaves({
  detector: dropout,
  fault: fallsOut('oil-pressure', 5, 5.4),
  below: {},
  lookAlikes: {
    ...real,
    'lost sync': syncLoss(),
    'a gauge pressure that rightly is near zero': { change: { 'crankcase-pressure': (value) => value - 2000 } },
    'a loss that stays': { change: { 'oil-pressure': (value, { t }) => (t > 5 ? 0 : value) } },
  },
  rates: [20, 100, 1000],
  span: [5, 5.5],
});

const spike: Invented = {
  change: { 'coolant-temperature': (value, { t }) => (Math.abs(t - 5) < 0.04 ? value + 40 : value) },
  masked: { 'coolant-temperature': ({ t }) => (Math.abs(t - 5) < 0.04 ? 'spike' : 'measured') },
};

behaves({
  detector: spikes,
  fault: spike,
  below: {},
  lookAlikes: { ...real, 'lost sync': syncLoss() },
  rates: [100, 1000],
  span: [4.9, 5.2],
});

behaves({
  detector: clockFault,
  fault: { gap: [5, 5.7] },
  below: { clock: { rate: 480e-6, residual: 0.02 } },
  lookAlikes: { ...real, 'lost sync': syncLoss() },
  span: [4.9, 6],
});

const wrongly = (change: Invented['change'] = {}): Invented => ({ change, references: [{}, {}] });

behaves({
  detector: wrongScale,
  fault: wrongly({ 'turbo-speed': (value) => (value * 6) / 7 }),
  below: wrongly({ 'turbo-speed': (value) => value * 0.979 }),
  lookAlikes: {
    ...real,
    'a restricted exhaust': restricted(),
    'a slower wheel': wrongly({ 'turbo-speed': (value, { full }) => value * (full ? 0.9333 : 1) }),
  },
  rates: [20, 100],
});

behaves({
  detector: swappedChannels,
  fault: {
    change: { 'coolant-temperature': () => 375, 'oil-temperature': () => 360 },
    references: [{}, {}],
  },
  below: { change: { 'coolant-temperature': () => 366, 'oil-temperature': () => 369 }, references: [{}, {}] },
  lookAlikes: { ...real, 'hot oil': { change: { 'oil-temperature': (value) => value + 15 }, references: [{}] } },
  rates: [20, 100],
});

/** A first-order lag over what a sensor reads, its noise included. */
function lagging(meaning: string, seconds: number): Invented {
  let [state, last] = [Number.NaN, Number.POSITIVE_INFINITY];
  return {
    change: {
      [meaning]: (value, { t }) => {
        state = t < last ? value : state + (value - state) * (1 - Math.exp(-(t - last) / seconds));
        last = t;
        return state;
      },
    },
    references: [{}, {}],
  };
}

/** The engine itself is slow: all its pressures build up later, and are as noisy as ever. */
const SLOW: Invented = {
  change: Object.fromEntries(
    ['manifold-pressure', 'boost-pressure', 'exhaust-pressure', 'turbo-speed'].map((meaning) => [
      meaning,
      (value: number, { t }: { t: number }) => value * (t > 0 && t < 10 ? 1 - 0.45 * Math.exp(-t / 0.8) : 1),
    ]),
  ),
  references: [{}, {}],
};

behaves({
  detector: laggingChannel,
  fault: lagging('exhaust-pressure', 0.5),
  below: lagging('exhaust-pressure', 0.15),
  lookAlikes: {
    ...real,
    'an engine that is slow itself': SLOW,
    'a pressure that is filtered a little more': lagging('manifold-pressure', 0.05),
  },
  rates: [10, 50, 100, 1000],
});

const warmed = (kelvin: number, before = 0): Invented => ({
  change: { 'ambient-temperature': (value, { t }) => value + before + kelvin * Math.max(0, Math.min(1, t / 8)) },
});

/** Air that is warmer in truth is drawn in warmer. */
const warmDay = (kelvin: number): Invented => ({
  change: { ...warmed(0, kelvin).change, 'charge-temperature': (value) => value + kelvin },
});

behaves({
  detector: ambientProbe,
  fault: { ...warmed(3), references: [warmed(3), warmed(3)] },
  below: { ...warmed(1.2), references: [warmed(1.2), warmed(1.2)] },
  lookAlikes: {
    ...real,
    'a day that grows warm': { ...warmDay(4), references: [warmDay(3), warmDay(2), warmDay(1), {}] },
  },
  rates: [10, 100],
});

describe('channel faults', () => {
  it('name the channel and what they void', () => {
    const found = detected(stuckChannel, keeps('lambda', 3, 8));
    expect(found).toMatchObject({ channel: 'lambda', voids: 'channel', stopClass: 2 });
  });

  it('void power where power is made of the channel', () => {
    expect(detected(stuckChannel, keeps('engine-speed', 3, 6))).toMatchObject({
      channel: 'engine-speed',
      voids: 'power',
    });
  });

  it('see clocks that run too far apart, and logs that do not lie on one another', () => {
    expect(detected(clockFault, { clock: { rate: 9e-3, rateUncertainty: 500e-6 } }).answer).toBe('seen');
    expect(detected(clockFault, { clock: { rate: 9e-3, rateUncertainty: 1500e-6 } }).answer).toBe('not seen');
    expect(detected(clockFault, { clock: { residual: 0.05 } }).answer).toBe('seen');
  });

  it('do not take for a clock what the growth of a tyre does to the fit of the speeds', () => {
    expect(detected(clockFault, { clock: { rate: -2900e-6, rateUncertainty: 300e-6 } }).answer).toBe('not seen');
  });

  it('see a channel of unknown meaning fall out when it has noise of its own, and not when it is a command', () => {
    const answer = (meaning: string): string => {
      const scene = inventedPull(fallsOut(meaning, 5, 5.4));
      const tracks = scene.tracks.map((track) =>
        track.meaning === meaning ? { ...track, meaning: 'unknown' as const } : track,
      );
      return detect(dropout, { ...scene, tracks, memory: emptyMemory() }, limitsWith({})).answer;
    };
    expect(answer('boost-pressure')).toBe('seen');
    expect(answer('ignition-timing')).toBe('not seen');
  });

  it('do not call a short dip to a value that still moves a dropout', () => {
    const dip: Invented = {
      change: { 'oil-pressure': (value, { t }) => (t > 5 && t < 5.15 ? 0.6 * value : value) },
      masked: { 'oil-pressure': ({ t }) => (t > 5 && t < 5.15 ? 'dropout' : 'measured') },
    };
    expect(detected(dropout, dip).answer).toBe('not seen');
  });

  it('do not take a brake that is hardly used, whose noise passes through zero, for one that is gone', () => {
    const idle: Invented = { change: { 'brake-force': (value, { t }) => 0.002 * value + 12 * Math.sin(97 * t) } };
    expect(detected(dropout, idle).answer).toBe('not seen');
  });

  it('see a channel that is gone for most of a pull and comes back in between, and call it neither stuck nor spiky', () => {
    const loose: Invented = {
      change: {
        'oil-pressure': (value, { t }) => (t > 1 && t < 9 && t % 2 < 1.7 && Math.abs(t - 4.9) > 0.03 ? 0 : value),
      },
      masked: { 'oil-pressure': ({ t }) => (Math.abs(t - 4.9) < 0.03 ? 'spike' : 'measured') },
    };
    const short: Invented = {
      ...loose,
      change: { 'oil-pressure': (value, { t }) => (t > 1 && t < 9 && t % 2 < (t > 6 ? 1 : 1.7) ? 0 : value) },
    };
    expect(detected(dropout, short)).toMatchObject({ answer: 'seen', channel: 'oil-pressure' });
    expect(detected(stuckChannel, short).answer).toBe('not seen');
    expect(detected(dropout, loose).answer).toBe('seen');
    expect(detected(spikes, loose).answer).toBe('not seen');
  });

  it('do not call one lean reading of lambda a spike that a few failed firings leave', () => {
    const lone = (beyond: number): Invented => ({
      change: { lambda: (value, { t }) => value + (Math.abs(t - 6) < 0.006 ? beyond : 0) },
      masked: { lambda: ({ t }) => (Math.abs(t - 6) < 0.006 ? 'spike' : 'measured') },
    });
    expect(detected(spikes, lone(0.1)).answer).toBe('not seen');
    expect(detected(spikes, lone(-0.1))).toMatchObject({ answer: 'seen', channel: 'lambda' });
    expect(detected(spikes, lone(0.3))).toMatchObject({ answer: 'seen', channel: 'lambda' });
  });

  it('do not call the speed of a lost trigger a spike, but one beside a counter that rests', () => {
    const jump = (t: number): boolean => t > 6.3 && t < 6.315;
    const lone: Invented = {
      change: { 'engine-speed': (value, { t }) => (jump(t) ? 2 * value : value) },
      masked: { 'engine-speed': ({ t }) => (jump(t) ? 'spike' : 'measured') },
    };
    const lost: Invented = {
      ...lone,
      change: { ...lone.change, 'sync-errors': (value, { t }) => value + (t > 6.3 ? 1 : 0) },
    };
    expect(detected(spikes, lone)).toMatchObject({ answer: 'seen', channel: 'engine-speed' });
    expect(detected(spikes, lost).answer).toBe('not seen');
  });

  it('do not call a reading of a surging charge a spike, but one of a charge that rests', () => {
    const jump = (t: number): boolean => t > 3 && t < 3.015;
    const lone: Invented = {
      change: { 'manifold-pressure': (value, { t }) => (jump(t) ? 1.3 * value : value) },
      masked: { 'manifold-pressure': ({ t }) => (jump(t) ? 'spike' : 'measured') },
    };
    const swing = surging().change?.['manifold-pressure'];
    const both: Invented = {
      ...lone,
      change: {
        'manifold-pressure': (value, moment) => (jump(moment.t) ? 1.3 : 1) * (swing?.(value, moment) ?? value),
      },
    };
    expect(detected(spikes, lone)).toMatchObject({ answer: 'seen', channel: 'manifold-pressure' });
    expect(detected(spikes, both).answer).toBe('not seen');
  });

  it('see a lag of oil pressure, which has no step at all, and of a throttle that is noiseless', () => {
    const oil = detected(laggingChannel, lagging('oil-pressure', 1));
    expect(oil).toMatchObject({ answer: 'seen', channel: 'oil-pressure' });
    expect(oil.strength).toBeGreaterThan(0.8);
    expect(detected(laggingChannel, lagging('throttle', 1))).toMatchObject({ answer: 'seen', channel: 'throttle' });
  });

  it('call a channel that is slower and as noisy as ever a lag with less certainty', () => {
    const hose: Invented = {
      change: {
        'exhaust-pressure': (value, { t }) => {
          const rise = (at: number): number =>
            at <= 0 ? 0 : at > 10 ? Math.exp(-(at - 10) / 0.1) : 1 - Math.exp(-at / 0.15);
          return value + 110e3 * (rise(t - 0.4) - rise(t));
        },
      },
      references: [{}, {}],
    };
    const found = detected(laggingChannel, hose);
    expect(found.answer).toBe('seen');
    expect(found.strength).toBeLessThan(0.7);
  });

  it('let a coarse and filtered pressure rest at its level', () => {
    const coarse: Invented = {
      change: { 'manifold-pressure': (_, { t }) => 2e3 * Math.round((45e3 + 50e3 * (1 - Math.exp(-t / 2))) / 1e3) },
    };
    expect(detected(stuckChannel, coarse).answer).toBe('not seen');
    expect(detected(dropout, coarse).answer).toBe('not seen');
  });

  it('let a boost that is written in coarse steps rest in the middle of one, and not a fine one', () => {
    const coarse = (step: number): Invented => ({
      change: { 'manifold-pressure': (value) => step * Math.round(value / step) },
    });
    // Near the edge between two steps its noise flips it now and then; a quarter of a step further it rests.
    const rests = (step: number): Invented => ({
      ...{ rate: 50, references: [coarse(step), coarse(step)] },
      change: {
        'manifold-pressure': (value, { t }) => {
          const level = t > 4 && t < 6.5 ? 186e3 : 186.5e3;
          const known = t < 1 || t > 10 ? value : level + 0.4 * (value - 200e3);
          return step * Math.round(known / step);
        },
      },
    });
    expect(detected(stuckChannel, rests(2e3)).answer).toBe('not seen');
    // In other pulls it was written finely: what rests so long in one step is stuck.
    expect(detected(stuckChannel, { ...rests(2e3), references: [{}, {}] }).answer).toBe('seen');
    const toTheEnd: Invented = {
      ...{ rate: 50, references: [coarse(2e3), coarse(2e3)] },
      change: {
        'manifold-pressure': (value, { t }) => {
          const known = t < 1 || t > 10 ? value : (t > 5 ? 198e3 : 198.5e3) + 0.4 * (value - 200e3);
          return 2e3 * Math.round(known / 2e3);
        },
      },
    };
    expect(detected(stuckChannel, toTheEnd).answer).toBe('not seen');
    const finely: Invented = {
      ...{ rate: 50, references: [{}, {}] },
      change: { 'manifold-pressure': (value, { t }) => (t > 4 && t < 6.5 ? 200e3 : value) },
    };
    expect(detected(stuckChannel, finely).answer).toBe('seen');
  });

  it('tell the end of a scale that is left late and fast from a value that lets go with a jump', () => {
    const ends = (after: (s: number) => number): Invented => ({
      ...{ references: [{}, {}] },
      change: {
        'boost-pressure': (value, { t }) =>
          Math.min(196e3, t > 10.6 ? after(t - 10.6) : t > 0.5 ? 205e3 : Math.min(value, 190e3)),
      },
    });
    const leaks = ends((s) => 98e3 + 100e3 * Math.exp(-s / 0.1));
    expect(detected(saturatedChannel, leaks)).toMatchObject({ answer: 'seen', channel: 'boost-pressure' });
    expect(detected(stuckChannel, leaks).answer).toBe('not seen');
    const letsGo = ends((s) => 110e3 - 100 * s);
    expect(detected(stuckChannel, letsGo)).toMatchObject({ answer: 'seen', channel: 'boost-pressure' });
  });

  it('hold an overshoot that a wrong scale makes against the scale', () => {
    const scaled: Invented = { change: { 'manifold-pressure': (value) => value * 1.06 }, references: [{}, {}, {}] };
    const found = detected(wrongScale, scaled);
    expect(found).toMatchObject({ answer: 'seen', channel: 'manifold-pressure' });
    expect(found.lookAlikes).toContain('boost-overshoot');
    const turbo: Invented = { change: { 'turbo-speed': (value) => value * 1.5 }, references: [{}, {}, {}] };
    expect(detected(wrongScale, turbo).lookAlikes).not.toContain('boost-overshoot');
  });

  it('call one second at ten values a second stuck', () => {
    const keep: Invented = {
      ...{ rates: { 'fuel-pressure-difference': 10 }, references: [{}, {}] },
      change: { 'fuel-pressure-difference': (value, { t }) => (t > 3.95 && t < 4.95 ? 349_100 : value) },
    };
    expect(detected(stuckChannel, keep)).toMatchObject({ answer: 'seen', channel: 'fuel-pressure-difference' });
  });

  it('call a value stuck that is left with a jump such as the channel never makes, though it has rested before', () => {
    const restless = (t: number): number => Math.round((310 + 2 * t + 0.3 * Math.sin(40 * t)) * 10) / 10;
    const keeps = (lost: number): Invented => ({
      rates: { 'charge-temperature': 10 },
      change: {
        'charge-temperature': (_, { t }) =>
          t > 0.95 && t < 1.55 ? 312 : t > 3.95 && t < 5.15 ? 318 : restless(t > 5 ? t - lost : t),
      },
    });
    expect(detected(stuckChannel, keeps(0))).toMatchObject({ answer: 'seen', channel: 'charge-temperature' });
    expect(detected(stuckChannel, keeps(1.2)).answer).toBe('not seen');
  });

  it('leave lambda at the rich end of its sensor to the mixture', () => {
    const rich: Invented = { change: { lambda: (value, { t }) => Math.max(0.65, t > 4 && t < 9 ? 0.6 : value) } };
    expect(detected(saturatedChannel, rich).answer).toBe('not seen');
  });

  it('leave lambda in air to the mixture where an engine burns lean by itself, and see its rich end', () => {
    const ends = (change: (value: number, t: number) => number): Invented => ({
      engine: { ignition: 'compression', strokesPerCycle: 4 },
      change: { lambda: (value, { t }) => change(value + 0.6, t) },
    });
    const air = ends((value, t) => Math.min(1.6, t > 3 && t < 9 ? value + 1 : value));
    expect(detected(saturatedChannel, air).answer).toBe('not seen');
    const rich = ends((value) => Math.max(1.425, value));
    expect(detected(saturatedChannel, rich)).toMatchObject({ answer: 'seen', channel: 'lambda' });
  });

  it('see the end of a scale on its target where earlier pulls show that no controller keeps a pressure so still', () => {
    const flat: Invented = { change: { 'boost-pressure': (value) => Math.min(201e3, value) } };
    expect(detected(saturatedChannel, flat).answer).toBe('not seen');
    expect(detected(saturatedChannel, { ...flat, references: [{}] }).answer).toBe('seen');
    expect(detected(saturatedChannel, { ...flat, references: [flat] }).answer).toBe('not seen');
  });

  it('see spikes on a temperature that is written in coarse steps', () => {
    const at = (t: number): boolean => [2.5, 4.5, 6.5, 8.5].some((moment) => Math.abs(t - moment) < 0.04);
    const coarse: Invented = {
      change: { 'coolant-temperature': (value, { t }) => 0.5 * Math.round(2 * value) + (at(t) ? 110 : 0) },
      masked: { 'coolant-temperature': ({ t }) => (at(t) && t < 8 ? 'spike' : 'measured') },
    };
    expect(detected(spikes, coarse)).toMatchObject({ answer: 'seen', channel: 'coolant-temperature' });
  });

  it('see two temperatures change places that are near each other but steady, and fuel and oil pressure', () => {
    const level = (coolant: number, oil: number): Invented => ({
      change: { 'coolant-temperature': () => coolant, 'oil-temperature': () => oil },
    });
    const day = [level(361.5, 366.5), level(361, 366), level(360.5, 365.5)];
    expect(detected(swappedChannels, { ...level(367, 362), references: day }).answer).toBe('seen');
    const warming = [level(361.5, 366.5), level(358, 362), level(354, 358)];
    expect(detected(swappedChannels, { ...level(367, 362), references: warming }).answer).toBe('not seen');
    expect(detected(swappedChannels, { ...level(374.5, 361), references: [level(361, 371)] }).answer).toBe('seen');
    expect(detected(swappedChannels, { ...level(364, 374), references: [level(355, 346)] }).answer).toBe('not seen');
    expect(detected(swappedChannels, { ...level(367.5, 361), references: [level(361, 367.5)] }).answer).toBe('seen');
    expect(detected(swappedChannels, { ...level(366, 361), references: [level(361, 366)] }).answer).toBe('not seen');
    const pressures = (oil: number, fuel: number): Invented => ({
      change: { 'oil-pressure': () => oil, 'fuel-pressure-difference': () => fuel },
    });
    const before = [pressures(280e3, 400e3), pressures(282e3, 400e3)];
    expect(detected(swappedChannels, { ...pressures(401e3, 281e3), references: before }).answer).toBe('seen');
  });

  it('see a throttle that lags by its own steps where the foot moved at another engine speed', () => {
    const foot = (opens: number, lag: number): Invented => {
      let [state, last] = [Number.NaN, Number.POSITIVE_INFINITY];
      return {
        change: {
          throttle: (_, { t }) => {
            const now = t > opens && t < 10 ? 1 : 0.2;
            state = t < last || lag === 0 ? now : state + (now - state) * (1 - Math.exp(-(t - last) / lag));
            last = t;
            return state;
          },
        },
      };
    };
    const references = [foot(-1.2, 0), foot(-1.2, 0), foot(-1.2, 0)];
    expect(detected(laggingChannel, { ...foot(0, 0.5), references })).toMatchObject({
      answer: 'seen',
      channel: 'throttle',
    });
    expect(detected(laggingChannel, { ...foot(0, 0), references }).answer).toBe('not seen');
  });

  it('see an oil gauge that ends below the relief valve, and is left long after the load with its own noise', () => {
    const oil = (value: number, { t }: { readonly t: number }): number =>
      Math.min(430e3, t > 10 ? 515e3 - 42e3 * (t - 10) + 9e3 * Math.sin(40 * t) : value);
    const ends: Invented = { change: { 'oil-pressure': oil }, references: [{}, {}] };
    expect(detected(saturatedChannel, ends)).toMatchObject({ answer: 'seen', channel: 'oil-pressure' });
    expect(detected(stuckChannel, ends).answer).toBe('not seen');
  });

  it('cannot tell an end of scale from a stuck value where one value stands through the whole log', () => {
    const constant: Invented = { change: { 'exhaust-pressure': () => 83e3 }, references: [{}, {}] };
    expect(detected(stuckChannel, constant)).toMatchObject({ answer: 'seen' });
    expect(detected(saturatedChannel, constant)).toMatchObject({
      answer: 'cannot tell',
      missing: ['exhaust-pressure'],
    });
  });

  it('see no end of scale where the air itself rests in coarse steps, as without boost', () => {
    const held = (level: number, step: number): Invented => ({
      without: ['manifold-target'],
      change: {
        'manifold-pressure': (value, { t, full }) =>
          step * Math.round((full ? Math.min(level, value) : 60e3 + 20e3 * Math.sin(5 * t)) / step),
      },
    });
    expect(detected(saturatedChannel, held(100e3, 2000)).answer).toBe('not seen');
    expect(detected(saturatedChannel, held(180e3, 2000)).answer).toBe('seen');
  });

  it('see no stuck value where a quick temperature has changed places with a heavy one', () => {
    // Both in half kelvins; the heavy one rests for seconds, the quick one never did.
    const places = (quick: Meaning, heavy: Meaning): Invented => ({
      change: {
        [quick]: (_: number, { t }: { readonly t: number }) => 310 + Math.round(4 * Math.sin(3 * t)) / 2,
        [heavy]: (_: number, { t }: { readonly t: number }) => (t > 7 ? 361 : 360.5),
      },
    });
    const [usual, swap] = [
      places('charge-temperature', 'coolant-temperature'),
      places('coolant-temperature', 'charge-temperature'),
    ];
    const swapped: Invented = { ...swap, references: [usual, usual] };
    expect(detected(swappedChannels, swapped).answer).toBe('seen');
    expect(detected(stuckChannel, swapped).answer).toBe('not seen');
    const rests: Invented = {
      change: { ...usual.change, 'charge-temperature': () => 361 },
      references: [usual, usual],
    };
    expect(detected(stuckChannel, rests).answer).toBe('seen');
  });

  it('see pressures change places that are alike under load by what they are before it', () => {
    const closed: Invented = { change: { 'manifold-pressure': (value, { t }) => (t < 0 ? value - 40e3 : value) } };
    const swap: Invented = {
      change: {
        'manifold-pressure': (value) => value + 5e3,
        'boost-pressure': (value, { t }) => (t < 0 ? value - 45e3 : value - 5e3),
      },
    };
    const found = detected(swappedChannels, { ...swap, references: [closed, closed] });
    expect(found.answer).toBe('seen');
    expect(found.lookAlikes).toContain('boost-overshoot');
    expect(detected(swappedChannels, { ...closed, references: [closed, closed] }).answer).toBe('not seen');
    expect(detected(swappedChannels, { ...closed, references: [{}, {}] }).answer).toBe('not seen');
  });

  it('see two pressures of one level that have changed places by how they run over the engine speeds', () => {
    // Oil pressure runs from 320 to 414 kPa, fuel keeps 345 kPa: neither state alone is 15 % apart.
    const [fuel, oil] = [345e3, (speed: number): number => 320e3 + 200 * (speed - 220)];
    const moved = (atFuel: (speed: number) => number, atOil: (speed: number) => number): Invented['change'] => ({
      'fuel-pressure-difference': (value, { speed }) => value - 350e3 + atFuel(speed),
      'oil-pressure': (value, { speed }) => value - (170e3 + 500 * speed) + atOil(speed),
    });
    const usual: Invented = { change: moved(() => fuel, oil) ?? {} };
    const references = [usual, usual];
    expect(detected(swappedChannels, { change: moved(oil, () => fuel) ?? {}, references }).answer).toBe('seen');
    const sinks =
      moved(
        () => fuel,
        (speed) => 0.93 * oil(speed),
      ) ?? {};
    expect(detected(swappedChannels, { change: sinks, references }).answer).toBe('not seen');
  });

  it('show a probe that climbs from pull to pull by what the charge does not do with it', () => {
    const at = (kelvin: number): Invented => warmed(0, kelvin);
    const day = { ...at(3), references: [at(2), at(1), {}] };
    expect(detected(ambientProbe, day)).toMatchObject({ answer: 'seen', stopClass: 0, voids: 'channel' });
    const alone = { ...day, without: ['charge-temperature'] as const };
    expect(detected(ambientProbe, alone)).toMatchObject({ answer: 'cannot tell', missing: ['charge-temperature'] });
  });

  it('show a probe that rises within the first pull already', () => {
    expect(detected(ambientProbe, warmed(3)).answer).toBe('seen');
  });

  it('leave the probe alone where the charge is soaked with heat', () => {
    const hot: Invented = {
      change: { ...warmed(0, 1.8).change, 'charge-temperature': (value) => value + 9 },
      references: [{}, {}],
    };
    expect(detected(ambientProbe, hot).answer).toBe('not seen');
  });

  it('see no end of scale in a temperature that is written in steps of 5 K', () => {
    const coarse = (kelvin: number) => (value: number) => 5 * Math.round((value + kelvin) / 5);
    const steps: Invented = {
      change: { 'coolant-temperature': (value, { t }) => coarse(t > 1 && t < 9.9 ? 5 : 2.5)(value) },
      references: [{ change: { 'coolant-temperature': (value) => coarse(2.5)(value) } }],
    };
    expect(detected(saturatedChannel, steps).answer).toBe('not seen');
  });

  it('take what reading the log found wrong at rest', () => {
    const place = { channel: 'manifold-pressure' };
    const findings = [
      { kind: 'wrong-scale', weight: 'doubt', message: 'off the barometer', place, numbers: { off: 9e3 } } as const,
    ];
    expect(detected(wrongScale, { findings })).toMatchObject({ answer: 'seen', channel: 'manifold-pressure' });
  });

  it('see an oil gauge that reads too much in every state, and leave too little to the oil or a second gauge', () => {
    const gauge = (factor: number, kelvin = 0): Invented => ({
      ...wrongly({
        'oil-pressure': (value) => value * factor,
        'oil-temperature': (value) => value + kelvin,
      }),
    });
    expect(detected(wrongScale, gauge(1.06))).toMatchObject({ answer: 'seen', channel: 'oil-pressure' });
    expect(detected(wrongScale, gauge(0.94))).toMatchObject({ answer: 'cannot tell', missing: ['oil-pressure'] });
    expect(detected(wrongScale, gauge(1.06, -5)).answer).toBe('not seen');
    expect(detected(wrongScale, { ...gauge(1.06), without: ['oil-temperature'] }).answer).toBe('not seen');
  });

  it('see a manifold pressure that is off its target as its target was never missed, whatever the targets', () => {
    const asked = (pressure: number, reads: number): Invented['change'] => ({
      'manifold-target': (value, { full }) => (full ? pressure : value),
      'manifold-pressure': (value, { full }) => reads * (full ? (value * pressure) / 200e3 : value),
    });
    const other = (pressure: number): Invented => ({ change: asked(pressure, 1) ?? {} });
    const off = { change: asked(200e3, 0.94) ?? {}, references: [other(215e3), other(190e3), other(200e3)] };
    expect(detected(wrongScale, off)).toMatchObject({ answer: 'seen', channel: 'manifold-pressure' });
    expect(detected(wrongScale, { ...off, change: asked(188e3, 1) ?? {} }).answer).toBe('not seen');
  });

  it('ask for less against one earlier pull where a control holds the pressure at a target', () => {
    const low: Invented = { change: { 'manifold-pressure': (value) => 0.964 * value }, references: [{}] };
    expect(detected(wrongScale, low)).toMatchObject({ answer: 'seen', channel: 'manifold-pressure' });
    expect(detected(wrongScale, { ...low, without: ['manifold-target', 'boost-pressure'] }).answer).toBe('not seen');
  });

  it('compare a scale at the speeds that all pulls have', () => {
    const short: Invented = { masked: { 'exhaust-pressure': ({ place }) => (place > 0.4 ? 'dropout' : 'measured') } };
    const off: Invented = { change: { 'exhaust-pressure': (value) => value * 1.06 }, references: [short, short] };
    expect(detected(wrongScale, off)).toMatchObject({ answer: 'seen', channel: 'exhaust-pressure' });
  });

  it('do not call a channel wrongly scaled that keeps one value', () => {
    const even: Invented = { change: { lambda: (value, { full }) => (full ? value : value - 0.18) } };
    const reads = (change: Invented['change']): Invented => ({
      ...(change ? { change } : {}),
      references: [even, even],
    });
    expect(
      detected(wrongScale, reads({ lambda: (value, { full }) => 1.05 * (full ? value : value - 0.18) })),
    ).toMatchObject({ answer: 'seen', channel: 'lambda' });
    expect(detected(wrongScale, reads({ lambda: () => 0.86 })).answer).toBe('not seen');
  });

  it('leave oil gauges alone where much hotter oil makes the rule for it unsure', () => {
    const oil = (factor: number, kelvin: number): Invented => ({
      change: {
        'oil-pressure': (value) => value * factor,
        'oil-temperature': (value) => value + kelvin,
      },
      references: [{}, {}],
    });
    // 13 K lower the pressure by 13 … 20 %; the rule says 16 %.
    expect(detected(wrongScale, oil(0.87, 13)).answer).toBe('not seen');
    expect(detected(wrongScale, oil(1.06, 0)).answer).toBe('seen');
  });

  it('see nothing stuck in a lambda sensor that rests at its end while the mixture is beyond it', () => {
    const rests = (end: number): Invented => ({
      change: { lambda: (value, { t }) => (t > 5 && t < 6.5 ? end : value) },
    });
    expect(detected(stuckChannel, rests(0.5)).answer).toBe('not seen');
    expect(detected(stuckChannel, rests(0.8)).answer).toBe('seen');
  });

  it('see an air meter that is off, not air that a warmer charge makes thinner', () => {
    const flow = (factor: number, kelvin: number): Invented => ({
      change: {
        'air-flow': (value) => value * factor,
        'charge-temperature': (value) => value + kelvin,
      },
      references: [{}, {}],
    });
    expect(detected(wrongScale, flow(0.95, 0))).toMatchObject({ answer: 'seen', channel: 'air-flow' });
    // 16 K more at about 316 K: 316/332 = 0.952.
    expect(detected(wrongScale, flow(0.952, 16)).answer).toBe('not seen');
    // More pressure behind the engine leaves less room for air.
    const choked: Invented = {
      ...flow(0.97, 0),
      change: { ...flow(0.97, 0).change, 'exhaust-pressure': (value, { full }) => value * (full ? 1.15 : 1) },
    };
    expect(detected(wrongScale, flow(0.97, 0)).answer).toBe('seen');
    expect(detected(wrongScale, choked).answer).toBe('not seen');
  });

  it('see a scale that is far off against one earlier pull, and a little off only against several', () => {
    const off = (factor: number): Invented => ({ change: { 'exhaust-pressure': (value) => value * factor } });
    expect(detected(wrongScale, { ...off(1.06), references: [{}] }).answer).toBe('seen');
    expect(detected(wrongScale, { ...off(1.03), references: [{}] }).answer).toBe('not seen');
    expect(detected(wrongScale, { ...off(1.03), references: [{}, {}] }).answer).toBe('seen');
  });

  it('do not call manifold pressure wrong where the pressure before the throttle is stuck', () => {
    const low: Invented = { change: { 'boost-pressure': (value, { t }) => (t > 0.5 && t < 9 ? 150e3 : value) } };
    expect(detected(wrongScale, low).answer).toBe('not seen');
  });

  it('do not judge a swap without earlier pulls', () => {
    expect(detected(swappedChannels, {}).answer).toBe('cannot tell');
  });
});
