import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { LINES } from './line-kinds.ts';
import type { Sensitivities } from './sensitivities.ts';
import { type KnownSpreads, keptVariance, plainVariance } from './spread-form.ts';

const PARAMETERS = 7;
const FIXED = 3;
const ENTRIES = 5;
const random = randomSource(41);
const normals = (count: number): Float64Array => Float64Array.from({ length: count }, () => random.normal());

function someSensitivities(): Sensitivities {
  const names = Array.from({ length: PARAMETERS + FIXED + ENTRIES }, (_, i) => `number ${i}`);
  const [speeds, pressures] = [
    [200, 350, 500, 600, 700],
    [130e3, 200e3, 270e3],
  ];
  return { names, speeds, pressures, slopes: normals(speeds.length * pressures.length * LINES.length * names.length) };
}

function someKnown(): KnownSpreads {
  const root = normals(PARAMETERS * PARAMETERS);
  const covariance = new Float64Array(PARAMETERS * PARAMETERS);
  for (let i = 0; i < covariance.length; i++) {
    const [row, column] = [Math.floor(i / PARAMETERS), i % PARAMETERS];
    for (let k = 0; k < PARAMETERS; k++) covariance[i] += root[row * PARAMETERS + k] * root[column * PARAMETERS + k];
  }
  return { covariance, parameters: PARAMETERS, fixed: [0.3, 2, 0.01] };
}

/** Slopes of a line at a node, from a number on. */
function forget(s: Sensitivities, { node, line, from = 0 }: Record<'node' | 'line', number> & { from?: number }): void {
  const at = (node * LINES.length + line) * s.names.length;
  s.slopes.fill(Number.NaN, at + from, at + s.names.length);
}

/** Largest relative difference to the plain way at random places, also outside the grid; NaN must meet NaN. */
function worst(sensitivities: Sensitivities): number {
  const known = someKnown();
  const [kept, plain] = [keptVariance(sensitivities, known), plainVariance(sensitivities, known)];
  let most = 0;
  for (let i = 0; i < 3000; i++) {
    const place = {
      line: random.integer(LINES.length),
      speed: 150 + 600 * random.uniform(),
      pressure: 100e3 + 200e3 * random.uniform(),
    };
    const [a, b] = [kept(place), plain(place)];
    expect(Number.isNaN(a)).toBe(Number.isNaN(b));
    if (!Number.isNaN(a)) most = Math.max(most, Math.abs(a / b - 1));
  }
  return most;
}

describe('variance of a line at a place', () => {
  it('twin: that of the slopes there, by the products of the nodes', () => {
    expect(worst(someSensitivities())).toBeLessThan(1e-9);
  });

  it('twin: nodes without slopes, lines without any, and nodes that know only some slopes', () => {
    const sensitivities = someSensitivities();
    for (let line = 0; line < LINES.length; line++) forget(sensitivities, { node: 4, line });
    for (let node = 0; node < 15; node++) forget(sensitivities, { node, line: 2 });
    forget(sensitivities, { node: 7, line: 5, from: PARAMETERS - 2 });
    expect(worst(sensitivities)).toBeLessThan(1e-9);
  });
});
