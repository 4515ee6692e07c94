import { describe, expect, it } from 'vitest';
import { type Detector, detect } from '../../detector.ts';
import { emptyMemory } from '../../scene/memory.ts';
import type { PullScene } from '../../scene/scene.ts';
import { detected } from '../../testing/behaves.ts';
import { type Invented, inventedPull } from '../../testing/invented-pull.ts';
import { limitsWith } from '../../thresholds.ts';
import { plainModel } from '../../weighing/testing/made.ts';
import { weighWith } from '../../weighing/weigh.ts';
import { fuelPressureDrop } from '../fuel/fuel-pressure-drop.ts';
import { oilPressureLow } from '../loads/oil-pressure-low.ts';
import { laggingChannel } from './lagging-channel.ts';
import { swappedChannels } from './swapped-channels.ts';

/** What some detectors see in one pull, weighed as if each was as good as the other: causes of each occurrence. */
function causesOf(detectors: readonly Detector[], invented: Invented) {
  return causesIn(detectors, inventedPull(invented));
}

function causesIn(detectors: readonly Detector[], scene: PullScene) {
  const limits = limitsWith();
  const detections = detectors.map((detector) => detect(detector, scene, limits));
  const model = plainModel(detectors.map(({ fault }) => fault));
  return weighWith(model, { scene, detections, limits }).map(({ hypotheses }) => hypotheses.map(({ fault }) => fault));
}

describe('a channel under another one’s name is no witness', () => {
  const pressures = (oil: number, fuel: number): Invented => ({
    change: { 'oil-pressure': () => oil, 'fuel-pressure-difference': () => fuel },
  });
  const before = [pressures(520e3, 350e3), pressures(521e3, 350e3)];
  const swapped: Invented = { ...pressures(350e3, 521e3), references: before };

  it('of oil pressure that seems low: one of the two is the cause', () => {
    expect(detected(oilPressureLow, swapped).answer).toBe('seen');
    const [only, ...rest] = causesOf([swappedChannels, oilPressureLow], swapped);
    expect(rest).toEqual([]);
    expect(only).toEqual(expect.arrayContaining(['swapped-channels', 'oil-pressure-low']));
  });

  it('of nothing where no channel lies', () => {
    const low: Invented = { ...pressures(420e3, 350e3), references: before };
    expect(causesOf([swappedChannels, oilPressureLow], low)).toEqual([['oil-pressure-low']]);
    expect(detected(swappedChannels, low).lookAlikes).not.toContain('oil-pressure-low');
  });

  it('where reading the log found that a slow temperature moves like a pressure', () => {
    const found = (channel: string) =>
      detected(swappedChannels, {
        findings: [{ kind: 'swapped', weight: 'doubt', message: 'moves like a pressure', place: { channel } }],
      });
    expect(found('charge-temperature')).toMatchObject({ answer: 'seen', channel: 'charge-temperature' });
    expect(found('charge-temperature').lookAlikes).toContain('charge-heat-soak');
    expect(found('coolant-pressure').lookAlikes).toContain('head-lift');
    expect(found('coolant-pressure').lookAlikes).not.toContain('charge-heat-soak');
  });
});

describe('a channel that tells late is no witness', () => {
  const late = (meaning: string): Invented => {
    let [state, last] = [Number.NaN, Number.POSITIVE_INFINITY];
    const told = (value: number, { t }: { t: number }): number => {
      state = t < last ? value : state + (value - state) * (1 - Math.exp(-(t - last) / 0.6));
      last = t;
      return state;
    };
    return { change: { [meaning]: told }, references: [{}, {}] };
  };

  /** The same scene with the pressure in the rail in place of what it is over the manifold. */
  function withRail(scene: PullScene): PullScene {
    const manifold = (t: number): number => (t < 0 || t > 10 ? 90e3 : 200e3 - 110e3 * Math.exp(-t / 0.15));
    const tracks = scene.tracks.map((track) => {
      if (track.meaning !== 'fuel-pressure-difference') return track;
      const values = track.values.map((value, i) => value + manifold(track.times[i] - scene.from) - 101e3);
      return { ...track, ...({ meaning: 'fuel-pressure', name: 'fuel-pressure' } as const), values };
    });
    return { ...scene, tracks, references: scene.references.map(withRail), memory: emptyMemory() };
  }

  it('of fuel pressure, where the rail’s is held against a manifold’s that lags', () => {
    const detectors = [laggingChannel, fuelPressureDrop];
    const lies = withRail(inventedPull(late('manifold-pressure')));
    expect(detectors.map((detector) => detect(detector, lies, limitsWith()).answer)).toEqual(['seen', 'seen']);
    const [only, ...rest] = causesIn(detectors, lies);
    expect(rest).toEqual([]);
    expect(only).toEqual(expect.arrayContaining(['lagging-channel', 'fuel-pressure-drop']));
    expect(causesIn(detectors, withRail(inventedPull({ references: [{}, {}] })))).toEqual([]);
  });

  it('but of fuel pressure where its difference to the manifold is logged', () => {
    const logged = detected(laggingChannel, late('manifold-pressure'));
    expect(logged).toMatchObject({ answer: 'seen', channel: 'manifold-pressure' });
    expect(logged.lookAlikes).not.toContain('fuel-pressure-drop');
    expect(detected(laggingChannel, late('oil-pressure')).lookAlikes).toContain('oil-pressure-low');
  });
});
