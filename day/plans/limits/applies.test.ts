import { describe, expect, it } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import type { EngineFacts, PartsFacts } from '../../pulls/index.ts';
import type { Step } from '../model/engine-model.ts';
import { priorModel } from '../model/prior-model.ts';
import { foresightOf } from './at.ts';
import { goalOf } from './goal.ts';
import { limitsOf } from './limits-of.ts';
import { nextLimitsOf } from './next-limits.ts';
import { pressureRoomOf } from './pressure-room.ts';
import { BUILD_SHEET, RPM } from './testing/build-sheet.ts';

const SPEEDS = Float64Array.of(2500 * RPM, 4000 * RPM);

function engineWith(engine: EngineFacts, parts: PartsFacts = {}) {
  const { roller, vehicle, ambient, place } = BUILD_SHEET;
  return foresightOf(priorModel({ ...BUILD_SHEET, roller, vehicle, ambient, place, engine, parts }));
}

const size = { displacement: measured(2e-3, 0), cylinders: 4, redline: measured(6500 * RPM, 0) };
const named = (foresight: ReturnType<typeof engineWith>, step: Step) =>
  new Map(limitsOf(foresight, step, SPEEDS).map((limit) => [limit.name, limit]));

describe('an engine without a compressor', () => {
  const foresight = engineWith({ ...size, boostControl: 'none' });
  const step = { manifoldPressure: 97e3, ambientPressure: 100e3 };

  it('has no limit of a compressor, which is not the same as an unknown one', () => {
    const limits = named(foresight, step);
    expect(limits.get('compressor speed')).toMatchObject({ applies: false, why: 'no compressor on this engine' });
    expect(limits.get('traction')?.applies).toBeUndefined();
  });

  it('is promised no limit above the pressure outside, and no goal that needs more', () => {
    for (const { manifoldPressure } of nextLimitsOf(foresight, step, { speeds: SPEEDS }))
      expect(manifoldPressure).toBeLessThanOrEqual(103e3);
    expect(goalOf(foresight, { torque: 400 }, step).best).toBeUndefined();
    const { best } = goalOf(foresight, { torque: 120 }, step);
    expect(best?.manifoldPressure.value).toBeLessThan(103e3);
    expect(best?.unknown).not.toContain('compressor speed');
  });
});

describe('an engine that compression lights', () => {
  const foresight = engineWith({ ...size, ignition: 'compression', boostControl: 'absolute' });
  const limits = named(foresight, { manifoldPressure: 220e3, ambientPressure: 100e3 });

  it('has no spark and no knock', () => {
    for (const name of ['spark voltage', 'coil heat', 'knock'] as const)
      expect(limits.get(name)).toMatchObject({ applies: false, why: expect.stringContaining('compression ignition') });
  });

  // common practice, no source: 55 … 80 times manifold pressure, exhaust 650 … 850 °C at full load
  it('has the peak pressure and the exhaust of its kind', () => {
    const peak = limits.get('peak pressure');
    expect((peak?.required[1] ?? 0) / 220e3).toBeGreaterThan(50);
    expect((peak?.required[1] ?? 0) / 220e3).toBeLessThan(85);
    expect(peak?.available[1]).toBe(165e5);
    const exhaust = limits.get('exhaust temperature')?.required[1] ?? 0;
    expect(exhaust).toBeGreaterThan(850);
    expect(exhaust).toBeLessThan(1150);
  });

  it('presses harder when it is injected earlier', () => {
    const early = named(foresight, { manifoldPressure: 220e3, ambientPressure: 100e3, timing: 0.05 });
    expect(early.get('peak pressure')?.required[1]).toBeGreaterThan(limits.get('peak pressure')?.required[1] ?? 0);
  });
});

describe('engine speeds that never had a pressure', () => {
  const foresight = engineWith({ ...size, boostControl: 'absolute' });
  const held = [{ pressure: 200e3, from: 3500 * RPM }];
  const late = { ...foresight, model: { ...foresight.model, held } };
  const step = { manifoldPressure: 200e3, ambientPressure: 100e3 };

  it('are no worst case of the next limit', () => {
    const worst = nextLimitsOf(late, step, { speeds: SPEEDS }).map(({ speed }) => speed);
    expect(worst.length).toBeGreaterThan(0);
    expect(Math.min(...worst)).toBe(SPEEDS[1]);
    expect(nextLimitsOf(foresight, step, { speeds: SPEEDS }).some(({ speed }) => speed === SPEEDS[0])).toBe(true);
  });

  it('are told apart in the highest pressure by engine speed', () => {
    const { rows, unknown } = pressureRoomOf(late, step, { speeds: SPEEDS });
    expect(rows.map(({ judged }) => judged)).toEqual([false, true]);
    const [, here] = rows;
    expect(here?.safe?.manifoldPressure).toBeLessThan(here?.even?.manifoldPressure ?? 0);
    expect(unknown).toContain('rod tension');
  });
});

describe('the highest pressure that one limit allows', () => {
  const foresight = engineWith({ ...size, boostControl: 'absolute' }, { peakPressureLimit: measured(110e5, 0) });
  const step = { manifoldPressure: 180e3, ambientPressure: 100e3 };

  it('falls with what is kept in hand, and is that of the limit', () => {
    const at = (margin: number) =>
      pressureRoomOf(foresight, step, { name: 'peak pressure', margin, speeds: SPEEDS }).rows[1]?.even;
    expect(at(0)?.name).toBe('peak pressure');
    expect(at(0.1)?.manifoldPressure).toBeLessThan(at(0)?.manifoldPressure ?? 0);
  });
});
