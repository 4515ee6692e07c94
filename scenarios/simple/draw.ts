import { clamp } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import { type Rig, radiusAt } from '../rig/rig.ts';

/** An engine somebody might bring. SI. peakShare: speed of the largest torque over the redline [1]; fall: how steeply the torque falls away from it [1]. */
export interface SimpleEngine {
  readonly cylinders: number;
  readonly displacement: number;
  readonly power: number;
  readonly redline: number;
  readonly boosted: boolean;
  readonly ignition: 'spark' | 'compression';
  readonly transmission: 'manual' | 'converter';
  /** Slip of the converter at full torque [1]; 0 with a clutch. */
  readonly converterSlip: number;
  readonly peakShare: number;
  readonly fall: number;
}

/** A place: altitude [m], air [K], [Pa], [1]. */
export interface SimplePlace {
  readonly altitude: number;
  readonly temperature: number;
  readonly pressure: number;
  readonly relativeHumidity: number;
}

export type RollerKind = 'brake' | 'inertia' | 'combined';

const COUNTS = [2, 3, 4, 5, 6, 8, 10, 12];

/** An engine from 2 to 12 cylinders and 40 to 900 kW; what is given stays. */
export function drawEngine(chance: Chance, given: Partial<SimpleEngine>): SimpleEngine {
  const power = given.power ?? 40e3 * (900 / 40) ** chance.uniform();
  const wanted = 2 + (power / 900e3) * 8 + chance.between(-1.5, 3);
  const cylinders =
    given.cylinders ?? COUNTS.reduce((best, n) => (Math.abs(n - wanted) < Math.abs(best - wanted) ? n : best));
  const boosted = given.boosted ?? (power > 300e3 || chance.uniform() < 0.55);
  const compression = (given.ignition ?? (chance.uniform() < 0.15 ? 'compression' : 'spark')) === 'compression';
  const redline =
    given.redline ?? (Math.PI / 30) * 50 * Math.round((compression ? 4200 : 6000 + 2800 * chance.uniform()) / 50);
  const perLitre = boosted ? chance.between(90e3, 190e3) : chance.between(50e3, 85e3);
  const converter = (given.transmission ?? (chance.uniform() < 0.25 ? 'converter' : 'manual')) === 'converter';
  return {
    power,
    cylinders,
    boosted,
    redline,
    displacement: given.displacement ?? (power / perLitre) * 1e-3,
    ignition: compression ? 'compression' : 'spark',
    transmission: converter ? 'converter' : 'manual',
    converterSlip: converter ? (given.converterSlip ?? chance.between(0.02, 0.07)) : 0,
    peakShare: given.peakShare ?? (boosted ? chance.between(0.45, 0.62) : chance.between(0.55, 0.75)),
    fall: given.fall ?? chance.between(0.6, 1.6),
  };
}

/** Full-load torque [N·m] at an engine speed [rad/s]; its largest power up to the redline is the engine's power. */
export function fullTorque(engine: SimpleEngine, speed: number): number {
  const shape = (share: number): number => Math.max(0.3, 1 - engine.fall * (share - engine.peakShare) ** 2);
  let best = 0;
  for (let share = 0.4; share <= 0.98; share += 0.02) best = Math.max(best, share * shape(share));
  return (engine.power / (engine.redline * best)) * shape(speed / engine.redline);
}

/** Largest torque of the engine [N·m]. */
export function peakTorque(engine: SimpleEngine): number {
  return fullTorque(engine, engine.peakShare * engine.redline);
}

/** The vehicle and a roller that can hold it. */
export function drawRig(chance: Chance, engine: SimpleEngine, kind: RollerKind): Rig {
  const radius = chance.between(0.26, 0.4);
  const top = clamp(28 + engine.power / 16e3, 32, 68) * chance.between(0.95, 1.1);
  const ratio = (engine.redline * radius) / top;
  const force = (peakTorque(engine) * ratio) / radius;
  const seconds = chance.between(7, 14);
  const flywheel = (1.2 * engine.power * seconds) / top ** 2;
  const mass = kind === 'brake' ? chance.between(120, 600) : kind === 'inertia' ? flywheel : 0.4 * flywheel;
  return {
    ratio,
    radius,
    growth: chance.between(0, 0.015),
    creep: chance.between(0.006, 0.025) / force,
    dragAtRest: chance.between(60, 120) + 0.012 * force + 0.04 * mass,
    dragPerSpeed: chance.between(0.8, 3.5) * (1 + mass / 3000),
    lossShare: chance.between(0.03, 0.075),
    rollingShare: 0,
    engineInertia: 0.03 + chance.between(40, 80) * engine.displacement,
    wheelInertia: chance.between(0.8, 1.4) * (1 + engine.power / 200e3),
    rollMass: Math.max(100, mass),
    brakeLimit: kind === 'inertia' ? 0 : 1.5 * force,
  };
}

/** A place between sea level and 4 000 m on some day. */
export function drawPlace(chance: Chance): SimplePlace {
  const altitude = Math.round(chance.between(0, 4000));
  const sea = chance.between(99.5e3, 103e3);
  // Pressure of the standard atmosphere over height.
  const pressure = sea * (1 - 2.25577e-5 * altitude) ** 5.25588;
  const temperature = 273.15 + chance.between(6, 34) - 0.004 * altitude;
  return { altitude, pressure, temperature, relativeHumidity: chance.between(0.15, 0.85) };
}

/** Tyre surface speed [m/s] near the redline. */
export function topSpeed(rig: Rig, engine: SimpleEngine): number {
  const speed = (engine.redline * rig.radius) / rig.ratio;
  return (engine.redline * radiusAt(rig, speed)) / rig.ratio;
}
