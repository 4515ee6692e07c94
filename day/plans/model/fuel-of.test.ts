import { describe, expect, it } from 'vitest';
import { stoichiometricRatio } from '../../../core/physics/index.ts';
import { measured } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../pulls/index.ts';
import { BUILD_SHEET } from '../limits/testing/build-sheet.ts';
import { fuelName, fuelOf, fuelWords } from './fuel-of.ts';

const NUMBERS = {
  octane: 98,
  ethanolShare: Number.NaN,
  stoichiometricRatio: Number.NaN,
  heatingValue: Number.NaN,
};
const day = (need: number | undefined, parts: DayFacts['parts'] = {}): DayFacts => ({
  ...BUILD_SHEET,
  engine: need === undefined ? {} : { stoichiometricRatio: measured(need, 0) },
  parts,
});

describe('a fuel that nobody named', () => {
  // atom balances: methanol 6.5, ethanol 9.0, petrol 14.6, propane 15.6, methane 17.2
  it.each([
    [6.5, 'methanol'],
    [9, 'ethanol blend'],
    [10.6, 'ethanol blend'],
    [14.6, 'petrol'],
    [15.6, 'LPG'],
    [17.2, 'methane'],
  ])('with a need of air of %s is taken as %s, and said', (need, name) => {
    expect(fuelName(day(need))).toBe(name);
    const numbers = { ...NUMBERS, stoichiometricRatio: need };
    const fuel = fuelOf({ name: fuelName(day(need)) }, numbers);
    expect(Math.abs(stoichiometricRatio(fuel) / need - 1)).toBeLessThan(0.06);
    expect(fuelWords(day(need), fuel)[0]).toContain(`${name} is taken, by its need of air`);
  });

  it('is diesel where compression lights it, and unknown where nothing tells', () => {
    expect(fuelName({ ...day(undefined), engine: { ignition: 'compression' } })).toBe('diesel');
    expect(fuelName(day(undefined))).toBeUndefined();
    expect(fuelName(day(33))).toBeUndefined();
  });
});

describe('a named fuel', () => {
  it('goes before a need of air that is not its own, and says so', () => {
    const facts = day(10.6, { fuel: 'petrol' });
    expect(fuelWords(facts, fuelOf({ name: 'petrol' }, NUMBERS))[0]).toMatch(/10\.6 does not belong to petrol, 14\./);
    expect(fuelWords(day(14.6, { fuel: 'petrol' }), fuelOf({ name: 'petrol' }, NUMBERS))).toEqual([]);
  });
});

describe('a fuel by its atoms', () => {
  // C2H6O is ethanol: 9.0 kg of air, 26.8 MJ/kg (US DOE Alternative Fuels Data Center table)
  it('has the need of air of its atoms, and the usual heat of that air', () => {
    const ethanol = fuelOf({ composition: 'C2H6O' }, NUMBERS);
    expect(stoichiometricRatio(ethanol)).toBeCloseTo(9, 1);
    expect(ethanol.heatingValue / 1e6).toBeGreaterThan(25.5);
    expect(ethanol.heatingValue / 1e6).toBeLessThan(27.5);
    expect(fuelOf({ composition: 'C2H6O' }, { ...NUMBERS, heatingValue: 26.9e6 }).heatingValue).toBe(26.9e6);
  });

  it.each(['H2', 'C7', 'petrol', 'C1H2O9', 'C-1H2'])('%s is not read, and what is taken is said', (composition) => {
    const fuel = fuelOf({ name: 'petrol', composition }, NUMBERS);
    expect(fuel.name).toContain('petrol');
    expect(fuelWords(day(14.6, { fuelComposition: composition }), fuel)[0]).toContain('could not be read');
  });
});
