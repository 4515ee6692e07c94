import { describe, expect, it } from 'vitest';
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
  syncLoss,
  tyreSlip,
} from '../../testing/faults.ts';
import type { Invented } from '../../testing/invented-pull.ts';
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
  below: wrongly({ 'turbo-speed': (value) => value * 0.975 }),
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

const late = (seconds: number): Invented => ({
  change: {
    'exhaust-pressure': (value, { t }) =>
      t > 10 ? value + 140e3 * (Math.exp(-Math.max(0, t - 10 - seconds) / 0.1) - Math.exp(-(t - 10) / 0.1)) : value,
  },
  references: [{}, {}],
});

behaves({
  detector: laggingChannel,
  fault: late(0.4),
  below: late(0.1),
  lookAlikes: real,
  rates: [50, 100, 1000],
});

const warmed = (kelvin: number, before = 0): Invented => ({
  change: { 'ambient-temperature': (value, { t }) => value + before + kelvin * Math.max(0, Math.min(1, t / 8)) },
});

behaves({
  detector: ambientProbe,
  fault: { ...warmed(3), references: [warmed(3), warmed(3)] },
  below: { ...warmed(1.2), references: [warmed(1.2), warmed(1.2)] },
  lookAlikes: {
    ...real,
    'a day that grows warm': { ...warmed(0, 4), references: [warmed(0, 3), warmed(0, 2), warmed(0, 1), {}] },
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
    expect(detected(clockFault, { clock: { rate: 900e-6, rateUncertainty: 50e-6 } }).answer).toBe('seen');
    expect(detected(clockFault, { clock: { rate: 900e-6, rateUncertainty: 400e-6 } }).answer).toBe('not seen');
    expect(detected(clockFault, { clock: { residual: 0.05 } }).answer).toBe('seen');
  });

  it('climb from pull to pull and come down in a pause', () => {
    const at = (kelvin: number): Invented => warmed(0, kelvin);
    const day = { ...at(2.2), references: [at(1.1), at(0), at(3), at(2), at(1), {}] };
    expect(detected(ambientProbe, day).answer).toBe('seen');
    expect(detected(ambientProbe, { ...at(3), references: [at(2), at(1), {}] }).answer).toBe('cannot tell');
  });

  it('take what reading the log found wrong at rest', () => {
    const place = { channel: 'manifold-pressure' };
    const findings = [
      { kind: 'wrong-scale', weight: 'doubt', message: 'off the barometer', place, numbers: { off: 9e3 } } as const,
    ];
    expect(detected(wrongScale, { findings })).toMatchObject({ answer: 'seen', channel: 'manifold-pressure' });
  });

  it('do not judge a swap without earlier pulls', () => {
    expect(detected(swappedChannels, {}).answer).toBe('cannot tell');
  });
});
