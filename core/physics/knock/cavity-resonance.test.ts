import { describe, expect, it } from 'vitest';
import { length, speed, temperature } from '../../quantities/index.ts';
import { burntGasSoundSpeed, CAVITY_MODES, knockFrequencies } from './cavity-resonance.ts';

/** Bessel function of the first kind by its integral, slow and plain. */
function bessel(order: number, x: number): number {
  let sum = 0;
  const n = 2000;
  for (let k = 0; k < n; k++) {
    const t = (Math.PI * (k + 0.5)) / n;
    sum += Math.cos(order * t - x * Math.sin(t)) / n;
  }
  return sum;
}

describe('ringing of knock', () => {
  it('wave numbers are zeros of J′ (twin: by its integral), and each has its sign change', () => {
    for (const { diameters, waveNumber } of CAVITY_MODES) {
      const slope = (x: number) => (bessel(diameters, x + 1e-4) - bessel(diameters, x - 1e-4)) / 2e-4;
      expect(slope(waveNumber - 1e-4) * slope(waveNumber + 1e-4)).toBeLessThan(0);
    }
  });

  it('of a bore of 86 mm begins between 6 and 7 kHz, and falls with bore', () => {
    const [first] = knockFrequencies(length(0.086), burntGasSoundSpeed(temperature(2400)));
    // √(1.28·290·2400) = 943.864 m/s; 1.84118·943.864/(π·0.086) = 6432.17 Hz, by hand
    expect(burntGasSoundSpeed(temperature(2400))).toBeCloseTo(943.864, 3);
    expect(first).toBeCloseTo(6432.17, 2);
    expect(knockFrequencies(length(0.172), speed(944))[0] * 2).toBeCloseTo(
      knockFrequencies(length(0.086), speed(944))[0],
      9,
    );
  });
});
