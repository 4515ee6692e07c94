import { describe, expect, it } from 'vitest';
import { detect } from '../../detector.ts';
import type { PullScene } from '../../scene/scene.ts';
import { behaves, detected } from '../../testing/behaves.ts';
import { breakup, limiter, shortDwell, starvedCoils, syncLoss } from '../../testing/faults.ts';
import { type Invented, inventedPull } from '../../testing/invented-pull.ts';
import { limitsWith } from '../../thresholds.ts';
import { sparkEnergy } from './spark-energy.ts';

behaves({
  detector: sparkEnergy,
  fault: starvedCoils(),
  below: starvedCoils(0.48),
  lookAlikes: { 'breakup at a steady voltage': breakup(), 'lost sync': syncLoss(), 'a limiter': limiter() },
  span: [4, 10],
});

describe('spark-energy', () => {
  it('speaks of a short dwell as well', () => {
    const found = detected(sparkEnergy, shortDwell());
    expect(found.answer).toBe('seen');
    expect(found.features.find(({ name }) => name === 'spark-energy.less')?.value).toBeGreaterThan(0.4);
  });

  it('is silent on a dwell that earlier pulls had as well', () => {
    const dwell = shortDwell().change ?? {};
    const found = detected(sparkEnergy, { ...shortDwell(), references: [{ change: { dwell: dwell['dwell'] } }] });
    expect(found, JSON.stringify(found.features)).toMatchObject({ answer: 'cannot tell', missing: ['coil-current'] });
  });

  it('is silent on a sag that every pull of the day has', () => {
    const sag = starvedCoils(0.85, 0).change ?? {};
    const found = detected(sparkEnergy, { change: sag, references: [{ change: sag }, { change: sag }] });
    expect(found.answer, JSON.stringify(found.features)).toBe('not seen');
  });

  it('compares what was logged at the end of the pull, wherever it misfired', () => {
    const steady = { change: { 'battery-voltage': (value: number) => value } };
    const late = {
      ...breakup(),
      change: {
        ...breakup().change,
        'battery-voltage': (value: number, { t }: { t: number }) => value - (t > 8.7 && t < 10 ? 1 : 0),
      },
    };
    const found = detected(sparkEnergy, { ...late, references: [steady, steady] });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
  });

  it('says a failing supply with less certainty when nothing misfires', () => {
    const found = detected(sparkEnergy, starvedCoils(1.6, 0));
    expect(found.answer).toBe('seen');
    expect(found.strength).toBeLessThan(detected(sparkEnergy, starvedCoils(1.6)).strength);
  });

  it('is surer where earlier pulls did not sag', () => {
    const sag: Invented = { change: starvedCoils(0.8, 0).change ?? {} };
    const alone = detected(sparkEnergy, { change: starvedCoils(1, 0).change ?? {} });
    const beside = detected(sparkEnergy, { ...sag, references: [{}, {}] });
    expect(beside).toMatchObject({ answer: 'seen', stopClass: 2 });
    expect(beside.strength).toBeGreaterThanOrEqual(0.6);
    expect(alone.strength).toBeLessThan(0.6);
  });

  it('holds where coils take too little current and no voltage says why', () => {
    const without = ['battery-voltage', 'dwell'] as const;
    const current = (invented: Invented): PullScene => {
      const scene = inventedPull(invented);
      const [dwell] = scene.tracks.filter(({ meaning }) => meaning === 'dwell');
      const weak = faults.includes(invented);
      const values = dwell.values.map(
        (_, i) => 8 - (weak && dwell.times[i] > scene.from + 4 && dwell.times[i] < scene.to ? 2 : 0),
      );
      const coil = {
        ...dwell,
        meaning: 'coil-current' as const,
        kind: 'current' as const,
        name: 'coil',
        values,
        raw: values,
      };
      return {
        ...scene,
        tracks: [...scene.tracks.filter(({ meaning }) => !without.some((one) => one === meaning)), coil],
      };
    };
    const faults: readonly Invented[] = [{ change: breakup().change ?? {} }, {}];
    for (const fault of faults) {
      const scene = { ...current(fault), references: [current({ change: {} }), current({ change: {} })] };
      expect(detect(sparkEnergy, scene, limitsWith())).toMatchObject({ answer: 'seen', stopClass: 2 });
    }
  });

  it('is hardly believed where the voltage falls by much and nothing misfires', () => {
    const falls = (volts: number): Invented => ({
      without: ['dwell', 'coil-current'],
      change: { 'battery-voltage': (value, { place }) => value - volts * Math.max(0, place) },
      references: [{ without: ['dwell', 'coil-current'] }, { without: ['dwell', 'coil-current'] }],
    });
    expect(detected(sparkEnergy, falls(0.7))).toMatchObject({ answer: 'seen' });
    expect(detected(sparkEnergy, falls(0.7)).strength).toBeGreaterThanOrEqual(0.6);
    expect(detected(sparkEnergy, falls(1.8)).strength).toBe(0.5);
  });

  it('cannot tell without voltage, dwell and current', () => {
    const found = detected(sparkEnergy, { ...starvedCoils(), without: ['battery-voltage', 'dwell', 'coil-current'] });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: ['battery-voltage', 'dwell', 'coil-current'] });
  });
});
