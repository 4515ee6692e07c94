import { dayText, type Written } from '../day-text.ts';
import { UNCERTAINTIES } from '../instruments.ts';
import type { Nature } from './nature.ts';

/** The facts as a person would state them. */
export function virtualDayText(nature: Nature, entries: readonly Written[]): string {
  const { engine, stated, place, kind, seed } = nature;
  const spread = (value: number, share: number, digits: number): string =>
    `${value.toFixed(digits)} ± ${(value * share).toFixed(digits + 1)}`;
  return dayText({
    knurl: 1,
    title: `Virtual day ${seed}`,
    date: '2043-03-17',
    invented: 'Invented and computed by a generator: no real engine, vehicle, roller or person is meant.',
    place: { altitude: `${place.altitude} m` },
    vehicle: {
      'tyre radius': `${stated.radius.toFixed(3)} m`,
      'overall ratio': stated.ratio.toFixed(4),
      'wheel inertia': `${spread(stated.wheelInertia, UNCERTAINTIES.wheelInertia, 3)} kg·m²`,
      'torque loss': `${stated.lossShare.toFixed(4)} ± ${UNCERTAINTIES.lossShare}`,
      transmission: engine.transmission,
    },
    engine: {
      displacement: `${(engine.displacement * 1e3).toFixed(3)} L`,
      cylinders: engine.cylinders,
      'strokes per cycle': 4,
      inertia: `${spread(stated.engineInertia, UNCERTAINTIES.engineInertia, 4)} kg·m²`,
      ignition: engine.ignition,
      'boost control': engine.boosted ? 'absolute' : 'none',
      redline: `${((engine.redline * 30) / Math.PI).toFixed(0)} rpm`,
      'stoichiometric ratio': engine.stoichiometric,
    },
    roller: {
      kind,
      'equivalent mass': `${spread(stated.rollMass, UNCERTAINTIES.rollMass, 1)} kg`,
      'force calibration': '0.5 %',
      'force zero': `${UNCERTAINTIES.forceZero} N`,
      'speed calibration': '0.1 %',
    },
    ambient: { rule: 'none' },
    entries,
  });
}
