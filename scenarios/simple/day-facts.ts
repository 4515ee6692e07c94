import { dayText, type Written } from '../day-text.ts';
import { UNCERTAINTIES } from '../instruments.ts';
import type { Rig } from '../rig/rig.ts';
import type { RollerKind, SimpleEngine, SimplePlace } from './draw.ts';

/** The facts as stated, without what is missing (`vehicle.tyre radius`, `roller.equivalent mass`, …). */
export function simpleDayText(input: {
  title: string;
  engine: SimpleEngine;
  rig: Rig;
  place: SimplePlace;
  kind: RollerKind;
  entries: readonly Written[];
  missing: readonly string[];
}): string {
  const { engine, rig, place, kind, missing } = input;
  const without = (section: string, record: Record<string, Written>): Written =>
    Object.fromEntries(Object.entries(record).filter(([key]) => !missing.includes(`${section}.${key}`)));
  const spread = (value: number, share: number, digits: number): string =>
    `${value.toFixed(digits)} ± ${(value * share).toFixed(digits + 1)}`;
  return dayText({
    knurl: 1,
    title: input.title,
    date: '2042-05-06',
    invented: 'Invented and computed by a generator: no real engine, vehicle, roller or person is meant.',
    place: without('place', { altitude: `${place.altitude} m` }),
    vehicle: without('vehicle', {
      'tyre radius': `${rig.radius.toFixed(3)} m`,
      'overall ratio': rig.ratio.toFixed(4),
      'wheel inertia': `${spread(rig.wheelInertia, UNCERTAINTIES.wheelInertia, 3)} kg·m²`,
      'torque loss': `${rig.lossShare.toFixed(4)} ± ${UNCERTAINTIES.lossShare}`,
      transmission: engine.transmission,
    }),
    engine: without('engine', {
      displacement: `${(engine.displacement * 1e3).toFixed(3)} L`,
      cylinders: engine.cylinders,
      'strokes per cycle': 4,
      inertia: `${spread(rig.engineInertia, UNCERTAINTIES.engineInertia, 4)} kg·m²`,
      ignition: engine.ignition,
      'boost control': engine.boosted ? 'absolute' : 'none',
      redline: `${((engine.redline * 30) / Math.PI).toFixed(0)} rpm`,
    }),
    roller: without('roller', {
      kind,
      'equivalent mass': `${spread(rig.rollMass, UNCERTAINTIES.rollMass, 1)} kg`,
      'force calibration': '0.5 %',
      'force zero': `${UNCERTAINTIES.forceZero} N`,
      'speed calibration': '0.1 %',
    }),
    ambient: without('ambient', { rule: 'none' }),
    entries: input.entries,
  });
}
