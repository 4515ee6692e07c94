import {
  bigEndCycle,
  type CrankTrain,
  type CycleLoads,
  type CycleTrace,
  cycleLoads,
  cycleSolver,
  filmOrbit,
  pistonAcceleration,
  pistonArea,
  withParameters,
} from '../../../../core/physics/index.ts';
import {
  absolutePressure,
  angle,
  angularSpeed,
  answered,
  length,
  mass,
  type Outcome,
  ratio,
  refused,
  temperature,
} from '../../../../core/quantities/index.ts';
import type { EngineModel, Step } from '../../model/engine-model.ts';
import { predicted } from '../balance.ts';
import type { Foresight } from '../foresight.ts';
import { usualMass } from '../kinds/rods.ts';
import { ledgerOf } from '../ledger.ts';
import { outsideAir } from '../surroundings.ts';

/**
 * One cylinder over a cycle at one engine speed; arrays as long as `angle` [rad after firing top dead centre], −2π … 2π.
 * pressure [Pa]. gas, inertia: on the piston along the cylinder, towards the crank positive; rod: along the rod, compression positive; side: on
 * the wall [N]; torque of this cylinder [N·m]. peak: highest pressure [Pa] and where [rad].
 * compression, tension: extremes [N] and where [rad]. thinnestFilm: of the big end [m]; undefined without the bearing's numbers.
 */
export interface CrankPicture {
  readonly speed: number;
  readonly angle: Float64Array;
  readonly pressure: Float64Array;
  readonly gas: Float64Array;
  readonly inertia: Float64Array;
  readonly rod: Float64Array;
  readonly side: Float64Array;
  readonly torque: Float64Array;
  readonly peak: { readonly pressure: number; readonly angle: number };
  readonly compression: { readonly force: number; readonly angle: number };
  readonly tension: { readonly force: number; readonly angle: number };
  readonly thinnestFilm?: number;
  readonly missing: readonly string[];
  readonly assumed: readonly string[];
}

const SAMPLES = 1440;

/**
 * Cylinder pressure and forces over crank angle.
 *
 * Between exhaust opening and top dead centre the cylinder is taken at exhaust pressure, from there to intake closing at manifold
 * pressure. Refuses where the cycle cannot be computed.
 *
 * @source  cycle model and force balance of the piston; gas exchange: our default
 */
export function crankPictureOf(foresight: Foresight, step: Step, speed: number): Outcome<CrankPicture> {
  const { model } = foresight;
  const ledger = ledgerOf(model);
  const prediction = foresight.predict(step, Float64Array.of(speed));
  const at = (line: 'charge temperature' | 'exhaust pressure' | 'timing' | 'peak pressure') =>
    predicted(prediction, line, 0).value;
  if (Number.isNaN(at('charge temperature') + at('exhaust pressure') + at('timing'))) {
    return refused({ kind: 'not-predicted', message: 'missing prediction at this speed', numbers: { speed } });
  }
  const trace = traceOf(model, step, {
    speed,
    chargeTemperature: at('charge temperature'),
    exhaustPressure: at('exhaust pressure'),
    timing: at('timing'),
  });
  if (!trace.ok) return trace;
  const angles = Float64Array.from({ length: SAMPLES }, (_, i) => -2 * Math.PI + (4 * Math.PI * i) / SAMPLES);
  // the trace is lifted to the calibrated peak, which knows more of the filling than the bare engine
  const raw = Math.max(...trace.value.pressure);
  const lift = Number.isFinite(at('peak pressure')) ? at('peak pressure') / raw : 1;
  const pressures = wholeCycle(angles, trace.value, {
    lift,
    exhaust: at('exhaust pressure'),
    intake: step.manifoldPressure,
  });
  const moving = ledger.take('reciprocatingMass', usualMass(model.engine.bore, model.engine.stroke));
  const rotating = mass(ledger.look('rotatingMass')?.value ?? 0);
  const train: CrankTrain = {
    crank: model.engine,
    reciprocating: mass(moving.value),
    rotating,
    crankcasePressure: outsideAir(step, ledger).pressure,
  };
  const loads = cycleLoads(train, { angles, pressures }, angularSpeed(speed));
  const film = thinnestFilm(loads, { model, speed });
  return answered({
    speed,
    angle: angles,
    pressure: pressures,
    ...alongCylinder(train, { angles, pressures, speed }),
    rod: loads.rod,
    side: loads.side,
    torque: loads.torque,
    peak: highest(angles, pressures),
    compression: loads.compression,
    tension: loads.tension,
    ...(film === undefined ? {} : { thinnestFilm: film }),
    missing: [...ledger.missing, ...(film === undefined ? FILM_FACTS : [])],
    assumed: ledger.assumed,
  });
}

/** Gas and inertia on the piston, apart. @source terms of the force balance: {@link CrankTrain} */
function alongCylinder(
  train: CrankTrain,
  at: { readonly angles: Float64Array; readonly pressures: Float64Array; readonly speed: number },
): Pick<CrankPicture, 'gas' | 'inertia'> {
  const { crank, reciprocating, crankcasePressure } = train;
  const area = pistonArea(crank.bore);
  return {
    gas: at.pressures.map((pressure) => (pressure - crankcasePressure) * area),
    inertia: at.angles.map((theta) => -reciprocating * pistonAcceleration(crank, angle(theta), angularSpeed(at.speed))),
  };
}

function highest(angles: Float64Array, pressures: Float64Array): CrankPicture['peak'] {
  let best = 0;
  pressures.forEach((pressure, i) => {
    if (pressure > pressures[best]) best = i;
  });
  return { pressure: pressures[best], angle: angles[best] };
}

interface TraceState {
  readonly speed: number;
  readonly chargeTemperature: number;
  readonly exhaustPressure: number;
  readonly timing: number;
}

function traceOf(model: EngineModel, step: Step, state: TraceState): Outcome<CycleTrace> {
  const names = new Set(Object.keys(model.engine.fit));
  const fitted = Object.fromEntries(
    model.parameters.filter(({ name }) => names.has(name)).map(({ name, value }) => [name, value]),
  );
  const solver = cycleSolver(withParameters(model.engine, fitted), model.gas);
  const { speed } = state;
  const habit = (which: 'lambda' | 'camPhase') => model.habits[which](speed, step.manifoldPressure).value;
  const solved = solver.solve({
    speed: angularSpeed(speed),
    manifoldPressure: absolutePressure(step.manifoldPressure),
    chargeTemperature: temperature(state.chargeTemperature),
    exhaustPressure: absolutePressure(state.exhaustPressure),
    lambda: ratio(step.lambda ?? habit('lambda')),
    humidityRatio: ratio(0.008),
    phasing: { kind: 'spark', advance: angle(state.timing) },
    intakePhase: angle(step.camPhase ?? habit('camPhase')),
    exhaustPhase: angle(0),
  });
  return solved.ok ? answered(solver.trace()) : solved;
}

function wholeCycle(
  angles: Float64Array,
  trace: CycleTrace,
  at: { readonly lift: number; readonly exhaust: number; readonly intake: number },
): Float64Array {
  const { angle: known, pressure } = trace;
  const last = known.length - 1;
  let k = 0;
  return angles.map((theta) => {
    if (theta < known[0]) return at.intake;
    if (theta > known[last]) return at.exhaust;
    while (k < last - 1 && known[k + 1] < theta) k++;
    const share = (theta - known[k]) / (known[k + 1] - known[k]);
    return at.lift * (pressure[k] + share * (pressure[k + 1] - pressure[k]));
  });
}

const FILM_FACTS = ['bigEndDiameter', 'bigEndWidth', 'bigEndClearance', 'oilViscosity'] as const;

/** Thinnest oil film of the big end [m]; undefined unless its numbers are known. @source {@link filmOrbit} */
function thinnestFilm(
  loads: CycleLoads,
  { model, speed }: { readonly model: EngineModel; readonly speed: number },
): number | undefined {
  const [diameter, width, clearance, viscosity] = FILM_FACTS.map((name) => model.values.get(name)?.value ?? Number.NaN);
  if (Number.isNaN(diameter + width + clearance + viscosity)) return undefined;
  const bearing = { diameter: length(diameter), width: length(width), radialClearance: length(clearance), viscosity };
  const rodRatio = ratio(model.engine.stroke / 2 / model.engine.rodLength);
  return filmOrbit(bearing, bigEndCycle(loads, rodRatio, angularSpeed(speed))).thinnest.film;
}
