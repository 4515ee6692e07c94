import { describe, expect, it } from 'vitest';
import type { Recording } from '../channel.ts';
import { alignClocks } from '../clocks/align.ts';
import { heardSound } from './testing/heard-sound.ts';

/** An invented pull on the roller's clock: hold, tip-in, ramp, lift-off, hold [rpm]. */
function rpm(time: number): number {
  if (time < 3) return 2400;
  if (time < 9) return 2400 + 600 * (time - 3);
  return Math.max(2600, 6000 - 900 * (time - 9));
}

/** Roll speed of that pull at 50 Hz, in steps of 0.01 m/s. */
function rollerLog(): Recording {
  const times = Float64Array.from({ length: 750 }, (_, i) => i / 50);
  const samples = times.map((time) => Math.round(rpm(time) * 0.8) / 100);
  const mask = new Uint8Array(times.length);
  const channel = {
    name: 'roll speed',
    meaning: 'roll-speed',
    kind: 'speed',
    refreshRate: 50,
    origin: 'measured',
  } as const;
  const clock = { name: 't', times, pieces: [{ from: 0, to: times.length }] };
  return { source: '', file: 'roller', clock, channels: [{ ...channel, samples, mask }], findings: [] };
}

describe('a sound beside the log', () => {
  it('is laid on the roller by the engine speed it tells, within 50 ms', () => {
    const late = 1.37;
    const sound = heardSound({ duration: 13, rpm: (time) => rpm(time + late), snr: 15, seed: 4 });
    const found = alignClocks(rollerLog(), sound);
    if (!found.ok) throw new Error(found.refusal.message);
    const { offset, rate, offsetUncertainty } = found.value.pieces[0];
    const atMiddle = offset + rate * 7;
    expect(Math.abs(atMiddle + late)).toBeLessThan(0.05);
    expect(Math.abs(atMiddle + late)).toBeLessThan(3 * offsetUncertainty + 0.02);
  });
});
