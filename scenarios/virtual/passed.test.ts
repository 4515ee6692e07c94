import { describe, expect, it } from 'vitest';
import { drawVirtual } from './draw.ts';
import { makeVirtualDay } from './make.ts';

const passed = (options: Parameters<typeof makeVirtualDay>[0]) =>
  makeVirtualDay({ pulls: 2, noise: false, ...options }).truth.entries.flatMap(({ faults }) =>
    faults.filter(({ variant }) => variant === 'passed'),
  );

describe('states that an engine truly passes', () => {
  it('are recorded beside the fault that brings them about', () => {
    const found = passed({ seed: 102, fault: 'boost-creep', strength: 4 });
    const overspeed = found.find(({ kind }) => kind === 'turbo-overspeed');
    expect(overspeed?.strength).toBeGreaterThan(1);
    expect(overspeed?.stopClass).toBeGreaterThanOrEqual(2);
    expect(overspeed?.toTime).toBeGreaterThan(overspeed?.fromTime ?? Number.NaN);
  });

  it('are not recorded twice: what was put in, creeps or has its cause put in keeps its own record', () => {
    expect(passed({ seed: 102, fault: 'boost-creep', strength: 4 }).map(({ kind }) => kind)).not.toContain(
      'boost-overshoot',
    );
    expect(passed({ seed: 8, fault: 'fuel-pressure-drop', strength: 4 }).map(({ kind }) => kind)).not.toContain(
      'lean-mixture',
    );
    expect(passed({ seed: 8, fault: 'over-rev', strength: 2 }).map(({ kind }) => kind)).not.toContain('over-rev');
  });

  it('are injectors that are open for nine tenths of the time', () => {
    const found = makeVirtualDay({ seed: 321, pulls: 2 }).truth.entries.flatMap(({ faults }) => faults);
    expect(found.map(({ kind }) => kind)).toContain('injector-saturation');
  });

  it('are light knock that a degree of retard takes away', () => {
    const found = makeVirtualDay(drawVirtual(3334)).truth.entries.flatMap(({ faults }) => faults);
    const [light] = found.filter(({ kind }) => kind === 'knock');
    expect(light).toMatchObject({ variant: 'passed', stopClass: 1 });
    expect(light.strength).toBeLessThan(1);
  });

  it('are none on a clean day', () => {
    expect(passed({ seed: 3 })).toEqual([]);
  });
});
