import { describe, expect, it } from 'vitest';
import { type RandomSource, randomSource } from '../../../numerics/index.ts';
import { ratio } from '../../../quantities/index.ts';
import { cylinderVolume } from '../mechanism/cylinder.ts';
import { boostedInput } from '../testing/boosted-input.ts';
import { DEGREE } from '../testing/invented-engine.ts';
import { type ClosedInput, prepareCycle } from './closed-cycle.ts';
import { fillGridInto, type Part } from './grid.ts';
import { marchLeakingPart, marchPart } from './march.ts';
import { COARSE_STEPS, F, S, type StepCounts, USUAL_STEPS, type Workspace, workspace } from './workspace.ts';

/** State and nodes at the end of the closed part, by one way of marching. */
function marched(input: ClosedInput, steps: StepCounts, march: (w: Workspace, part: Part) => void): Workspace {
  const w = workspace(steps);
  const parts = fillGridInto(w, input.shape, input.span);
  prepareCycle(w, input);
  march(w, parts[0]);
  // of no meaning before burning, and not written there by the quick way
  w.trace.burned.fill(0);
  w.frame[F.startPressure] = w.state[S.pressure] / w.points.motored[parts[1].point];
  march(w, parts[1]);
  march(w, parts[2]);
  return w;
}

/** Largest relative difference of anything that a march leaves. */
function difference(a: Workspace, b: Workspace): number {
  let most = 0;
  const compare = (x: Float64Array, y: Float64Array): void => {
    for (let i = 0; i < x.length; i++) {
      const apart = Math.abs(x[i] - y[i]) / Math.max(Math.abs(x[i]), Math.abs(y[i]), 1e-9);
      // NaN is no agreement
      if (!(apart <= most)) most = apart;
    }
  };
  compare(a.state, b.state);
  for (const name of ['pressure', 'unburned', 'burned', 'share'] as const) compare(a.trace[name], b.trace[name]);
  return most;
}

function randomInput(random: RandomSource): ClosedInput {
  const between = (low: number, high: number): number => low + (high - low) * random.uniform();
  const plain = boostedInput();
  const shape = { ...plain.shape, compressionRatio: ratio(between(8, 14)) };
  const [pressure, temperature] = [between(0.3e5, 4e5), between(290, 480)];
  const intakeCloses = between(-150, -90) * DEGREE;
  return boostedInput({
    shape,
    span: {
      intakeCloses,
      exhaustOpens: between(100, 150) * DEGREE,
      // with the longest ones the exhaust opens before burning is over
      wiebe: { start: between(-60, 30) * DEGREE, duration: between(20, 110) * DEGREE },
      burnedShare: between(0.7, 0.99),
    },
    turning: between(100, 900),
    charge: {
      mass: (pressure * cylinderVolume(shape, intakeCloses)) / (290 * temperature),
      pressure,
      temperature,
      residual: between(0, 0.3),
    },
    wallTemperature: between(350, 550),
    heatFactor: between(0, 3),
  });
}

describe('march of a cylinder that does not leak', () => {
  it('twin: leaves what the plain march leaves, to 1e-12, over 300 random cycles', () => {
    const random = randomSource(20260);
    let hottest = 0;
    for (let i = 0; i < 300; i++) {
      const input = randomInput(random);
      const steps = i % 2 ? USUAL_STEPS : COARSE_STEPS;
      const quick = marched(input, steps, marchPart);
      expect(difference(quick, marched(input, steps, marchLeakingPart)), JSON.stringify(input.span)).toBeLessThan(
        1e-12,
      );
      hottest = Math.max(hottest, ...quick.trace.unburned);
    }
    // so that unburned gas was in both ranges of its polynomial
    expect(hottest).toBeGreaterThan(1000);
  });

  it('a leak is marched by the plain way', () => {
    const input = boostedInput({ leakArea: 0.5e-6 });
    const w = marched(input, USUAL_STEPS, marchPart);
    expect(difference(w, marched(input, USUAL_STEPS, marchLeakingPart))).toBe(0);
    expect(w.state[S.mass]).toBeLessThan(0.99 * input.charge.mass);
  });
});
