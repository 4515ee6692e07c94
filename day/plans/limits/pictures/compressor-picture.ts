import { mapPoint } from '../../../../core/physics/index.ts';
import { answered, type Outcome, refused } from '../../../../core/quantities/index.ts';
import type { Step } from '../../model/engine-model.ts';
import type { Foresight } from '../foresight.ts';
import { compressorDuty } from '../kinds/compressor-duty.ts';
import { beyondFastestLine } from '../kinds/map-edge.ts';
import { ledgerOf } from '../ledger.ts';

/** Corrected flow [kg/s] and pressure ratio [1], equally long. */
export interface MapLine {
  readonly flow: Float64Array;
  readonly pressureRatio: Float64Array;
}

/**
 * A compressor map with the line on which the engine runs.
 *
 * lines: measured, with corrected speed [rad/s]. surge, choke: ends of those lines. operating: as long as `speed` of the engine [rad/s];
 * shaftSpeed: actual [rad/s], efficiency [1], `NaN` outside the map (shaftSpeed is carried a little beyond the fastest line).
 */
export interface CompressorPicture {
  readonly reference: { readonly pressure: number; readonly temperature: number };
  readonly lines: readonly (MapLine & { readonly speed: number })[];
  readonly surge: MapLine;
  readonly choke: MapLine;
  readonly operating: MapLine & {
    readonly speed: Float64Array;
    readonly shaftSpeed: Float64Array;
    readonly efficiency: Float64Array;
  };
}

/** Map and operating line for a step. Refuses without a map. */
export function compressorPictureOf(
  foresight: Foresight,
  step: Step,
  speeds: Float64Array,
): Outcome<CompressorPicture> {
  const { model } = foresight;
  const { map } = model;
  if (!map) return refused({ kind: 'missing-compressor-map', message: 'missing compressor map: state compressorMap' });
  const prediction = foresight.predict(step, speeds);
  const ledger = ledgerOf(model);
  const column = () => new Float64Array(speeds.length).fill(Number.NaN);
  const operating = {
    speed: speeds,
    flow: column(),
    pressureRatio: column(),
    shaftSpeed: column(),
    efficiency: column(),
  };
  for (let i = 0; i < speeds.length; i++) {
    const duty = compressorDuty({ model, prediction, step, ledger }, map, i);
    if (!duty || Number.isNaN(duty.pressureRatio)) continue;
    operating.flow[i] = duty.correctedFlow;
    operating.pressureRatio[i] = duty.pressureRatio;
    const point = mapPoint(map, duty.correctedFlow, duty.pressureRatio);
    const beyond = beyondFastestLine(map, { flow: duty.correctedFlow, pressureRatio: duty.pressureRatio });
    const corrected = point.kind === 'inside' ? point.speed : (beyond?.speed ?? Number.NaN);
    operating.shaftSpeed[i] = corrected * Math.sqrt(duty.inlet.temperature / map.reference.temperature);
    if (point.kind === 'inside') operating.efficiency[i] = point.efficiency;
  }
  const ends = (pick: (length: number) => number): MapLine => ({
    flow: Float64Array.from(map.lines, ({ flow }) => flow[pick(flow.length)]),
    pressureRatio: Float64Array.from(map.lines, ({ pressureRatio }) => pressureRatio[pick(pressureRatio.length)]),
  });
  return answered({
    reference: { ...map.reference },
    lines: map.lines.map(({ speed, flow, pressureRatio }) => ({ speed, flow, pressureRatio })),
    surge: ends(() => 0),
    choke: ends((length) => length - 1),
    operating,
  });
}
