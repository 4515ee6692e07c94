/**
 * A vehicle on a roller as seen by these days. SI.
 * growth: share by which the dynamic radius grows at 52 m/s, with the square of speed. creep: slip per force [1/N].
 * dragAtRest, dragPerSpeed: tyre and axle [N], [N/(m/s)]. lossShare: of the torque through the meshes [1]. rollingShare: of the tyre force [1].
 * brakeLimit: what the brake can hold [N]; 0: a roller without a brake.
 */
export interface Rig {
  readonly ratio: number;
  readonly radius: number;
  readonly growth: number;
  readonly creep: number;
  readonly dragAtRest: number;
  readonly dragPerSpeed: number;
  readonly lossShare: number;
  readonly rollingShare: number;
  readonly engineInertia: number;
  readonly wheelInertia: number;
  readonly rollMass: number;
  readonly brakeLimit: number;
}

/** Dynamic tyre radius at a surface speed [m]. */
export function radiusAt(rig: Rig, speed: number): number {
  return rig.radius * (1 + rig.growth * (speed / 52) ** 2);
}

/** Engine speed [rad/s] at a tyre surface speed [m/s] with the clutch closed. */
export function engineSpeedAt(rig: Rig, tyreSpeed: number): number {
  return (tyreSpeed * rig.ratio) / radiusAt(rig, tyreSpeed);
}

/** Tyre surface speed [m/s] at an engine speed [rad/s]. Three rounds settle the growth of the tyre. */
export function tyreSpeedAt(rig: Rig, engineSpeed: number): number {
  let speed = (engineSpeed * rig.radius) / rig.ratio;
  for (let round = 0; round < 4; round += 1) speed = (engineSpeed * radiusAt(rig, speed)) / rig.ratio;
  return speed;
}

/** What stands against the tyre force at a tyre surface speed [N]. */
export function dragAt(rig: Rig, tyreSpeed: number): number {
  return rig.dragAtRest + rig.dragPerSpeed * tyreSpeed;
}

/** Power at the tyre contact [W] for an engine torque [N·m], a speed and an acceleration of the engine [rad/s], [rad/s²]. */
export function tyrePower(rig: Rig, engine: { torque: number; speed: number; acceleration: number }): number {
  const meshes = (engine.torque - rig.engineInertia * engine.acceleration) * (1 - rig.lossShare) * engine.speed;
  const wheelSpeed = engine.speed / rig.ratio;
  const speed = tyreSpeedAt(rig, engine.speed);
  const wheels = (rig.wheelInertia * engine.acceleration * wheelSpeed) / rig.ratio;
  return (meshes - wheels - dragAt(rig, speed) * speed) * (1 - rig.rollingShare);
}
