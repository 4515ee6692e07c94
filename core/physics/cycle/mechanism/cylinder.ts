import type { Length, Ratio } from '../../../quantities/index.ts';

/** One cylinder. */
export interface CylinderShape {
  readonly bore: Length;
  readonly stroke: Length;
  /** Length of the connecting rod between centres. */
  readonly rod: Length;
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
  const pistonArea = (Math.PI / 4) * bore * bore;
  const displacement = pistonArea * stroke;
  return { pistonArea, displacement, clearance: displacement / (compressionRatio - 1) };
}

/** Volume of one cylinder at a crank angle after top dead centre [m³]. @source slider-crank without offset */
export function cylinderVolume(shape: CylinderShape, angle: number): number {
  const { pistonArea, clearance } = cylinderSize(shape);
  const r = shape.stroke / 2;
  const sine = Math.sin(angle);
  const distance = r * (1 - Math.cos(angle)) + shape.rod - Math.sqrt(shape.rod ** 2 - r * r * sine * sine);
  return clearance + pistonArea * distance;
}

/** Change of that volume with crank angle [m³/rad]. @source derivative of {@link cylinderVolume} */
export function cylinderVolumeSlope(shape: CylinderShape, angle: number): number {
  const r = shape.stroke / 2;
  const sine = Math.sin(angle);
  const q = Math.sqrt(shape.rod ** 2 - r * r * sine * sine);
  return cylinderSize(shape).pistonArea * r * sine * (1 + (r * Math.cos(angle)) / q);
}
