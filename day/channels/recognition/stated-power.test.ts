import { describe, expect, it } from 'vitest';
import { fromSi, unitOf } from '../../../core/quantities/index.ts';
import type { Proposal } from '../mapping.ts';
import { exampleTable } from './example-table.ts';
import { proposeMapping } from './propose.ts';
import { statedPower } from './stated-power.ts';

const STEP = 0.02;
const MASS = 500;

/** Repeatable noise between -1 and 1. */
function noiseAt(i: number): number {
  const value = Math.sin(i * 12.9898 + 1) * 43758.5453;
  return 2 * (value - Math.floor(value)) - 1;
}

/** An invented pull with a brake that takes hold late, one dip in the middle, and a lift at the end. */
const time = Float64Array.from({ length: 900 }, (_, i) => i * STEP);
const acceleration = time.map((t) => (t < 2 ? 0 : t < 14 ? 2.2 + 0.6 * Math.sin(0.7 * t) : -0.6));
const speed = new Float64Array(time.length);
speed.forEach((_, i) => {
  speed[i] = i === 0 ? 15 : speed[i - 1] + acceleration[i] * STEP;
});
const brake = time.map((t) =>
  t < 2 ? 600 : t < 14 ? 2600 + 700 * Math.sin(0.45 * t) - (t > 8 && t < 8.5 ? 900 : 0) : 0,
);
const power = speed.map((v, i) => v * (brake[i] + MASS * acceleration[i]));
const cell = brake.map((force, i) => force + 25 * noiseAt(i));
const known = {
  time,
  speed: speed.map((v, i) => v + 0.008 * noiseAt(i + 7)),
  force: cell,
  speedKind: 'roll-speed' as const,
};

function averaged(samples: Float64Array, half: number): Float64Array {
  return samples.map((_, i) => {
    const near = samples.slice(Math.max(0, i - half), i + half + 1);
    return near.reduce((sum, value) => sum + value, 0) / near.length;
  });
}

describe('a stated power beside a brake force', () => {
  it('is recomputed with the mass that the numbers show; without smoothing none is claimed', () => {
    const working = statedPower(power, known);
    expect(working.origin).toBe('derived');
    expect(working.reason).toMatch(/\(force \+ (490|500|510) kg × acceleration\) × speed/);
    expect(working.reason).not.toContain('smoothed');
  });
  it('has its smoothing and its correction told apart', () => {
    const working = statedPower(
      averaged(power, 10).map((value) => 1.231 * value),
      known,
    );
    expect(working.factor).toBeCloseTo(1.231, 1);
    expect(working.width).toBeGreaterThan(0.3);
    expect(working.width).toBeLessThan(0.55);
  });
  it('claims no smoothing because the force column alone is noisy', () => {
    const working = statedPower(
      speed.map((v, i) => v * brake[i]),
      known,
    );
    expect(working.reason).toContain('equals force × speed');
  });
  it('claims nothing about a power that follows another law', () => {
    const working = statedPower(
      power.map((value, i) => value * (1 + 0.5 * Math.sin(i / 40))),
      known,
    );
    expect(working.reason).toContain('unknown correction and smoothing');
  });
});

describe('a ratio that two units have', () => {
  interface Written {
    readonly speedUnit?: string;
    readonly factor?: number;
    readonly powerUnit?: string;
  }
  function proposals({ speedUnit = 'km/h', factor = 1, powerUnit = 'kW' }: Written): readonly Proposal[] {
    const plain = speed.map((v, i) => (factor * v * brake[i]) / 1000);
    return proposeMapping(
      exampleTable([
        { name: 'time [s]', samples: time },
        { name: 'roll speed [km/h]', samples: speed.map((v) => fromSi(v, unitOf(speedUnit))) },
        { name: 'brake force [N]', samples: cell },
        { name: `power [${powerUnit}]`, samples: plain },
      ]),
    );
  }
  it('asks for the unit of speed when mph stand under km/h, and calls nothing a correction', () => {
    const [, roll, , stated] = proposals({ speedUnit: 'mph' });
    expect(roll?.question).toContain('in mph and not in km/h');
    expect(roll?.alternatives[0]).toMatchObject({ meaning: 'roll-speed', unit: 'mph' });
    expect(stated?.reason).not.toContain('a correction is in it');
  });
  it('asks for the unit of power when kW stand under hp', () =>
    expect(proposals({ powerUnit: 'hp' })[3]?.question).toContain('in kW and not in hp'));
  it('lets an ordinary correction be one', () => {
    const found = proposals({ factor: 1.14 });
    expect(found.map(({ question }) => question)).toEqual([undefined, undefined, undefined, undefined]);
    expect(found[3]?.origin).toBe('corrected');
  });
});
