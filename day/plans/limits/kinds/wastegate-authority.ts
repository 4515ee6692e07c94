import {
  AIR,
  compressorPower,
  type ExhaustState,
  mapPoint,
  shutGatePressure,
  type Turbine,
  turbinePower,
} from '../../../../core/physics/index.ts';
import {
  absolutePressure,
  area,
  type Measured,
  massFlow,
  ratio,
  temperature,
} from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { judgedFrom } from '../../model/held.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, predicted, unknownLimit } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { outsideAir } from '../surroundings.ts';
import { compressorDuty, type DutyQuestion } from './compressor-duty.ts';

const TITLE: LimitTitle = {
  name: 'wastegate authority',
  subject: 'charge-air',
  kind: 'power',
  source: 'power balance of the shaft; turbine as a nozzle of one area and one efficiency',
};

/**
 * Power that the compressor takes against that of the turbine with the gate shut: when it is passed, boost cannot be held.
 *
 * The other end, a gate too small to let boost down, needs the gate's area and is not told. Below the speeds at which the day's pulls had such a
 * pressure nothing is said: there the turbine only comes up to speed.
 */
export function wastegateAuthority(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const { map } = model;
  const size = ledger.need('turbineArea');
  const efficiency = ledger.need('turbineEfficiency');
  if (!size || !efficiency) {
    const why = 'turbine unknown: state turbineArea and turbineEfficiency';
    return unknownLimit(TITLE, { prediction, ledger }, why);
  }
  if (!map) return unknownLimit(TITLE, { prediction, ledger }, 'no compressor map: state compressorMap');
  const asked = { model, prediction, step, ledger };
  const threshold = judgedFrom(model, step.manifoldPressure);
  return limitFrom(TITLE, { prediction, ledger }, (i) => {
    if (prediction.speed[i] < threshold) return undefined;
    const required = taken(asked, i);
    const exhaust = exhaustAt(asked, i);
    if (!required || !exhaust) return undefined;
    const given = (A: number): number => {
      const turbine: Turbine = {
        effectiveArea: area(A),
        efficiency: ratio(efficiency.value),
        mechanicalEfficiency: ratio(SHAFT),
      };
      return turbinePower(turbine, exhaust, shutGatePressure(turbine, exhaust));
    };
    const value = given(size.value);
    const byArea = given(size.value - size.standardUncertainty) / value - 1;
    const relative = Math.hypot(byArea, efficiency.standardUncertainty / efficiency.value);
    return { required, available: around(value, value * relative) };
  });
}

/** Share of turbine power that reaches the compressor [1]. @source common practice, no source */
const SHAFT = 0.97;

/** Power of the compressor [W]; undefined outside its map or where the map has no efficiency. */
function taken(asked: DutyQuestion, index: number): Measured | undefined {
  const { map } = asked.model;
  const duty = map && compressorDuty(asked, map, index);
  if (!map || !duty || Number.isNaN(duty.pressureRatio)) return undefined;
  const point = mapPoint(map, duty.correctedFlow, duty.pressureRatio);
  if (point.kind === 'outside') return undefined;
  const known = Number.isFinite(point.efficiency) ? undefined : asked.ledger.need('compressorEfficiency');
  const efficiency = known?.value ?? point.efficiency;
  const machines = asked.ledger.look('compressors')?.value ?? 1;
  const value =
    machines *
    compressorPower(duty.flow, {
      inletTemperature: duty.inlet.temperature,
      pressureRatio: duty.pressureRatio,
      efficiency: ratio(efficiency),
      gas: AIR,
    });
  const air = predicted(asked.prediction, 'air flow', index);
  return around(value, value * Math.hypot(0.03, air.standardUncertainty / air.value));
}

function exhaustAt({ model, prediction, step, ledger }: DutyQuestion, index: number): ExhaustState | undefined {
  const air = predicted(prediction, 'air flow', index).value;
  const fuel = predicted(prediction, 'fuel flow', index).value;
  // the turbine works on the gas, of which a probe shows less
  const shortfall = model.parameters.find(({ name }) => name === 'probeShortfall')?.value ?? 0;
  const T = predicted(prediction, 'exhaust temperature', index).value + shortfall;
  const rated = ledger.look('ratedAirFlow')?.value;
  const loss = ledger.take('exhaustLoss', {
    value: 15e3,
    standardUncertainty: 8e3,
    source: 'common practice, no source',
  });
  const flow = air + (Number.isNaN(fuel) ? 0.08 * air : fuel);
  if (Number.isNaN(flow + T)) return undefined;
  const back = rated ? loss.value * (air / rated) ** 2 : loss.value;
  const outside = outsideAir(step, ledger).pressure;
  return { flow: massFlow(flow), temperature: temperature(T), outletPressure: absolutePressure(outside + back) };
}
