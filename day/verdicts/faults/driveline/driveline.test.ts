import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import {
  breakup,
  clutchSlips,
  dragging,
  lifting,
  limiter,
  lockUpReleases,
  oscillation,
  short,
  soaked,
  syncLoss,
  tyreSlip,
} from '../../testing/faults.ts';
import { clutchSlip } from './clutch-slip.ts';
import { converterSlip } from './converter-slip.ts';
import { drivelineLossRising } from './driveline-loss-rising.ts';
import { revOrTorqueCut } from './rev-or-torque-cut.ts';

behaves({
  detector: clutchSlip,
  fault: clutchSlips(),
  below: clutchSlips(0.01),
  lookAlikes: { 'tyre slip': tyreSlip(), breakup: breakup(), 'lost sync': syncLoss() },
  rates: [10, 100, 1000],
  span: [4, 7],
});

behaves({
  detector: converterSlip,
  fault: lockUpReleases(),
  below: lockUpReleases(0.012),
  lookAlikes: { 'tyre slip': tyreSlip(), 'a converter that stays locked': { facts: { transmission: 'converter' } } },
  rates: [10, 100, 1000],
  span: [4.8, 5.5],
});

behaves({
  detector: drivelineLossRising,
  fault: dragging(),
  below: dragging(0.01, 20),
  lookAlikes: {
    'an engine that is leaner and short': short(0.02),
    'a head that lifts': { ...lifting(60e3), power: () => 0.965 },
    'heat soak': soaked(),
  },
  clean: { references: [{}, {}] },
});

behaves({
  detector: revOrTorqueCut,
  fault: limiter(),
  below: {},
  lookAlikes: { breakup: breakup(), 'lost sync': syncLoss(), 'boost oscillation': oscillation() },
  span: [8.5, 10],
});

describe('rev-or-torque-cut', () => {
  it('cannot tell without a status where the drive is too slow to show notches', () => {
    const found = detected(revOrTorqueCut, { rate: 20, without: ['cut-status'] });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: ['cut-status'] });
  });
});
