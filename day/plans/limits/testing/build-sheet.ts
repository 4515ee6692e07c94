import { type Measured, measured, REVOLUTION } from '../../../../core/quantities/index.ts';
import type { DayFacts } from '../../../pulls/index.ts';

export const RPM = REVOLUTION / 60;
export const DEGREE = REVOLUTION / 360;

const about = (value: number, share: number): Measured => measured(value, Math.abs(value) * share);

/** What a person with the build sheet of our invented flat six would state. Everything here is invented. */
export const BUILD_SHEET: DayFacts = {
  title: 'Invented flat six',
  invented: 'invented engine, no real parts',
  place: { altitude: measured(1420, 5) },
  vehicle: {
    tyreRadius: about(0.33, 0.005),
    overallRatio: about(4.402, 0.001),
    axleLoad: about(5482, 0.01),
    torqueLoss: about(0.055, 0.1),
  },
  engine: {
    displacement: about(2.48e-3, 0.002),
    cylinders: 6,
    strokesPerCycle: 4,
    ignition: 'spark',
    boostControl: 'absolute',
    inertia: about(0.16, 0.1),
    redline: measured(7000 * RPM, 0),
    turboSpeedLimit: measured(137_100 * RPM, 300 * RPM),
    stoichiometricRatio: about(10.6, 0.01),
  },
  roller: { equivalentMass: about(450, 0.01) },
  ambient: {
    temperature: measured(300, 0.5),
    pressure: measured(85.3e3, 100),
    relativeHumidity: measured(0.3, 0.05),
  },
  parts: {
    bore: about(0.083, 0.0002),
    stroke: about(0.0764, 0.0002),
    rodLength: about(0.14, 0.001),
    compressionRatio: about(9.6, 0.01),
    reciprocatingMass: about(0.58, 0.01),
    inletCloses: measured(50 * DEGREE, 2 * DEGREE),
    fuel: 'ethanol blend',
    compressorWheel: about(0.078, 0.001),
    turbineArea: about(6.6e-4, 0.04),
    turbineEfficiency: about(0.64, 0.04),
    ratedAirFlow: measured(0.26, 0),
    inletLoss: about(1.2e3, 0.1),
    coolerLoss: about(9e3, 0.1),
    exhaustLoss: about(7.5e3, 0.15),
    coolerEffectiveness: measured(0.77, 0.02),
    injectors: 6,
    injectorFlow: about(6.4e-3, 0.01),
    injectorPressure: about(350e3, 0.01),
    injectorDeadTime: measured(0.9e-3, 0.1e-3),
    largestDuty: measured(0.9, 0.01),
    plugGap: measured(0.55e-3, 0.02e-3),
    coilResistance: about(0.45, 0.03),
    coilInductance: about(2.5e-3, 0.03),
    dwell: measured(3e-3, 0.03e-3),
    coilVoltage: measured(13.5, 0.1),
    sparkVoltage: measured(25.9e3, 0.3e3),
    headLiftPressure: measured(123e5, 2e5),
    strapForce: measured(5000, 300),
    grip: measured(0.58, 0.02),
  },
  entries: [],
  mappings: [],
};
