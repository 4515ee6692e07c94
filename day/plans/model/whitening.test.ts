import { expect, it } from 'vitest';
import { type Place, whitening } from './whitening.ts';

const PLACES: readonly Place[] = [
  { pull: 1, share: 0.5, pressure: 150e3, noise: 0.01 },
  { pull: 1, share: 0.8, pressure: 150e3, noise: 0.02 },
  { pull: 2, share: 0.5, pressure: 150e3, noise: 0.01 },
  { pull: 2, share: 0.8, pressure: 200e3, noise: 0.01 },
];
const IN_ORDER = [0, 1, 2, 3];

/** Generalised least squares of one common value: its variance is 1/(aᵀa) with a the whitened ones. */
function varianceOfMean(places: readonly Place[], shared: { pull: number; model: number }): number {
  const order = places.map((_, i) => i);
  const ones = whitening(places, shared, order)(places.map(() => 1));
  return 1 / ones.reduce((sum, value) => sum + value * value, 0);
}

it('divides by the noise where nothing is shared', () => {
  const white = whitening(PLACES, { pull: 0, model: 0 }, IN_ORDER);
  expect([...white([0.01, 0.02, 0.03, -0.01])].map((value) => Number(value.toFixed(9)))).toEqual([1, 1, 3, -1]);
});

it('the sum of squares does not depend on the order', () => {
  const raw = [0.01, -0.02, 0.005, 0.03];
  const squares = (order: readonly number[]): number =>
    whitening(PLACES, { pull: 0.01, model: 0.01 }, order)(raw).reduce((sum, value) => sum + value * value, 0);
  expect(squares([3, 1, 0, 2])).toBeCloseTo(squares(IN_ORDER), 10);
});

it('a hundred equal pulls know a place no better than the model is right there, and one pull no better than a pull repeats', () => {
  const many = Array.from({ length: 100 }, (_, pull) => ({ pull, share: 0.6, pressure: 180e3, noise: 0.005 }));
  const variance = varianceOfMean(many, { pull: 0.005, model: 0.01 });
  // 0.01² + (0.005² + 0.005²)/100
  expect(variance).toBeCloseTo(1.005e-4, 9);
  const one = Array.from({ length: 50 }, () => ({ pull: 1, share: 0.6, pressure: 180e3, noise: 0.005 }));
  // 0.01² + 0.005² + 0.005²/50
  expect(varianceOfMean(one, { pull: 0.005, model: 0.01 })).toBeCloseTo(1.255e-4, 9);
});

it('places far apart in speed or in pressure are wrong on their own', () => {
  const far: readonly Place[] = [
    { pull: 1, share: 0.3, pressure: 120e3, noise: 0.001 },
    { pull: 2, share: 1, pressure: 240e3, noise: 0.001 },
  ];
  expect(varianceOfMean(far, { pull: 0, model: 0.01 })).toBeCloseTo((1e-4 + 1e-6) / 2, 8);
});

it('throws without noise: then a place met twice would be believed without end', () => {
  const twice = [PLACES[0], PLACES[0]].map((place) => ({ ...place, noise: 0 }));
  expect(() => whitening(twice, { pull: 0, model: 0.01 }, [0, 1])).toThrow('noise above zero');
});

it('what the model has wrong fades over 0.15 of the redline and 0.2 of the logarithm of pressure', () => {
  // two places with noise 1 and a model error of 1: covariance c = e^(−½·d²); whitened second value (2·r₂ − c·r₁)/√(2·(4 − c²)), by hand
  const second = (share: number, pressure: number): number => {
    const places = [
      { pull: 1, share: 0.5, pressure: 100e3, noise: 1 },
      { pull: 2, share, pressure, noise: 1 },
    ];
    return whitening(places, { pull: 0, model: 1 }, [0, 1])([1, 0])[1];
  };
  // d = 1 by speed, by pressure, and both: c = 0.606531, 0.606531, 0.367879
  expect(second(0.65, 100e3)).toBeCloseTo(-0.225038, 5);
  expect(second(0.5, 100e3 * Math.exp(0.2))).toBeCloseTo(-0.225038, 5);
  expect(second(0.65, 100e3 * Math.exp(0.2))).toBeCloseTo(-0.132323, 5);
});
