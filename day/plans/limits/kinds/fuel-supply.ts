import type { Measured } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, predicted, unknownLimit } from '../balance.ts';
import { type Ledger, ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { outsideAir } from '../surroundings.ts';

const TITLE: LimitTitle = {
  name: 'fuel supply',
  subject: 'fuel',
  kind: 'mass-flow',
  source:
    'what the pumps bring at the rail pressure and the voltage of the step: direct-current motor and displacement pump',
};

/** Fuel that the engine takes against what the pumps bring. */
export function fuelSupply(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const flow = ledger.need('fuelPumpFlow');
  if (!flow) {
    const why =
      'pumps unknown: state fuelPumpFlow, with the pressure and the voltage under load at which it was measured';
    return unknownLimit(TITLE, { prediction, ledger }, why);
  }
  const available = supplied(flow, step, ledger);
  return limitFrom(TITLE, { prediction, ledger }, (i) => ({
    required: predicted(prediction, 'fuel flow', i),
    available,
  }));
}

/** Flow against no pressure over that at rail pressure, when nobody stated it [1]. @source common practice, no source: 1.2 … 1.6 */
const USUAL_FREE = { value: 1.4, standardUncertainty: 0.12 } as const;

/**
 * Flow of the pumps at the step's rail pressure and voltage [kg/s], carried from where it was measured.
 *
 *     Q(p, V) = Q1 − (Q0 − Q1)·(p/p1 − 1) + Q0·(V/V1 − 1)        Q1 at p1 and V1, Q0 against no pressure
 *
 * Without p1 the flow is that at the rail pressure of the step, without V1 at the voltage of the day. The rail is referenced to the manifold.
 *
 * @valid   pressures and voltages within about a quarter of those measured
 * @source  as in core/physics/fuel/pump.ts, with a straight line over pressure
 */
function supplied(flow: Measured, step: Step, ledger: Ledger): Measured {
  const pressure = ledger.look('fuelPumpPressure');
  const usual = ledger.look('coilVoltage');
  const measuredAt = ledger.look('fuelPumpVoltage') ?? usual;
  const volts = step.coilVoltage ?? usual?.value;
  const byVolts = measuredAt && volts !== undefined ? volts / measuredAt.value - 1 : 0;
  const rail = ledger.look('injectorPressure');
  const over = rail ? rail.value + step.manifoldPressure - outsideAir(step, ledger).pressure : Number.NaN;
  const byPressure = pressure && Number.isFinite(over) ? over / pressure.value - 1 : 0;
  if (byVolts === 0 && byPressure === 0) return flow;
  const free = ledger.take('fuelPumpFreeFlow', {
    value: USUAL_FREE.value * flow.value,
    standardUncertainty: USUAL_FREE.standardUncertainty * flow.value,
    source: 'common practice, no source',
  });
  const value = flow.value * (1 + byPressure) - free.value * byPressure + free.value * byVolts;
  const spread = Math.hypot(
    flow.standardUncertainty * (1 + byPressure),
    free.standardUncertainty * (byVolts - byPressure),
  );
  return around(Math.max(0, value), spread);
}
