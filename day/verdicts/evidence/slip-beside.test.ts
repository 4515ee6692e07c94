import { describe, expect, it } from 'vitest';
import { wheelSlip } from '../faults/traction/wheel-slip.ts';
import { largest } from '../scene/series.ts';
import { detected } from '../testing/behaves.ts';
import { type Invented, inventedPull, type Moment } from '../testing/invented-pull.ts';
import { limitsWith } from '../thresholds.ts';
import { engineAhead } from './slip-beside.ts';

/** How far the engine is ahead of the rolls at most, in the first seconds of a pull or later. */
function most(invented: Invented, from: number, to: number): number {
  const scene = inventedPull(invented);
  const ahead = engineAhead(scene, limitsWith());
  if (!ahead) throw new Error('no earlier pull');
  const inside = (time: number): boolean => time > scene.from + from && time < scene.from + to;
  return largest(ahead.beyond.filter((_, i) => inside(ahead.times[i])));
}

describe('an engine ahead of the rolls beyond earlier pulls', () => {
  /** A tyre that creeps by 2 % more; from some time on the pull has half of its torque, and the tyre creeps half as much. */
  const weakFrom = (from: number): Invented => {
    const left = ({ t, full }: Moment): number => (full && t > from ? 0.5 : 1);
    return {
      change: {
        'brake-force': (value, now) => (now.full ? value - (1 - left(now)) * 4200 : value),
        'roll-speed': (value, now) => value * (now.full ? 1 - 0.02 * left(now) : 1),
      },
    };
  };
  const weak: Invented = { ...weakFrom(5), references: [weakFrom(99), weakFrom(99)] };

  it('is no slip at the start of a pull that loses half of its torque later', () => {
    expect(most(weak, 1, 4.5)).toBeLessThan(0.004);
    expect(detected(wheelSlip, weak).answer).toBe('not seen');
  });

  it('is still slip where it slips', () => {
    const slips: Invented = {
      ...weak,
      change: {
        ...weak.change,
        'engine-speed': (value, { t }) => value * (t > 2 && t < 3.5 ? 1.03 : 1),
        'wheel-speed@driven left': (value, { t }) => value * (t > 2 && t < 3.5 ? 1.03 : 1),
      },
    };
    expect(detected(wheelSlip, slips).answer).toBe('seen');
  });

  /** The engine's log is early by 0.12 s. */
  const early = (offsetUncertainty: number): Invented => ({
    change: { 'engine-speed': (value, { full }) => value + (full ? 0.12 * 47 : 0) },
    clock: { offsetUncertainty },
    references: [{}, {}],
  });

  it('may be a lag as long as three of its uncertainties', () => {
    expect(most(early(0.05), 0.5, 9)).toBeLessThan(0.004);
    expect(most(early(0.005), 0.5, 9)).toBeGreaterThan(0.008);
  });
});
