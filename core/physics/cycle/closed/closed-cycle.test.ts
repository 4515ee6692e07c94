import { describe, expect, it } from 'vitest';
import { length, ratio } from '../../../quantities/index.ts';
import { wiebeShare } from '../burn/wiebe.ts';
import { burnedState } from '../gas/burned-gas.ts';
import { CELL, CELL_TEMPERATURE, GRID } from '../gas/burned-table.ts';
import { chargeAtoms } from '../gas/charge.ts';
import type { MixtureGas } from '../gas/gas-model.ts';
import { polynomialEnthalpy, polynomialHeatCapacity } from '../gas/polynomial.ts';
import { MOLAR_GAS_CONSTANT } from '../gas/species.ts';
import { cylinderVolume } from '../mechanism/cylinder.ts';
import { boostedInput, FUEL, MIXTURE } from '../testing/boosted-input.ts';
import { DEGREE } from '../testing/invented-engine.ts';
import { type ClosedInput, closedCycle, internalEnergy, prepareCycle } from './closed-cycle.ts';
import { BURN_SPAN, fillGridInto } from './grid.ts';
import { idealEfficiency } from './ideal-cycles.ts';
import { ignitionDelay, knockIntegral } from './ignition-delay.ts';
import { marchPart } from './march.ts';
import { S, USUAL_STEPS, workspace } from './workspace.ts';
import { woschniCoefficient, woschniSpeed } from './woschni.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const SHAPE = { bore: length(0.086), stroke: length(0.086), rodLength: length(0.143), compressionRatio: ratio(10) };
const R = 287;
/** Heat set free by one kilogram of the ideal charge [J/kg]. */
const HEAT = 1.6e6;

/** Gas with k = 1.4 before and after burning, and so much heat [J/kg] between the two: the air of textbooks. */
function textbookGas(heat: number): MixtureGas {
  const cp = 3.5 * R;
  const fresh = new Float64Array(14);
  fresh[0] = cp / MOLAR_GAS_CONSTANT;
  fresh[7] = fresh[0];
  const burned = new Float64Array(GRID.cells * CELL);
  for (let cell = 0; cell < GRID.cells; cell++) {
    const T = (GRID.firstEnthalpy + cell * GRID.enthalpyStep + heat) / cp;
    burned.set([R * T, (R * GRID.enthalpyStep) / cp], cell * CELL);
    burned.set([T, GRID.enthalpyStep / cp], cell * CELL + CELL_TEMPERATURE);
  }
  return {
    burned,
    burnedReference: 0,
    fresh,
    residual: fresh.slice(),
    freshConstant: R,
    residualConstant: R,
    shares: { air: 1, water: 0, fuel: 0 },
  };
}

function idealInput(
  start: number,
  duration: number,
  { shape = SHAPE, temperature = 300, heat = HEAT } = {},
): ClosedInput {
  const pressure = 1e5;
  return {
    shape,
    gas: textbookGas(heat),
    span: { intakeCloses: -Math.PI, exhaustOpens: Math.PI, wiebe: { start, duration }, burnedShare: 0.999999999 },
    turning: 300,
    charge: {
      mass: (pressure * cylinderVolume(shape, Math.PI)) / (R * temperature),
      pressure,
      temperature,
      residual: 0,
    },
    wallTemperature: 400,
    heatFactor: 1e-12,
    leakArea: 0,
    crankcasePressure: 1e5,
    octane: 95,
    delayFactor: 1,
  };
}

/** Efficiency when the second part burns in so small a span that it stands for constant volume, and the third at constant pressure. */
function limitedPressure(
  atConstantVolume: number,
  steps = 16000,
): { readonly efficiency: number; readonly cycle: Record<'a' | 'b', number> } {
  const w = workspace({ compression: 200, burning: 400, expansion: steps });
  const tiny = 1e-3;
  const input = idealInput(-tiny / 2, tiny / BURN_SPAN);
  const parts = fillGridInto(w, SHAPE, { ...input.span, burnedShare: atConstantVolume });
  // in the third part pressure stays while volume and heat rise together: the slope of the burned share with volume is cp·p/(R·m·HEAT)
  prepareCycle(w, input);
  marchPart(w, parts[0]);
  marchPart(w, parts[1]);
  const pressure = w.state[S.pressure];
  const { volume, share, rate, relativeChange, hotWalls } = w.points;
  const first = parts[2].point;
  const perVolume = (3.5 * pressure) / (input.charge.mass * HEAT);
  let cutOff = 0;
  for (let j = first; j <= first + 2 * parts[2].steps; j++) {
    const wanted = atConstantVolume + perVolume * (volume[j] - volume[first]);
    share[j] = Math.min(wanted, 0.999999999);
    rate[j] = wanted < 1 ? perVolume * volume[j] * relativeChange[j] : 0;
    hotWalls[j] = 1;
    if (wanted < 1) cutOff = volume[j];
  }
  marchPart(w, parts[2]);
  const a = 1 + (atConstantVolume * HEAT) / (2.5 * R * 300 * 10 ** 0.4);
  const b = 1 + (1 - atConstantVolume) / (perVolume * volume[first]);
  expect(relative(cutOff / volume[first], b)).toBeLessThan(0.01);
  return { efficiency: w.state[S.work] / (input.charge.mass * HEAT), cycle: { a, b } };
}

describe('limits of the closed cycle with the air of textbooks', () => {
  it('burning in no time at top dead centre is the Otto cycle', () => {
    const w = workspace({ compression: 400, burning: 400, expansion: 400 });
    const input = idealInput(-0.5e-3, 1e-3 / BURN_SPAN);
    const efficiency = closedCycle(w, input).work / (input.charge.mass * HEAT);
    const ideal = idealEfficiency({ compressionRatio: 10, heatCapacityRatio: 1.4, pressureRatio: 2, cutOffRatio: 1 });
    expect(Math.abs(efficiency - ideal)).toBeLessThan(2e-6);
  });

  it('check 4-39 (textbook problem, answers seen, inputs from memory): 1 bar, 290 K, 400 cm³, ratio 8, up to 2200 K: 0.529 kJ in, 0.299 kJ out', () => {
    const bore = 0.0764;
    const stroke = (400e-6 * (7 / 8)) / ((Math.PI / 4) * bore ** 2);
    const shape = { bore: length(bore), stroke: length(stroke), rodLength: length(0.14), compressionRatio: ratio(8) };
    // cv·(2200 − 290·8^0.4) = 718·1533.75 = 1.101 23 MJ/kg lift the charge from the end of compression to 2200 K
    const heat = 1.10123e6;
    const input = idealInput(-0.5e-3, 1e-3 / BURN_SPAN, { shape, temperature: 290, heat });
    const { work } = closedCycle(workspace({ compression: 400, burning: 400, expansion: 400 }), input);
    expect(relative(input.charge.mass * heat, 529)).toBeLessThan(0.005);
    expect(relative(work, 299)).toBeLessThan(0.005);
    expect(relative(work / (input.charge.mass * heat), 0.565)).toBeLessThan(0.005);
    expect(relative(work / (400e-6 * (7 / 8)), 8.54e5)).toBeLessThan(0.005);
  });

  it('approaches it from below, with the square of the duration', () => {
    const lack = [0.4, 0.2, 0.1].map((duration) => {
      const input = idealInput(-duration / 2, duration);
      const { work } = closedCycle(workspace({ compression: 200, burning: 200, expansion: 200 }), input);
      return 1 - 10 ** -0.4 - work / (input.charge.mass * HEAT);
    });
    expect(lack.every((value) => value > 0)).toBe(true);
    expect(Math.log2(lack[0] / lack[1])).toBeGreaterThan(1.7);
    expect(Math.log2(lack[1] / lack[2])).toBeLessThan(2.3);
  });

  it.each([
    ['Diesel', 0],
    ['limited-pressure', 0.4],
  ])('%s cycle: part of the heat at constant volume, the rest at constant pressure', (_, part) => {
    const { efficiency, cycle } = limitedPressure(part);
    const ideal = idealEfficiency({
      compressionRatio: 10,
      heatCapacityRatio: 1.4,
      pressureRatio: cycle.a,
      cutOffRatio: cycle.b,
    });
    expect(Math.abs(efficiency - ideal)).toBeLessThan(1e-4);
  });
});

/** [J] */
function fuelEnergy(input: ClosedInput): number {
  return input.charge.mass * (1 - input.charge.residual) * input.gas.shares.fuel * FUEL.heatingValue;
}

describe('closed cycle with real gas', () => {
  it('compression without loss keeps the entropy', () => {
    const input = boostedInput({ heatFactor: 1e-12 });
    const w = workspace(USUAL_STEPS);
    closedCycle(w, input);
    const constant = w.frame[0];
    // s(T₂) − s(T₁) = ∫ cp/T dT by fine Simpson steps
    const node = USUAL_STEPS.compression;
    const [from, to] = [w.trace.unburned[0], w.trace.unburned[node]];
    let rise = 0;
    const n = 2000;
    for (let i = 0; i <= n; i++) {
      const T = from + ((to - from) * i) / n;
      const weight = i === 0 || i === n ? 1 : i % 2 ? 4 : 2;
      rise += ((weight * polynomialHeatCapacity(w.unburned, T)) / T) * ((to - from) / n / 3);
    }
    expect(Math.abs(rise - constant * Math.log(w.trace.pressure[node] / w.trace.pressure[0]))).toBeLessThan(
      1e-4 * rise,
    );
  });

  it('a leak takes mass and enthalpy, and the energy balance still closes', () => {
    const tight = boostedInput();
    const w = workspace(USUAL_STEPS);
    const whole = closedCycle(w, tight);
    expect(whole.massAtEnd).toBe(tight.charge.mass);
    const leaking = boostedInput({ leakArea: 0.5e-6 });
    const found = closedCycle(w, leaking);
    expect(found.massAtEnd).toBeLessThan(0.99 * tight.charge.mass);
    expect(found.peak.pressure).toBeLessThan(whole.peak.pressure);
    const lack = found.energyAtStart - found.energyAtEnd - found.work - found.heat - found.leakedEnthalpy;
    expect(Math.abs(lack) / fuelEnergy(leaking)).toBeLessThan(1e-6);
  });

  it('zones fill the cylinder: volume from masses and states is that of the piston', () => {
    const input = boostedInput();
    const w = workspace(USUAL_STEPS);
    closedCycle(w, input);
    const atoms = chargeAtoms(FUEL, MIXTURE);
    const last = w.trace.angle.length - 1;
    for (const node of [40, 52, 64, last]) {
      const p = w.trace.pressure[node];
      const x = w.trace.share[node];
      const hot = burnedState(atoms, { temperature: w.trace.burned[node], pressure: p }).gasEnergy;
      const volume = (input.charge.mass * ((1 - x) * w.frame[0] * w.trace.unburned[node] + x * hot)) / p;
      expect(relative(volume, cylinderVolume(input.shape, w.trace.angle[node]))).toBeLessThan(3e-3);
    }
  });

  it('twin: agrees with a plain march on equilibrium itself, without tables, to 3e-4 in work and peak pressure', () => {
    const input = boostedInput();
    const fast = closedCycle(workspace(USUAL_STEPS), input);
    const slow = plainMarch(input);
    expect(relative(fast.work, slow.work)).toBeLessThan(3e-4);
    expect(relative(fast.peak.pressure, slow.peak)).toBeLessThan(3e-4);
    expect(relative(fast.heat, slow.heat)).toBeLessThan(3e-3);
  });

  it('internal energy of a charge that has not burned is that of its polynomial', () => {
    const input = boostedInput();
    const w = workspace(USUAL_STEPS);
    fillGridInto(w, input.shape, input.span);
    prepareCycle(w, input);
    const { mass, temperature } = input.charge;
    const wanted = mass * (polynomialEnthalpy(w.unburned, temperature) - w.frame[0] * temperature);
    expect(internalEnergy(w, 0)).toBeCloseTo(wanted, 9);
  });
});

/** Half-implicit steps of a quarter degree: enthalpies of both zones, equilibrium at every look, pressure by the secant method. */
function plainMarch(input: ClosedInput): { readonly work: number; readonly peak: number; readonly heat: number } {
  const { shape, span, charge, gas, turning } = input;
  const fresh = gas.fresh.map((value, k) => (1 - charge.residual) * value + charge.residual * gas.residual[k]);
  const constant = (1 - charge.residual) * gas.freshConstant + charge.residual * gas.residualConstant;
  const atoms = chargeAtoms(FUEL, MIXTURE);
  const whole = wiebeShare({ start: 0, duration: 1 }, BURN_SPAN);
  const shareAt = (angle: number): number =>
    (span.burnedShare * Math.min(wiebeShare(span.wiebe, angle), whole)) / whole;
  const area = (V: number): number => (Math.PI / 2) * shape.bore ** 2 + (4 * V) / shape.bore;
  const reference = { ...charge, volume: cylinderVolume(shape, span.intakeCloses) };
  const displacement = (Math.PI / 4) * shape.bore ** 2 * shape.stroke;
  let [p, cool, hot] = [charge.pressure, charge.temperature, 0];
  let coolEnthalpy = polynomialEnthalpy(fresh, cool);
  let hotEnthalpy = 0;
  let [work, heat, peak, startPressure, startVolume] = [0, 0, 0, 0, 0];
  const step = 0.25 * DEGREE;
  const temperatureOf = (h: number, near: number): number => {
    let T = near;
    for (let i = 0; i < 6; i++) T -= (polynomialEnthalpy(fresh, T) - h) / polynomialHeatCapacity(fresh, T);
    return T;
  };
  const hotOf = (h: number, pressure: number, near: number) => {
    let T = near;
    for (let i = 0; i < 4; i++) {
      const at = burnedState(atoms, { temperature: T, pressure });
      const above = burnedState(atoms, { temperature: T + 1, pressure });
      T -= (at.enthalpy - h) / (above.enthalpy - at.enthalpy);
    }
    return { T, energy: burnedState(atoms, { temperature: T, pressure }).gasEnergy };
  };
  let hotEnergy = 0;
  for (let angle = span.intakeCloses; angle < span.exhaustOpens - 1e-9; angle += step) {
    const [V0, V1] = [cylinderVolume(shape, angle), cylinderVolume(shape, angle + step)];
    const [x0, x1] = [shareAt(angle), shareAt(angle + step)];
    if (x0 === 0) [startPressure, startVolume] = [p, V0];
    const motored = x1 > 0 ? startPressure * (startVolume / V0) ** 1.3 : p;
    const gasSpeed = woschniSpeed({
      meanPistonSpeed: (shape.stroke * turning) / Math.PI,
      displacement,
      reference,
      pressure: p,
      motoredPressure: motored,
    });
    const mean = (p * V0) / (charge.mass * constant);
    const film =
      (input.heatFactor *
        woschniCoefficient({ bore: shape.bore, pressure: p, temperature: mean, gasSpeed }) *
        area(V0) *
        step) /
      turning;
    const walls = x0 ** (2 / 3);
    const lostCool = film * (1 - walls) * (cool - input.wallTemperature);
    const lostHot = x0 > 0 ? film * walls * (hot - input.wallTemperature) : 0;
    const cold = (next: number): number =>
      coolEnthalpy + (constant * cool * 2 * (next - p)) / (next + p) - lostCool / (charge.mass * (1 - x0));
    const after = (next: number) => {
      const h = cold(next);
      const T = temperatureOf(h, cool);
      const coldVolume = (charge.mass * (1 - x1) * constant * T) / next;
      if (x1 < 1e-9) return { h, T, hot: { T: 2300, energy: 0 }, sum: 0, volume: coldVolume };
      const burnedVolume = ((charge.mass * x0 * hotEnergy) / p + (V1 - coldVolume)) / 2;
      const sum =
        charge.mass * x0 * hotEnthalpy +
        burnedVolume * (next - p) -
        lostHot +
        charge.mass * (x1 - x0) * ((h + coolEnthalpy) / 2);
      const state = hotOf(sum / (charge.mass * x1), next, hot > 0 ? hot : 2300);
      return { h, T, hot: state, sum, volume: coldVolume + (charge.mass * x1 * state.energy) / next };
    };
    let [a, b] = [p, p * (V0 / V1) ** 1.3 * 1.001];
    for (let i = 0; i < 12 && Math.abs(b - a) > 1e-9 * p; i++) {
      const [fa, fb] = [after(a).volume - V1, after(b).volume - V1];
      [a, b] = [b, fa === fb ? b : b - (fb * (b - a)) / (fb - fa)];
    }
    const end = after(b);
    work += ((p + b) / 2) * (V1 - V0);
    heat += lostCool + lostHot;
    [p, cool, coolEnthalpy] = [b, end.T, end.h];
    if (x1 >= 1e-9) [hot, hotEnergy, hotEnthalpy] = [end.hot.T, end.hot.energy, end.sum / (charge.mass * x1)];
    peak = Math.max(peak, p);
  }
  return { work, peak, heat };
}

describe('the knock integral of a cycle', () => {
  it('is that of pressure and unburned temperature over time up to half the burning part, by the plain rule', () => {
    const w = workspace({ compression: 400, burning: 400, expansion: 100 });
    const input = boostedInput();
    const { knockIntegral: found } = closedCycle(w, input);
    const { intakeCloses, wiebe } = input.span;
    const angles = [
      ...Array.from({ length: 400 }, (_, i) => intakeCloses + ((wiebe.start - intakeCloses) * i) / 400),
      ...Array.from({ length: 201 }, (_, i) => wiebe.start + (BURN_SPAN * wiebe.duration * i) / 400),
    ];
    const times = angles.map((angle) => (angle - intakeCloses) / input.turning);
    const rates = times.map(
      (_, i) => 1 / ignitionDelay(input.octane, { pressure: w.trace.pressure[i], temperature: w.trace.unburned[i] }),
    );
    expect(found).toBeGreaterThan(0.05);
    expect(relative(found, knockIntegral(times, rates))).toBeLessThan(1e-3);
  });
});
