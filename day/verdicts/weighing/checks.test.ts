import { describe, expect, it } from 'vitest';
import { DETECTORS } from '../detectors.ts';
import { CHECKS, checkNames, nextCheck } from './checks.ts';

describe('checks', () => {
  it.each(DETECTORS.map(({ fault }) => fault))('exist for %s', (fault) => {
    expect(nextCheck([fault], 1)).toBeDefined();
  });

  it('never ask for a hand at full load, and say what they cost', () => {
    for (const name of checkNames()) {
      const { text, minutes, pulls } = CHECKS[name];
      expect(text).toMatch(/^[A-Z].*\.$/);
      expect(text).not.toMatch(/(turn|adjust|touch|hold|reach|open|drain|loosen)\b[^.]*(at|under) (full )?load/i);
      expect(minutes).toBeGreaterThan(0);
      expect(pulls).toBeGreaterThanOrEqual(0);
    }
  });

  it('ask for cold parts where something hot under pressure would be opened', () => {
    expect(CHECKS['cap-and-hoses-cold'].text).toContain('Never open a hot system');
    expect(CHECKS['look-into-cylinders'].text).toContain('cooled');
  });

  it('part the two most probable causes where one of them does', () => {
    const next = nextCheck(['wheel-slip', 'clutch-slip'], 1);
    expect(next?.parts).toEqual(['wheel-slip', 'clutch-slip']);
  });

  it('need no pull from stop class 2 on while another parts them as well', () => {
    for (const { fault } of DETECTORS) {
      const next = nextCheck([fault], 3);
      if (next) expect(CHECKS[next.check].pulls).toBe(0);
    }
  });

  it.each(DETECTORS.map(({ fault }) => fault))('show by themselves whether it is there: %s', (fault) => {
    const next = nextCheck([fault], 1);
    expect(next && CHECKS[next.check].tests).toContain(fault);
  });

  it.each<[string, Parameters<typeof nextCheck>[0], number, string]>([
    ['a probe that the vehicle warms', ['ambient-probe'], 0, 'second-probe'],
    ['a warmed probe or a soaked cooler', ['ambient-probe', 'charge-heat-soak'], 0, 'second-probe'],
    ['a soaked cooler', ['charge-heat-soak'], 1, 'let-it-cool'],
    ['a crank signal that is lost', ['lost-sync'], 1, 'crank-signal'],
    ['fuel pressure that falls', ['fuel-pressure-drop'], 2, 'fuel-supply'],
    ['a head that lifts', ['head-lift'], 2, 'cap-and-hoses-cold'],
    ['a clock that jumped', ['clock-fault'], 1, 'both-clocks'],
    ['too much asked of the spark, or too little energy', ['ignition-breakup', 'spark-energy'], 1, 'voltage-drop'],
    ['a tyre that slips', ['wheel-slip'], 1, 'tyre-and-straps'],
    ['knock that holds', ['knock'], 2, 'look-into-cylinders'],
    ['a driveline or the engine', ['driveline-loss-rising', 'power-shortfall'], 1, 'coast-down-pair'],
  ])('test what is named: %s', (...[, causes, stopClass, check]) => {
    expect(nextCheck(causes, stopClass)?.check).toBe(check);
  });

  it('concern what they test', () => {
    for (const name of checkNames())
      expect(CHECKS[name].parts).toEqual(expect.arrayContaining([...CHECKS[name].tests]));
  });

  it('are none without a cause', () => {
    expect(nextCheck([], 0)).toBeUndefined();
  });
});

describe('an engine that is held', () => {
  it('is never asked to bring the rolls up to speed', () => {
    for (const stopClass of [2, 3]) {
      expect(nextCheck(['head-lift', 'ignition-breakup'], stopClass)?.check).not.toBe('coast-down-pair');
      expect(nextCheck(['driveline-loss-rising', 'power-shortfall'], stopClass)?.check).not.toBe('coast-down-pair');
      expect(nextCheck(['driveline-loss-rising'], stopClass)?.check).toBe('driveline-by-hand');
    }
  });
});
