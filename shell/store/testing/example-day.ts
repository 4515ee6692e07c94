import type { DayFacts } from '../../../day/pulls/facts.ts';

/** A small invented day. */
export const EXAMPLE_DAY: DayFacts = {
  title: 'Plateau test',
  date: '2031-05-14',
  invented: 'made up for a test',
  place: { altitude: { value: 1420, standardUncertainty: 0 } },
  vehicle: {
    tyreRadius: { value: 0.33, standardUncertainty: 0 },
    overallRatio: { value: 4.402, standardUncertainty: 0 },
  },
  engine: { cylinders: 6, strokesPerCycle: 4, boostControl: 'absolute' },
  roller: { kind: 'combined', equivalentMass: { value: 450, standardUncertainty: 4.5 }, forceCalibration: 0.005 },
  ambient: {
    rule: 'none',
    pressure: { value: 85300, standardUncertainty: 0 },
    relativeHumidity: { value: 0.38, standardUncertainty: 0.02 },
  },
  entries: [
    {
      id: 'pull-03',
      kind: 'pull',
      clock: '10:35',
      files: ['pull-03-roller.csv', 'pull-03-engine.csv'],
      settings: { 'map target': '170 kPa' },
      nudge: -0.12,
    },
    { id: 'gap', kind: 'change', files: [], settings: {}, notes: 'plug gap to 0.55 mm' },
  ],
  mappings: [],
};
