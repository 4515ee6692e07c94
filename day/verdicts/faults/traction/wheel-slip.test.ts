import { behaves } from '../../testing/behaves.ts';
import {
  breakup,
  clutchSlips,
  limiter,
  lockUpReleases,
  oscillation,
  syncLoss,
  tyreSlip,
} from '../../testing/faults.ts';
import { wheelSlip } from './wheel-slip.ts';

behaves({
  detector: wheelSlip,
  fault: tyreSlip(),
  below: tyreSlip(0.012),
  lookAlikes: {
    'a slipping clutch': clutchSlips(),
    breakup: breakup(),
    'lost sync': syncLoss(),
    'a limiter': limiter(),
    'boost oscillation': oscillation(),
    'a converter': lockUpReleases(),
  },
  rates: [10, 50, 100, 1000],
  span: [4, 7],
});
