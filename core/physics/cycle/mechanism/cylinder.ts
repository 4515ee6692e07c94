import { angle, type Ratio, type Volume, volume } from '../../../quantities/index.ts';
import { pistonArea, pistonTravel, type SliderCrank } from './slider-crank.ts';

/** One cylinder. */
export interface CylinderShape extends SliderCrank {
  /** Geometric, > 1. */
  readonly compressionRatio: Ratio;
}

/** Volumes [m³] and areas [m²] of one cylinder that do not change. */
export interface CylinderSize {
  readonly pistonArea: number;
  readonly displacement: number;
  readonly clearance: number;
}

/** @source geometry of a cylinder; compression ratio = (displacement + clearance)/clearance */
export function cylinderSize({ bore, stroke, compressionRatio }: CylinderShape): CylinderSize {
  const A = pistonArea(bore);
  const displacement = A * stroke;
  return { pistonArea: A, displacement, clearance: displacement / (compressionRatio - 1) };
}

/** Volume above the piston [m³]: clearance and swept part. @param crankAngle after top dead centre [rad] @source geometry */
export function cylinderVolume(shape: CylinderShape, crankAngle: number): Volume {
  const { pistonArea, clearance } = cylinderSize(shape);
  return volume(clearance + pistonArea * pistonTravel(shape, angle(crankAngle)));
}
