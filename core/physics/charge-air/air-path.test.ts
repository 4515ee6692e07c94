import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  absolutePressure,
  angularSpeed,
  area,
  density,
  fromSi,
  length,
  massFlow,
  measured,
  power,
  pressureDifference,
  ratio,
  speed,
  temperature,
  temperatureDifference,
  toSi,
  unitOf,
  volume,
} from '../../quantities/index.ts';
import { standardAtmosphere } from '../air/standard-atmosphere.ts';
import { airMassFlow } from './air-mass-flow.ts';
import {
  AIR,
  compressorEfficiency,
  compressorOutletTemperature,
  compressorPower,
  efficiencyOfPolytropic,
} from './compression.ts';
import { compressorDemand, demandedSpeed } from './compressor-demand.ts';
import { compressorMap } from './compressor-map.ts';
import { actualFlow, actualSpeed, correctedFlow, correctedSpeed, MAP_REFERENCES } from './corrected-flow.ts';
import { mapPoint } from './map-point.ts';
import { criticalPressureRatio, isentropicState, massFlowFunction, nozzleFlow } from './nozzle-flow.ts';
import { dryAirDensity, pressureLoss } from './pressure-loss.ts';
import { shaftSpeedMargin, speedOfTip, tipSpeed } from './tip-speed.ts';
import { gateArea, shutGatePressure, turbineBalance, turbineFlow, turbinePower } from './turbine.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe('compression', () => {
  const step = { inletTemperature: temperature(298.15), pressureRatio: ratio(2), efficiency: ratio(0.72) };

  it('check 4-42 (isentropic relations, computed with numpy 2.4.6): outlet temperature and power', () => {
    expect(relative(compressorOutletTemperature({ ...step, efficiency: ratio(1) }), 363.449)).toBeLessThan(1e-5);
    expect(relative(compressorOutletTemperature(step), 388.843)).toBeLessThan(1e-5);
    expect(relative(compressorPower(massFlow(0.25), step), 22786.6)).toBeLessThan(1e-5);
  });

  it('check 4-43 (isentropic relations, computed with numpy 2.4.6): efficiency from temperatures', () => {
    const reading = {
      inletTemperature: temperature(300),
      outletTemperature: temperature(410),
      pressureRatio: ratio(2.2),
    };
    expect(relative(compressorEfficiency(reading), 0.68909)).toBeLessThan(1e-5);
    expect(compressorEfficiency({ ...reading, outletTemperature: temperature(300) })).toBeNaN();
  });

  it('check 4-44 (textbook, computed with numpy 2.4.6): polytropic efficiency', () => {
    expect(efficiencyOfPolytropic(ratio(0.8), ratio(2.5), AIR)).toBeCloseTo(0.773003, 6);
  });
});

describe('corrected flow', () => {
  it('check 4-45 (similarity, computed with numpy 2.4.6), and back', () => {
    const inlet = { temperature: temperature(308), pressure: absolutePressure(97e3) };
    const reference = MAP_REFERENCES['298K-100kPa'];
    expect(relative(correctedFlow(massFlow(0.3), inlet, reference), 0.314346)).toBeLessThan(2e-6);
    expect(actualFlow(correctedFlow(massFlow(0.3), inlet, reference), inlet, reference)).toBeCloseTo(0.3, 12);
    expect(actualSpeed(correctedSpeed(angularSpeed(1e4), inlet, reference), inlet, reference)).toBeCloseTo(1e4, 8);
    // 10 000 rad/s at 308 K: ·√(298.15/308) = 9838.8, by hand
    expect(relative(correctedSpeed(angularSpeed(1e4), inlet, reference), 9838.8)).toBeLessThan(1e-5);
  });

  // 0.3·√(308/T)/(97 kPa/p): 545 °R is 302.78 K, 28.4 inHg 96.17 kPa (SP 811: 3386.39 Pa an inHg); worked by hand
  it.each([
    ['standard-sea-level', 288.15, 101325, 0.32399],
    ['545R-28.4inHg', (545 * 5) / 9, 28.4 * 3386.389, 0.299986],
  ] as const)('check 4-45 (list of references: common practice): the state %s', (...[name, T, p, flow]) => {
    const inlet = { temperature: temperature(308), pressure: absolutePressure(97e3) };
    const reference = MAP_REFERENCES[name];
    expect(relative(reference.temperature, T)).toBeLessThan(2e-5);
    expect(relative(reference.pressure, p)).toBeLessThan(5e-5);
    expect(relative(correctedFlow(massFlow(0.3), inlet, reference), flow)).toBeLessThan(1e-5);
  });
});

describe('nozzle flow', () => {
  it.each([
    ['4-46', 1.4, 0.528282, 0.684731],
    ['4-47', 1.3, 0.545728, 0.667262],
    ['4-48', 1.35, 0.536851, 0.676145],
  ])('check %s (one-dimensional gas dynamics, computed with numpy 2.4.6): k = %f', (...[_, k, critical, flow]) => {
    expect(criticalPressureRatio(k)).toBeCloseTo(critical, 6);
    expect(massFlowFunction(ratio(0.2), k)).toBeCloseTo(flow, 6);
    expect(massFlowFunction(criticalPressureRatio(k), k)).toBeCloseTo(flow, 6);
    expect(massFlowFunction(ratio(1), k)).toBe(0);
    expect(massFlowFunction(ratio(1.1), k)).toBeNaN();
  });

  it.each([
    ['4-49', 0.5, 0.84302, 0.95238, 1.33984],
    ['4-50', 0.8, 0.65602, 0.88652, 1.03823],
    ['4-51', 2.0, 0.1278, 0.55556, 1.6875],
  ])('check %s (compressible-flow table): Mach %f', (...[_, mach, p, T, A]) => {
    const state = isentropicState(mach, 1.4);
    expect(Math.abs(state.pressureRatio - p)).toBeLessThan(1e-5);
    expect(Math.abs(state.temperatureRatio - T)).toBeLessThan(1e-5);
    expect(Math.abs(state.areaRatio - A)).toBeLessThan(1e-5);
    // nozzle and table agree: flow function over its choked value is the inverse area ratio (identity)
    if (mach < 1) {
      const share = massFlowFunction(state.pressureRatio, 1.4) / massFlowFunction(ratio(0), 1.4);
      expect(share).toBeCloseTo(1 / state.areaRatio, 9);
    }
  });

  it('check 4-52 (compressible nozzle, computed with numpy 2.4.6): open and choked', () => {
    const nozzle = {
      effectiveArea: area(0.7 * 5e-4),
      upstreamPressure: absolutePressure(200e3),
      upstreamTemperature: temperature(320),
    };
    expect(relative(nozzleFlow({ ...nozzle, downstreamPressure: absolutePressure(160e3) }), 0.129493)).toBeLessThan(
      4e-6,
    );
    expect(relative(nozzleFlow({ ...nozzle, downstreamPressure: absolutePressure(100e3) }), 0.158148)).toBeLessThan(
      4e-6,
    );
  });
});

describe('turbine and gate', () => {
  const turbine = { effectiveArea: area(6.6e-4), efficiency: ratio(0.66), mechanicalEfficiency: ratio(0.97) };
  const exhaust = { flow: massFlow(0.29), temperature: temperature(1160), outletPressure: absolutePressure(94e3) };

  // gas constant 1150·0.33/1.33 = 285.34; unchoked at 94/150, choked at 94/247 (critical ratio 0.5404); isentropic drop 1 − (94/p3)^(0.33/1.33):
  // 0.10949 and 0.21314; power 0.97·0.66·ṁ·1150·1160 K·drop. Worked with Python 3.13 from the formulas of one-dimensional gas dynamics.
  it.each([
    [150, 0.661088, 0.113759, 10636.9],
    [247, 0.672628, 0.190593, 34693.4],
  ])('worked flow and power at %i kPa before the turbine', (...[kPa, psi, flow, watt]) => {
    const inlet = absolutePressure(kPa * 1e3);
    expect(massFlowFunction(ratio(94 / kPa), 1.33)).toBeCloseTo(psi, 6);
    expect(relative(turbineFlow(turbine, exhaust, inlet), flow)).toBeLessThan(2e-6);
    expect(relative(turbinePower(turbine, exhaust, inlet), watt)).toBeLessThan(5e-6);
    // the same area as a gate passes the same flow
    expect(relative(gateArea({ ...exhaust, flow: massFlow(flow) }, inlet, ratio(1)), 6.6e-4)).toBeLessThan(2e-6);
  });

  it('gives the compressor exactly what it takes (identity)', () => {
    const found = turbineBalance(turbine, exhaust, power(30e3));
    if (found.kind !== 'balanced') throw new Error(found.kind);
    expect(turbinePower(turbine, exhaust, found.inletPressure)).toBeCloseTo(30e3, 3);
    expect(found.gateShare).toBeCloseTo(1 - turbineFlow(turbine, exhaust, found.inletPressure) / exhaust.flow, 12);
    // what the shaft took is missing in the mixed outlet
    const taken = exhaust.flow * 1150 * (exhaust.temperature - found.outletTemperature);
    expect(taken * 0.97).toBeCloseTo(30e3, 3);
  });

  it('opens the gate wide without demand, shuts it as demand rises, then falls short', () => {
    const idle = turbineBalance(turbine, exhaust, power(0));
    expect(idle.kind === 'balanced' && idle.gateShare).toBeCloseTo(1, 5);
    const shut = shutGatePressure(turbine, exhaust);
    const most = turbinePower(turbine, exhaust, shut);
    const nearly = turbineBalance(turbine, exhaust, power(most * 0.9999));
    expect(nearly.kind === 'balanced' && nearly.gateShare).toBeLessThan(1e-3);
    expect(turbineBalance(turbine, exhaust, power(most * 1.01))).toMatchObject({ kind: 'short of power' });
    expect(turbineFlow(turbine, exhaust, shut)).toBeCloseTo(exhaust.flow, 9);
  });
});

describe('losses, height, tips', () => {
  it('a loss goes with the square of flow and with the inverse of density', () => {
    const known = { drop: pressureDifference(9e3), flow: massFlow(0.26), density: density(2.1) };
    expect(pressureLoss(known, massFlow(0.52), density(2.1))).toBeCloseTo(36e3, 6);
    expect(pressureLoss(known, massFlow(0.26), density(4.2))).toBeCloseTo(4.5e3, 6);
    expect(pressureLoss(known, massFlow(0), density(2.1))).toBe(0);
  });

  it('thin air asks for more pressure ratio, more corrected flow and more shaft speed for the same manifold pressure', () => {
    const demandAt = (altitude: number) => {
      const { temperature: T, pressure } = standardAtmosphere(length(altitude));
      return compressorDemand(
        {
          airFlow: massFlow(0.26),
          manifoldPressure: absolutePressure(200e3),
          chargeTemperature: temperature(335),
          ambient: { temperature: T, pressure },
        },
        MAP_REFERENCES['298K-100kPa'],
      );
    };
    const [low, high] = [demandAt(0), demandAt(3000)];
    expect(high.pressureRatio / low.pressureRatio).toBeCloseTo(101325 / standardAtmosphere(length(3000)).pressure, 9);
    expect(high.correctedFlow).toBeGreaterThan(low.correctedFlow * 1.3);
  });

  it('worked demand of two compressors on a high plateau: losses with the square of the flow and the inverse of density', () => {
    // ρ of the inlet 85.3e3/(287.05·305.15) = 0.973819, of the charge 200e3/(287.05·339.15) = 2.054379 kg/m³;
    // Δp 1200·(0.2636/0.26)²/0.973819 = 1266.62 Pa and 9000·(0.2636/0.26)²·2/2.054379 = 9006.08 Pa, by hand
    const found = compressorDemand(
      {
        airFlow: massFlow(0.2636),
        manifoldPressure: absolutePressure(200e3),
        chargeTemperature: temperature(339.15),
        ambient: { temperature: temperature(300.15), pressure: absolutePressure(85.3e3) },
        inletLoss: { drop: pressureDifference(1.2e3), flow: massFlow(0.26), density: density(1) },
        coolerLoss: { drop: pressureDifference(9e3), flow: massFlow(0.26), density: density(2) },
        inletWarming: temperatureDifference(5),
        compressors: 2,
      },
      MAP_REFERENCES['298K-100kPa'],
    );
    expect(found.inlet.temperature).toBeCloseTo(305.15, 9);
    expect(found.inlet.pressure).toBeCloseTo(84033.38, 2);
    expect(found.outletPressure).toBeCloseTo(209006.08, 2);
    expect(found.pressureRatio).toBeCloseTo(2.487179, 6);
    expect(found.correctedFlow).toBeCloseTo(0.1586729, 7);
  });

  it('an inlet loss as large as the air pressure leaves no pressure ratio', () => {
    const found = compressorDemand(
      {
        airFlow: massFlow(3),
        manifoldPressure: absolutePressure(200e3),
        chargeTemperature: temperature(335),
        ambient: { temperature: temperature(300), pressure: absolutePressure(85e3) },
        inletLoss: { drop: pressureDifference(1e3), flow: massFlow(0.2), density: density(1) },
        inletWarming: temperatureDifference(5),
        compressors: 2,
      },
      MAP_REFERENCES['298K-100kPa'],
    );
    expect(found.pressureRatio).toBeNaN();
    expect(found.flow).toBe(1.5);
  });

  it('tip speed is half diameter times rotation, and back: 78 mm at 560 m/s turn at 137.1 krpm (worked by hand)', () => {
    const shaft = speedOfTip(length(0.078), speed(560));
    expect(fromSi(shaft, unitOf('krpm'))).toBeCloseTo(137.12, 2);
    expect(tipSpeed(length(0.078), shaft)).toBeCloseTo(560, 9);
  });
});

describe('our invented engine', () => {
  // its day: 85.3 kPa, 27 °C; compressor and engine figures are the invented ones of our demonstration
  const rows = readFileSync(join(import.meta.dirname, 'fixtures/invented-compressor.csv'), 'utf8')
    .split('\n')
    .filter((line) => /^\d/.test(line))
    .map((line) => line.split(',').map(Number));
  const column = (k: number, unit: string) => ({ values: rows.map((row) => row[k]), unit });
  const built = compressorMap({
    columns: {
      speed: column(0, 'krpm'),
      flow: column(1, 'kg/s'),
      pressureRatio: column(2, ''),
      efficiency: column(3, ''),
    },
    reference: MAP_REFERENCES['298K-100kPa'],
  });
  if (!built.ok) throw new Error(built.refusal.kind);
  const map = built.value;
  const ambient = { temperature: temperature(300.15), pressure: absolutePressure(85.3e3) };
  const demand = (filling: number, rpm: number, { MAP, charge }: { MAP: number; charge: number }) => {
    const chargeTemperature = temperature(charge + 273.15);
    const manifoldPressure = absolutePressure(MAP * 1e3);
    const airFlow = airMassFlow({
      volumetricEfficiency: ratio(filling),
      manifoldPressure,
      chargeTemperature,
      displacement: volume(2.48e-3),
      engineSpeed: angularSpeed(toSi(rpm, unitOf('rpm'))),
    });
    return {
      airFlow,
      manifoldPressure,
      chargeTemperature,
      ambient,
      inletLoss: {
        drop: pressureDifference(1.2e3),
        flow: massFlow(0.2636),
        density: dryAirDensity(ambient.pressure, ambient.temperature),
      },
      coolerLoss: {
        drop: pressureDifference(9e3),
        flow: massFlow(0.26),
        density: dryAirDensity(absolutePressure(200e3), temperature(339)),
      },
    };
  };

  it.each([
    [0.955, 6500, 150, 52, 88.8],
    [0.955, 6500, 200, 66, 112.7],
    [0.955, 6500, 230, 75, 125.2],
    [0.97, 4500, 200, 59, 99.5],
    [0.985, 5500, 215, 66, 111.7],
    [0.925, 7000, 200, 67, 115.2],
  ])(
    'needs its shaft speed within 1.6 %, about what the rounded rows of its map leave open: filling %f, %i rpm, %i kPa',
    (...[filling, rpm, MAP, charge, krpm]) => {
      const found = demandedSpeed(map, demand(filling, rpm, { MAP, charge }), {
        airFlow: 0.004,
        manifoldPressure: 1e3,
      });
      if (!found) throw new Error('outside the map');
      expect(relative(fromSi(found.speed.value, unitOf('krpm')), krpm)).toBeLessThan(0.016);
      expect(found.speed.standardUncertainty / found.speed.value).toBeGreaterThan(0.014);
      expect(found.speed.standardUncertainty / found.speed.value).toBeLessThan(0.03);
    },
  );

  it('is off its map at twice the flow', () => {
    expect(
      demandedSpeed(map, { ...demand(0.955, 6500, { MAP: 200, charge: 66 }), airFlow: massFlow(0.6) }, {}),
    ).toBeUndefined();
  });

  it('balances its turbine near 34 % gate flow and 247 kPa at 6 500 rpm and 200 kPa', () => {
    const { airFlow, ...rest } = demand(0.955, 6500, { MAP: 200, charge: 66 });
    const duty = compressorDemand({ airFlow, ...rest }, map.reference);
    const point = mapPoint(map, duty.correctedFlow, duty.pressureRatio);
    if (point.kind === 'outside') throw new Error(point.border);
    const taken = compressorPower(airFlow, {
      inletTemperature: duty.inlet.temperature,
      pressureRatio: duty.pressureRatio,
      efficiency: point.efficiency,
    });
    const flow = massFlow(airFlow * (1 + 1 / (0.8 * 10.6)));
    const outletPressure = absolutePressure(85.3e3 + 9e3 * (flow / 0.29) ** 2);
    const exhaust = { flow, temperature: temperature(885 + 273.15), outletPressure };
    const turbine = { effectiveArea: area(6.6e-4), efficiency: ratio(0.66), mechanicalEfficiency: ratio(0.97) };
    const found = turbineBalance(turbine, exhaust, taken);
    if (found.kind !== 'balanced') throw new Error(found.kind);
    expect(Math.abs(found.gateShare - 0.34)).toBeLessThan(0.04);
    expect(relative(found.inletPressure, 247e3)).toBeLessThan(0.03);
  });
});

describe('gate and shaft limits', () => {
  it('a gate of the needed area passes just its share (identity)', () => {
    const exhaust = { flow: massFlow(0.3), temperature: temperature(1150), outletPressure: absolutePressure(95e3) };
    const found = gateArea(exhaust, absolutePressure(220e3), ratio(0.4));
    const as = { effectiveArea: found, efficiency: ratio(1), mechanicalEfficiency: ratio(1) };
    expect(turbineFlow(as, exhaust, absolutePressure(220e3))).toBeCloseTo(0.12, 12);
  });

  it('shaft margin is limit over speed less one', () => {
    const found = shaftSpeedMargin(measured(13e3, 260), measured(14e3, 0));
    expect(found.value).toBeCloseTo(1 / 13, 12);
    expect(found.standardUncertainty).toBeCloseTo((14 / 13) * 0.02, 12);
  });
});
