import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../numerics/index.ts';
import { area, force, measured, toSi, unitOf } from '../../quantities/index.ts';
import { amplitudeOfLife, basquinOfReversals, basquinOfStrengths, cyclesToFailure } from './basquin.ts';
import { DAMAGE_AT_FAILURE, damageIndex, damageSum, repeatsTo } from './damage.ts';
import { fatigueFactors, reversedAmplitude } from './fatigue-criteria.ts';
import { pullBlocks, swingOfForces } from './pull-blocks.ts';
import { countsByRange, type LoadCycle, rainflow } from './rainflow.ts';

const MPa = 1e6;
const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe('fatigue criteria', () => {
  it('check 7-04 (Shigley criteria, computed with numpy 2.4.6)', () => {
    const found = fatigueFactors(
      { amplitude: 180 * MPa, mean: 150 * MPa },
      { endurance: 350 * MPa, yield: 850 * MPa, ultimate: 1000 * MPa },
    );
    expect(Math.abs(found.goodman - 1.5054)).toBeLessThan(1e-4);
    expect(Math.abs(found.soderberg - 1.4477)).toBeLessThan(1e-4);
    expect(Math.abs(found.gerber - 1.8023)).toBeLessThan(1e-4);
    expect(Math.abs(found.ellipse - 1.8392)).toBeLessThan(1e-4);
    expect(Math.abs(found.firstYield - 2.5758)).toBeLessThan(1e-4);
  });

  it('check 7-05 (Shigley solution manual, problem 6-15, seen): zero mean', () => {
    const found = fatigueFactors(
      { amplitude: 358.5 * MPa, mean: 0 },
      { endurance: 276 * MPa, yield: 413 * MPa, ultimate: 551 * MPa },
    );
    for (const factor of [found.goodman, found.soderberg, found.gerber, found.ellipse]) {
      expect(Math.abs(factor - 0.77)).toBeLessThan(0.01);
    }
    expect(Math.abs(found.firstYield - 1.15)).toBeLessThan(0.01);
  });

  it('check 7-07 (textbook companion code, example 5.2, seen): Soderberg sizes a shaft of 1.82 in', () => {
    const psi = toSi(1, unitOf('psi'));
    const strength = { endurance: 0.85 * 34e3 * psi, yield: 37e3 * psi, ultimate: Number.NaN };
    // cantilever of 12 in, load 0 … 1000 lbf: moment 6000 ± 6000 lbf·in
    const stress = (6000 * 32) / (Math.PI * 1.82 ** 3);
    const found = fatigueFactors({ amplitude: stress * psi, mean: stress * psi }, strength);
    // the factor goes with d³: ± 0.01 in are ± 1.65 %
    expect(relative(found.soderberg, 1.6)).toBeLessThan(0.0165);
  });

  it('a compressive mean does not shorten life, but counts for yield', () => {
    const strength = { endurance: 300 * MPa, yield: 800 * MPa, ultimate: 1000 * MPa };
    const found = fatigueFactors({ amplitude: 150 * MPa, mean: -400 * MPa }, strength);
    expect(found.goodman).toBe(2);
    expect(found.firstYield).toBeCloseTo(800 / 550, 12);
  });
});

describe('life line', () => {
  it('check 7-06 (Shigley solution manual, problem 6-15, seen): from strengths', () => {
    const line = basquinOfStrengths(551 * MPa, 276 * MPa, 0.9);
    expect(relative(line.coefficient, 891 * MPa)).toBeLessThan(5e-3);
    expect(relative(line.slope, -0.084828)).toBeLessThan(5e-3);
    expect(relative(cyclesToFailure(line, 358.5 * MPa), 45800)).toBeLessThan(5e-3);
  });

  it('check 7-08 (Palmgren–Miner, computed with numpy 2.4.6): lives, damage, repeats', () => {
    const line = basquinOfReversals(1000 * MPa, -0.1);
    expect(relative(cyclesToFailure(line, 250 * MPa), 524288)).toBeLessThan(1e-6);
    expect(relative(cyclesToFailure(line, 200 * MPa), 4882812.5)).toBeLessThan(1e-6);
    expect(amplitudeOfLife(line, cyclesToFailure(line, 333 * MPa))).toBeCloseTo(333 * MPa, 3);
    const found = damageSum({
      blocks: [
        { amplitude: 250 * MPa, mean: 0, cycles: 5000 },
        { amplitude: 200 * MPa, mean: 0, cycles: 10000 },
      ],
      line,
      meanStress: 'none',
    });
    expect(Math.abs(found.damage - 0.011585)).toBeLessThan(5e-7);
    expect(relative(repeatsTo(1, found), 86.32)).toBeLessThan(1e-5);
    expect(found.shares[0] + found.shares[1]).toBeCloseTo(1, 12);
  });

  it('check 7-09 (textbook, computed with numpy 2.4.6): Morrow and Smith–Watson–Topper', () => {
    const line = basquinOfReversals(1000 * MPa, -0.1);
    const swing = { amplitude: 250 * MPa, mean: 100 * MPa };
    expect(relative(cyclesToFailure(line, reversedAmplitude(swing, 'morrow', 1000 * MPa)), 182807.92)).toBeLessThan(
      1e-5,
    );
    const swt = reversedAmplitude(swing, 'smith-watson-topper', Number.NaN);
    expect(relative(swt, 295.804 * MPa)).toBeLessThan(1e-6);
    expect(relative(cyclesToFailure(line, swt), 97483.19)).toBeLessThan(1e-5);
    expect(reversedAmplitude({ amplitude: 1, mean: 2 }, 'goodman', 2)).toBe(Number.POSITIVE_INFINITY);
    expect(reversedAmplitude({ amplitude: 10, mean: -20 }, 'smith-watson-topper', Number.NaN)).toBe(0);
  });
});

describe('rainflow counting', () => {
  const reference: unknown = JSON.parse(
    readFileSync(join(import.meta.dirname, 'reference/rainflow-astm.json'), 'utf8'),
  );
  const { series, cycles, counts } = reference as {
    series: number[];
    cycles: [number, number, number, number, number][];
    counts: [number, number][];
  };

  it('check 7-10 (ASTM E1049-85 example, seen): ranges, means, counts and places', () => {
    const found = rainflow(series);
    const listed = found.cycles.map(({ range, mean, count, from, to }) => [range, mean, count, from, to]);
    expect(listed.sort()).toEqual([...cycles].sort());
    expect(countsByRange(found.cycles).map(({ range, count }) => [range, count])).toEqual(counts);
    expect(found.gaps).toBe(0);
  });

  it('of a steady swing counts one cycle per period', () => {
    const swing = Float64Array.from({ length: 1001 }, (_, i) => Math.sin((2 * Math.PI * i) / 100));
    const total = rainflow(swing).cycles.filter(({ range }) => range > 1.9);
    expect(total.reduce((sum, { count }) => sum + count, 0)).toBeCloseTo(9.5, 9);
  });

  it('of nothing, one sample, a flat line counts nothing', () => {
    for (const empty of [[], [1], [2, 2, 2], [Number.NaN, Number.NaN]]) expect(rainflow(empty).cycles).toEqual([]);
  });

  it('counts nothing across a gap, and says how many there were', () => {
    const found = rainflow([0, 5, Number.NaN, Number.NaN, 0, 3, 1]);
    expect(found.gaps).toBe(1);
    expect(found.cycles.map(({ range }) => range).sort()).toEqual([2, 3, 5]);
    expect(found.cycles.every(({ from, to }) => from < 2 === to < 2)).toBe(true);
    expect(rainflow([0, 5, Number.NaN])).toMatchObject({ gaps: 1 });
  });

  it('agrees with a slow plain count on random histories (twin)', () => {
    const random = randomSource(11);
    for (let round = 0; round < 50; round++) {
      const history = Array.from({ length: 40 }, () => Math.round(10 * random.normal()));
      expect(countsByRange(rainflow(history).cycles)).toEqual(countsByRange(plainRainflow(history)));
    }
  });

  it('keeps half cycles in balance with the turning points', () => {
    const random = randomSource(5);
    const history = Array.from({ length: 5000 }, () => random.normal());
    const turns = history.filter((x, i) => i > 0 && i < 4999 && (x - history[i - 1]) * (history[i + 1] - x) < 0).length;
    const total = rainflow(history).cycles.reduce((sum, { count }) => sum + 2 * count, 0);
    expect(total).toBe(turns + 1);
  });
});

/** The standard's rules read literally, on a list that is rescanned from its start after every count. */
function plainRainflow(history: readonly number[]): LoadCycle[] {
  const points = history.filter((x, i) => i === 0 || x !== history[i - 1]);
  const peaks = points.filter(
    (x, i) => i === 0 || i === points.length - 1 || (x - points[i - 1]) * (points[i + 1] - x) < 0,
  );
  const found: LoadCycle[] = [];
  const add = (a: number, b: number, count: number) =>
    found.push({ range: Math.abs(a - b), mean: (a + b) / 2, count, from: 0, to: 0 });
  let scanned = 2;
  while (scanned < peaks.length) {
    const [z, y, x] = [peaks[scanned - 2], peaks[scanned - 1], peaks[scanned]];
    if (Math.abs(x - y) < Math.abs(y - z)) scanned++;
    else if (scanned === 2) {
      add(z, y, 0.5);
      peaks.shift();
    } else {
      add(z, y, 1);
      peaks.splice(scanned - 2, 2);
      scanned = 2;
    }
  }
  for (let i = 1; i < peaks.length; i++) add(peaks[i - 1], peaks[i], 0.5);
  return found;
}

describe('damage', () => {
  const line = basquinOfReversals(1000 * MPa, -0.1);
  const blocks = [{ amplitude: 300 * MPa, mean: 50 * MPa, cycles: 1e4 }];

  it('grows with the tenth power of stress on a slope of −0.1', () => {
    const twice = damageSum({
      blocks: [{ ...blocks[0], amplitude: 330 * MPa, mean: 55 * MPa }],
      line,
      meanStress: 'smith-watson-topper',
    });
    const once = damageSum({ blocks, line, meanStress: 'smith-watson-topper' });
    expect(twice.damage / once.damage).toBeCloseTo(1.1 ** 10, 6);
  });

  it('spreads: stress by the slope, life by its scatter, in the logarithm', () => {
    const found = damageSum({ blocks, line, meanStress: 'none', stressSpread: 0.05, lifeScatter: 0.4 });
    expect(found.logSpread).toBeCloseTo(Math.hypot(0.5, 0.4), 9);
    expect(found.high / found.damage).toBeCloseTo(Math.exp(found.logSpread), 9);
    // slope turned about 10⁶ cycles, against a difference (identity)
    const turned = (b: number) => {
      const pivot = amplitudeOfLife(line, 1e6);
      return damageSum({ blocks, line: { coefficient: pivot / 1e6 ** b, slope: b }, meanStress: 'none' }).damage;
    };
    const slope = (Math.log(turned(-0.1001)) - Math.log(turned(-0.0999))) / 2e-4;
    const bySlope = damageSum({ blocks, line, meanStress: 'none', slopeSpread: 0.01, lifeScatter: 0 });
    expect(bySlope.logSpread).toBeCloseTo(Math.abs(slope) * 0.01, 4);
  });

  it('where nobody says otherwise life scatters by a half in its logarithm, and a sum of 1 ± 0.5 is the end', () => {
    const found = damageSum({ blocks, line, meanStress: 'none' });
    expect(found.logSpread).toBeCloseTo(0.5, 12);
    expect(found.high / found.low).toBeCloseTo(Math.E, 9);
    expect(DAMAGE_AT_FAILURE).toEqual(measured(1, 0.5));
  });

  it('of nothing is nothing, and lasts for ever', () => {
    const none = damageSum({ blocks: [], line, meanStress: 'none' });
    expect(none.damage).toBe(0);
    expect(repeatsTo(1, none)).toBe(Number.POSITIVE_INFINITY);
    const pressed = damageSum({
      blocks: [{ amplitude: 50 * MPa, mean: -200 * MPa, cycles: 1e6 }],
      line,
      meanStress: 'smith-watson-topper',
    });
    expect(pressed.damage).toBe(0);
    expect(() => damageSum({ blocks, line, meanStress: 'goodman' })).toThrow('strength');
  });

  it('as an index needs only slope and ratio: 5 % more stress on −0.1 is 63 % more damage', () => {
    const found = damageIndex(measured(1.05, 0.01), 1, measured(-0.1, 0.02));
    expect(found.value).toBeCloseTo(1.05 ** 10, 9);
    expect(found.standardUncertainty / found.value).toBeCloseTo(Math.hypot((10 * 0.01) / 1.05, Math.log(1.05) * 2), 9);
    expect(damageIndex(measured(1, 0), 2, measured(-0.1, 0.05))).toEqual(measured(2, 0));
  });
});

describe('blocks of a pull', () => {
  it('swing between tension and compression of a section', () => {
    const swing = swingOfForces({ highest: force(15e3), lowest: force(-45e3), area: area(200e-6), notch: 1.5 });
    expect(swing.amplitude).toBeCloseTo((1.5 * 30e3) / 200e-6, 3);
    expect(swing.mean).toBeCloseTo((-1.5 * 15e3) / 200e-6, 3);
  });

  const pull = (n: number) => ({
    times: Float64Array.from({ length: n }, (_, i) => i * 0.1),
    pieces: [{ from: 0, to: n }],
    engineSpeed: new Float64Array(n).fill(200 * Math.PI),
    highest: new Float64Array(n).fill(15e3),
    lowest: new Float64Array(n).fill(-45e3),
    area: area(200e-6),
    notch: 1,
  });

  it('counts one swing per two revolutions: 10 s at 6 000 rpm are 500', () => {
    const found = pullBlocks(pull(101));
    expect(found.blocks.reduce((sum, { cycles }) => sum + cycles, 0)).toBeCloseTo(500, 6);
    expect(found.covered).toBeCloseTo(10, 9);
    expect(found.leftOut).toBe(0);
  });

  it('swings by the mean of both ends of an interval: 15 and −45 kN, then 25 and −45, on 200 mm² with a notch of 1.5', () => {
    const grown = { ...pull(2), notch: 1.5, highest: Float64Array.of(15e3, 25e3) };
    // 1.5/200 mm² of (20 + 45)/2 and (20 − 45)/2 kN; 0.1 s at 6 000 rpm are 5 cycles, by hand
    const [block] = pullBlocks(grown).blocks;
    expect(block.amplitude).toBeCloseTo(243.75e6, 3);
    expect(block.mean).toBeCloseTo(-93.75e6, 3);
    expect(block.cycles).toBeCloseTo(5, 9);
    const faster = pullBlocks({ ...grown, engineSpeed: Float64Array.of(200 * Math.PI, 240 * Math.PI) });
    expect(faster.blocks[0].cycles).toBeCloseTo(5.5, 9);
  });

  it('leaves out what is missing and what lies between pieces', () => {
    const holed = pull(101);
    holed.engineSpeed[50] = Number.NaN;
    const found = pullBlocks({
      ...holed,
      pieces: [
        { from: 0, to: 40 },
        { from: 45, to: 101 },
      ],
    });
    expect(found.leftOut).toBeCloseTo(0.2, 9);
    expect(found.covered).toBeCloseTo(3.9 + 5.3, 9);
    expect(pullBlocks({ ...pull(0), pieces: [] })).toEqual({ blocks: [], covered: 0, leftOut: 0 });
  });
});
