/**
 * What was measured during one pull, smoothed to one bandwidth, as long as `time`. NaN where unknown.
 * force: zero already taken off. slip: 0.02 = tyre surface 2 % faster than the roll; NaN where no reference ratio is known.
 */
export interface PullSignals {
  readonly time: Float64Array;
  readonly speed: Float64Array;
  readonly acceleration: Float64Array;
  readonly force: Float64Array;
  readonly engineSpeed: Float64Array;
  readonly engineAcceleration: Float64Array;
  readonly slip: Float64Array;
}

/** Everything else the chain needs. `undefined`: unknown, and every line behind it stays NaN. */
export interface ChainInputs {
  /** Mass the force does not contain [kg]; 0 when the force is the whole force. */
  readonly rollMass: number;
  /** Wheels and shafts as a mass at the tyre surface, J/r² [kg]. */
  readonly wheelMass: number;
  /** Force lost between wheel and roll at no load, by surface speed [N]. */
  readonly rollingLoss: ((speed: number) => number) | undefined;
  /** Loss of the tyre that comes with the force it carries, as a share of tyre power; no coast-down shows it [1]. */
  readonly loadLoss: number;
  /** Share of engine torque lost in the meshes [1]. */
  readonly torqueLoss: number;
  /** [kg·m²] at the crank. */
  readonly engineInertia: number;
  /** True calibrations differ from the nominal ones by these: force ×, force +, speed ×, slip +. */
  readonly forceGain: number;
  readonly forceShift: number;
  readonly speedGain: number;
  readonly slipShift: number;
}

/** The lines of the chain at each time [W]. */
export interface ChainLines {
  readonly brake: Float64Array;
  readonly rollInertia: Float64Array;
  readonly roll: Float64Array;
  readonly tyre: Float64Array;
  readonly rollingLoss: Float64Array;
  readonly wheelInertia: Float64Array;
  readonly torqueLoss: Float64Array;
  readonly engineInertia: Float64Array;
  readonly engine: Float64Array;
}

/**
 * Power from force and speed, line by line [W]:
 *
 *     roll   = F·v + m·a·v
 *     tyre   = roll·(1 + s)                       same force, the tyre surface runs faster
 *     engine = (tyre·(1 + k) + F_loss·v·(1 + s) + m_w·a·v·(1 + s)²) / (1 − l) + J·α·ω
 *
 * @param signals smoothed measurements of one pull
 * @param inputs  masses, losses and calibrations
 * @valid  rigid driveline in one gear; slip small against one; losses measured at the temperatures of the pull
 * @source energy balance of rolls, wheels and crank; slip as (tyre surface speed − roll speed)/roll speed
 */
export function powerChain(signals: PullSignals, inputs: ChainInputs): ChainLines {
  const lines = emptyLines(signals.time.length);
  for (let i = 0; i < signals.time.length; i++) {
    const v = signals.speed[i] * inputs.speedGain;
    const a = signals.acceleration[i] * inputs.speedGain;
    const slip = 1 + signals.slip[i] + inputs.slipShift;
    const omega = signals.engineSpeed[i];
    const brake = (signals.force[i] * inputs.forceGain + inputs.forceShift) * v;
    const rollInertia = inputs.rollMass * a * v;
    const tyre = (brake + rollInertia) * slip;
    const coasting = inputs.rollingLoss ? inputs.rollingLoss(v) * v * slip : Number.NaN;
    const rollingLoss = coasting + inputs.loadLoss * tyre;
    const wheelInertia = inputs.wheelMass * a * v * slip * slip;
    const engineInertia = inputs.engineInertia * signals.engineAcceleration[i] * omega;
    const afterMeshes = tyre + rollingLoss + wheelInertia;
    const beforeMeshes = afterMeshes / (1 - inputs.torqueLoss);
    lines.brake[i] = brake;
    lines.rollInertia[i] = rollInertia;
    lines.roll[i] = brake + rollInertia;
    lines.tyre[i] = tyre;
    lines.rollingLoss[i] = rollingLoss;
    lines.wheelInertia[i] = wheelInertia;
    lines.torqueLoss[i] = beforeMeshes - afterMeshes;
    lines.engineInertia[i] = engineInertia;
    lines.engine[i] = beforeMeshes + engineInertia;
  }
  return lines;
}

function emptyLines(length: number): ChainLines {
  const line = (): Float64Array => new Float64Array(length);
  return {
    brake: line(),
    rollInertia: line(),
    roll: line(),
    tyre: line(),
    rollingLoss: line(),
    wheelInertia: line(),
    torqueLoss: line(),
    engineInertia: line(),
    engine: line(),
  };
}
