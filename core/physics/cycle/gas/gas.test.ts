import { describe, expect, it } from 'vitest';
import { density, ratio, specificEnergy } from '../../../quantities/index.ts';
import { burnedInto } from '../closed/burned-lookup.ts';
import { burnedState } from './burned-gas.ts';
import { chargeAtoms, chargeShares } from './charge.ts';
import { BURNED_SPECIES, compositionEnthalpy, equilibrium } from './equilibrium.ts';
import { blendedFuel, type Fuel, formationEnthalpy, heatingValueFromFormation, stoichiometricRatio } from './fuel.ts';
import { ETHANOL, ethanolBlend, LPG, METHANE, METHANOL, ownFuel, petrol } from './fuels.ts';
import { gasModel } from './gas-model.ts';
import { NASA_SPECIES, type NasaSpecies, type SpeciesName } from './nasa-polynomials.ts';
import { polynomialEnthalpy } from './polynomial.ts';
import { MOLAR_GAS_CONSTANT, speciesEnthalpy, speciesEntropy, speciesHeatCapacity, speciesNamed } from './species.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe('species', () => {
  it.each<[string, SpeciesName, number, number, number, number]>([
    ['4-01', 'N2', 300, 29.125, 0.054, 191.789],
    ['4-02', 'N2', 1000, 32.683, 21.465, 228.175],
    ['4-03', 'N2', 2000, 36.009, 56.091, 252.043],
    ['4-04', 'O2', 300, 29.388, 0.054, 205.33],
    ['4-05', 'O2', 1000, 34.883, 22.707, 243.586],
    ['4-06', 'O2', 2000, 37.855, 59.168, 268.741],
    ['4-07', 'CO2', 300, 37.218, 0.069, 214.016],
    ['4-08', 'CO2', 1000, 54.321, 33.397, 269.286],
    ['4-09', 'CO2', 2000, 60.466, 91.345, 309.206],
    ['4-10', 'H2O', 300, 33.596, 0.062, 189.036],
    ['4-11', 'H2O', 1000, 41.295, 26.003, 232.735],
    ['4-12', 'H2O', 2000, 51.678, 73.054, 264.932],
    ['4-13', 'CO', 300, 29.143, 0.054, 197.837],
    ['4-14', 'CO', 1000, 33.163, 21.69, 234.545],
    ['4-15', 'CO', 2000, 36.288, 56.687, 258.677],
  ])('check %s (NASA TM-4513 by Cantera 3.2.0): %s at %i K', (...[, name, T, cp, h, s]) => {
    const species = speciesNamed(name);
    expect(relative(speciesHeatCapacity(species, T), cp)).toBeLessThan(5e-4);
    const rise = (speciesEnthalpy(species, T) - speciesEnthalpy(species, 298.15)) / 1000;
    expect(Math.abs(rise - h)).toBeLessThan(5e-4 * h + 0.0006);
    expect(relative(speciesEntropy(species, T), s)).toBeLessThan(5e-4);
  });

  it.each<[string, SpeciesName, number, number, number]>([
    ['4-16', 'N2', 32.697, 21.463, 228.17],
    ['4-17', 'O2', 34.87, 22.703, 243.578],
    ['4-18', 'CO2', 54.308, 33.397, 269.299],
    ['4-19', 'H2O', 41.268, 26, 232.738],
    ['4-20', 'CO', 33.183, 21.69, 234.538],
  ])('check %s (NIST-JANAF tables at 1000 K, from memory): %s', (...[, name, cp, h, s]) => {
    const species = speciesNamed(name);
    expect(relative(speciesHeatCapacity(species, 1000), cp)).toBeLessThan(1e-3);
    expect(relative((speciesEnthalpy(species, 1000) - speciesEnthalpy(species, 298.15)) / 1000, h)).toBeLessThan(1e-3);
    expect(relative(speciesEntropy(species, 1000), s)).toBeLessThan(1e-3);
  });

  it('check 4-21 (formation enthalpies at 298.15 K by Cantera 3.2.0)', () => {
    expect(Math.abs(speciesEnthalpy(speciesNamed('CO2'), 298.15) / 1000 + 393.51)).toBeLessThan(0.02);
    expect(Math.abs(speciesEnthalpy(speciesNamed('H2O'), 298.15) / 1000 + 241.83)).toBeLessThan(0.02);
    expect(Math.abs(speciesEnthalpy(speciesNamed('CO'), 298.15) / 1000 + 110.53)).toBeLessThan(0.02);
  });

  it('heat capacity is the slope of enthalpy and T times the slope of entropy, for every species', () => {
    for (const species of Object.values<NasaSpecies>(NASA_SPECIES)) {
      for (const T of [300, 700, 1400, 2500]) {
        const slope = (speciesEnthalpy(species, T + 0.1) - speciesEnthalpy(species, T - 0.1)) / 0.2;
        const entropySlope = (T * (speciesEntropy(species, T + 0.1) - speciesEntropy(species, T - 0.1))) / 0.2;
        expect(relative(slope, speciesHeatCapacity(species, T))).toBeLessThan(1e-6);
        expect(relative(entropySlope, speciesHeatCapacity(species, T))).toBeLessThan(1e-6);
      }
    }
  });
});

/** Burning in O₂ + 3.76 N₂ at φ = 1: temperature where the enthalpy (or energy, at constant volume) of the reactants is met. */
function flame(
  fuel: NasaSpecies,
  start: { readonly T: number; readonly p: number; readonly liquid?: number },
): { readonly oxygen: number; readonly mass: number; readonly moles: number; readonly enthalpy: number } {
  const [C, H, O] = fuel.atoms;
  const oxygen = C + H / 4 - O / 2;
  const mass = fuel.molarMass + oxygen * (NASA_SPECIES.O2.molarMass + 3.76 * NASA_SPECIES.N2.molarMass);
  const air = oxygen * (speciesEnthalpy(NASA_SPECIES.O2, start.T) + 3.76 * speciesEnthalpy(NASA_SPECIES.N2, start.T));
  return {
    oxygen,
    mass,
    moles: 1 + 4.76 * oxygen,
    enthalpy: (start.liquid ?? speciesEnthalpy(fuel, start.T)) + air,
  };
}

function bisect(f: (T: number) => number): number {
  let [low, high] = [1000, 4000];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (f(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function atomsOf(fuel: NasaSpecies, { oxygen, mass }: { readonly oxygen: number; readonly mass: number }) {
  const [C, H, O] = fuel.atoms;
  return {
    carbon: C / mass,
    hydrogen: H / mass,
    oxygen: (O + 2 * oxygen) / mass,
    nitrogen: (7.52 * oxygen) / mass,
    argon: 0,
  };
}

describe('flames', () => {
  it('check 4-22 (Cantera 3.2.0, complete combustion): liquid n-octane 2393.0 K', () => {
    const octane = NASA_SPECIES.nOctane;
    const reactants = flame(octane, { T: 298.15, p: 101325, liquid: -249950 });
    const T = bisect((t) => {
      const products =
        8 * speciesEnthalpy(NASA_SPECIES.CO2, t) +
        9 * speciesEnthalpy(NASA_SPECIES.H2O, t) +
        3.76 * reactants.oxygen * speciesEnthalpy(NASA_SPECIES.N2, t);
      return products - reactants.enthalpy;
    });
    expect(Math.abs(T - 2393)).toBeLessThan(2);
  });

  it.each<[string, SpeciesName, number]>([
    ['4-23', 'isooctane', 2271.1],
    ['4-25', 'ethanol', 2236.2],
  ])('check %s (Cantera 3.2.0, equilibrium at constant pressure): %s', (...[, name, wanted]) => {
    const fuel = speciesNamed(name);
    const reactants = flame(fuel, { T: 298.15, p: 101325 });
    const atoms = atomsOf(fuel, reactants);
    const T = bisect(
      (t) =>
        compositionEnthalpy(equilibrium(atoms, { temperature: t, pressure: 101325 }), t, 0) * reactants.mass -
        reactants.enthalpy,
    );
    expect(Math.abs(T - wanted)).toBeLessThan(1);
  });

  it('check 4-24 (Cantera 3.2.0, equilibrium at constant volume): isooctane from 700 K, 2 MPa', () => {
    const fuel = NASA_SPECIES.isooctane;
    const reactants = flame(fuel, { T: 700, p: 2e6 });
    const atoms = atomsOf(fuel, reactants);
    const volume = (reactants.moles * MOLAR_GAS_CONSTANT * 700) / 2e6 / reactants.mass;
    const energy = reactants.enthalpy / reactants.mass - 2e6 * volume;
    let pressure = 2e6;
    const T = bisect((t) => {
      let products = equilibrium(atoms, { temperature: t, pressure });
      for (let i = 0; i < 20; i++) {
        pressure = (products.total * MOLAR_GAS_CONSTANT * t) / volume;
        products = equilibrium(atoms, { temperature: t, pressure });
      }
      return compositionEnthalpy(products, t, 0) - pressure * volume - energy;
    });
    expect(relative(T, 2904.2)).toBeLessThan(1e-3);
    expect(relative(pressure, 8.9377e6)).toBeLessThan(1e-3);
  });
});

describe('equilibrium', () => {
  const mixtures = [0.6, 0.8, 0.95, 1, 1.05, 1.5].flatMap((lambda) =>
    [700, 1200, 1800, 2500, 3400].flatMap((T) => [1e5, 3e6, 2e7].map((p): [number, number, number] => [lambda, T, p])),
  );

  it.each(mixtures)('keeps the atoms and satisfies the mass action law: λ %f, %i K, %i Pa', (lambda, T, p) => {
    const atoms = chargeAtoms(petrol(95), { lambda, humidityRatio: 0.01 });
    const found = equilibrium(atoms, { temperature: T, pressure: p });
    expect(found.converged).toBe(true);
    const sums = [0, 0, 0, 0];
    BURNED_SPECIES.forEach((name, j) => {
      speciesNamed(name).atoms.forEach((count, i) => {
        sums[i] += count * found.amounts[j];
      });
    });
    expect(relative(sums[0], atoms.carbon)).toBeLessThan(1e-8);
    expect(relative(sums[1], atoms.hydrogen)).toBeLessThan(1e-8);
    expect(relative(sums[2], atoms.oxygen)).toBeLessThan(1e-8);
    expect(relative(sums[3], atoms.nitrogen)).toBeLessThan(1e-8);
    const gibbs = (name: SpeciesName): number =>
      (speciesEnthalpy(speciesNamed(name), T) - T * speciesEntropy(speciesNamed(name), T)) / (MOLAR_GAS_CONSTANT * T);
    const amount = (name: (typeof BURNED_SPECIES)[number]): number =>
      Math.log(found.amounts[BURNED_SPECIES.indexOf(name)]);
    // CO + H₂O ⇌ CO₂ + H₂
    const shift = amount('CO2') + amount('H2') - amount('CO') - amount('H2O');
    expect(Math.abs(shift + gibbs('CO2') + gibbs('H2') - gibbs('CO') - gibbs('H2O'))).toBeLessThan(1e-6);
    // ½ N₂ + ½ O₂ ⇌ NO
    const oxide = amount('NO') - 0.5 * (amount('N2') + amount('O2'));
    expect(Math.abs(oxide + gibbs('NO') - 0.5 * (gibbs('N2') + gibbs('O2')))).toBeLessThan(1e-6);
  });
});

describe('table of burned gas', () => {
  it.each([petrol(98), ETHANOL, METHANE, ethanolBlend(0.85)].map((fuel): [string, Fuel] => [fuel.name, fuel]))(
    'agrees with the equilibrium solver: R·T within 1e-3, T within 8 K (%s)',
    (_, fuel) => {
      const model = gasModel(fuel);
      const out = new Float64Array(4);
      for (const humidityRatio of [0, 0.015]) {
        for (const lambda of [0.61, 0.78, 0.8125, 0.96, 1, 1.004, 1.1, 1.6]) {
          const gas = model.of({ lambda, humidityRatio });
          const atoms = chargeAtoms(fuel, { lambda, humidityRatio });
          for (const p of [1e5, 1e6, 6e6, 1.5e7]) {
            for (let T = 600; T <= (p < 1e6 ? 2200 : 2900); T += 130) {
              const state = burnedState(atoms, { temperature: T, pressure: p });
              burnedInto(out, gas.burned, Float64Array.of(state.enthalpy - gas.burnedReference, p ** -0.25));
              expect(relative(out[0], state.gasEnergy)).toBeLessThan(1e-3);
              expect(Math.abs(out[3] - T)).toBeLessThan(8);
            }
          }
        }
      }
    },
  );

  it('gives slopes that are those of its values', () => {
    const gas = gasModel(petrol(98)).of({ lambda: 0.87, humidityRatio: 0.01 });
    const at = (h: number, p: number): Float64Array => {
      const out = new Float64Array(4);
      burnedInto(out, gas.burned, Float64Array.of(h, p ** -0.25));
      return out;
    };
    for (const h of [-4e5, 3e5, 1.1e6, 2e6]) {
      for (const p of [2e5, 3e6, 1e7]) {
        const byEnthalpy = (at(h + 10, p)[0] - at(h - 10, p)[0]) / 20;
        const byLogPressure = (at(h, p * 1.0001)[0] - at(h, p / 1.0001)[0]) / (2 * Math.log(1.0001));
        expect(relative(at(h, p)[1], byEnthalpy)).toBeLessThan(1e-6);
        expect(Math.abs(at(h, p)[2] - byLogPressure)).toBeLessThan(1e-5 * at(h, p)[0]);
      }
    }
  });
});

describe('fuels', () => {
  const only = (carbon: number, hydrogen: number, oxygen: number): Fuel =>
    ownFuel({
      name: 'test',
      carbon,
      hydrogen,
      oxygen,
      heatingValue: specificEnergy(40e6),
      latentHeat: specificEnergy(3e5),
      density: density(750),
      octane: ratio(95),
    });

  it.each([
    ['4-26', 8, 18, 0, 15.128],
    ['4-27', 7, 8, 0, 13.503],
    ['4-28', 2, 6, 1, 9.003],
    ['4-29', 1, 4, 1, 6.472],
    ['4-30', 1, 1.87, 0, 14.6],
  ])(
    'check %s (air of Heywood ch. 3, from memory; numpy 2.4.6): stoichiometric ratio of C%d H%d O%d',
    (...[, C, H, O, wanted]) => {
      expect(Math.abs(stoichiometricRatio(only(C, H, O)) - wanted)).toBeLessThan(0.01);
    },
  );

  it.each([
    ['4-31', 8, 18, 0, -259.2e3, 44.342],
    ['4-32', 2, 6, 1, -277.6e3, 26.805],
    ['4-33', 1, 4, 1, -238.9e3, 19.92],
  ])(
    'check %s (enthalpies of formation from memory, numpy 2.4.6): heating value',
    (...[, C, H, O, perMole, wanted]) => {
      const found = heatingValueFromFormation({ carbon: C, hydrogen: H, oxygen: O }, { perMole });
      expect(Math.abs(found / 1e6 - wanted)).toBeLessThan(0.02);
    },
  );

  it('checks 4-34, 4-35, 4-36, 4-37 (US DOE AFDC table, seen): petrol, ethanol, methanol', () => {
    const perPound = (value: number): number => value * 2326;
    expect(relative(petrol(95).heatingValue, perPound(18676))).toBeLessThan(1e-4);
    expect(relative(ETHANOL.heatingValue, perPound(11585))).toBeLessThan(1e-4);
    expect(relative(METHANOL.heatingValue, perPound(8637))).toBeLessThan(1e-4);
    expect(relative(petrol(95).latentHeat, perPound(150))).toBeLessThan(2e-3);
    expect(relative(ETHANOL.latentHeat, perPound(396))).toBeLessThan(2e-3);
    expect(relative(METHANOL.latentHeat, perPound(506))).toBeLessThan(2e-3);
    // density at 60 °F: 6.0 … 6.5, 6.61 and 6.63 lb a US gallon of 3.785412 L, 0.45359237 kg a pound (SP 811)
    const perGallon = (value: number): number => (value * 0.45359237) / 3.785412e-3;
    expect(petrol(95).density).toBeGreaterThan(perGallon(6));
    expect(petrol(95).density).toBeLessThan(perGallon(6.5));
    expect(relative(ETHANOL.density, perGallon(6.61))).toBeLessThan(0.01);
    expect(relative(METHANOL.density, perGallon(6.63))).toBeLessThan(0.01);
    expect(relative(stoichiometricRatio(ETHANOL), 9)).toBeLessThan(0.01);
    expect(relative(stoichiometricRatio(petrol(95)), 14.7)).toBeLessThan(0.01);
  });

  it('check 4-38 (mass-weighted mixing, numpy 2.4.6): 85 % ethanol by volume', () => {
    const blend = ethanolBlend(0.85);
    expect(relative(stoichiometricRatio(blend), 9.7955)).toBeLessThan(5e-4);
    expect(relative(blend.heatingValue, 29.2925e6)).toBeLessThan(2e-4);
    expect(blend.vapour.find(({ name }) => name === 'ethanol')?.share).toBeCloseTo(0.85794, 4);
  });

  it.each(
    [petrol(98), ETHANOL, METHANOL, METHANE, LPG, ethanolBlend(0.3)].map((fuel): [string, Fuel] => [fuel.name, fuel]),
  )(
    'burning at 298.15 K to CO₂ and water vapour gives the heating value plus what vaporisation took (%s)',
    (_, fuel) => {
      const mixture = { lambda: 1.5, humidityRatio: 0.01 };
      const gas = gasModel(fuel).of(mixture);
      const shares = chargeShares(fuel, mixture);
      const atoms = chargeAtoms(fuel, mixture);
      const water = atoms.hydrogen / 2;
      const oxygen = (atoms.oxygen - 2 * atoms.carbon - water) / 2;
      const products =
        atoms.carbon * speciesEnthalpy(NASA_SPECIES.CO2, 298.15) +
        water * speciesEnthalpy(NASA_SPECIES.H2O, 298.15) +
        oxygen * speciesEnthalpy(NASA_SPECIES.O2, 298.15) +
        (atoms.nitrogen / 2) * speciesEnthalpy(NASA_SPECIES.N2, 298.15) +
        atoms.argon * speciesEnthalpy(NASA_SPECIES.Ar, 298.15);
      const released = polynomialEnthalpy(gas.fresh, 298.15) - products;
      expect(relative(released / shares.fuel, fuel.heatingValue + fuel.latentHeat)).toBeLessThan(2e-4);
      expect(formationEnthalpy(fuel)).toBeLessThan(0);
    },
  );

  it('a blend of one fuel is that fuel', () => {
    const blend = blendedFuel('same', [{ fuel: ETHANOL, volume: 3 }]);
    expect(stoichiometricRatio(blend)).toBeCloseTo(stoichiometricRatio(ETHANOL), 12);
    expect(blend.heatingValue).toBeCloseTo(ETHANOL.heatingValue, 3);
    expect(blend.octane).toBeCloseTo(ETHANOL.octane, 12);
  });
});
