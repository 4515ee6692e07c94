import { behaves } from '../../testing/behaves.ts';
import {
  breakup,
  knocking,
  limiter,
  oscillation,
  overshoot,
  pumpStarves,
  syncLoss,
  tyreSlip,
} from '../../testing/faults.ts';
import { ignitionBreakup } from './ignition-breakup.ts';

behaves({
  detector: ignitionBreakup,
  fault: breakup(),
  below: breakup(0.03),
  lookAlikes: {
    'tyre slip': tyreSlip(),
    'lost sync': syncLoss(),
    'a limiter': limiter(),
    'boost oscillation': oscillation(),
    'boost overshoot': overshoot(),
    'a starving pump': pumpStarves(),
    'knock retard': knocking(),
  },
  span: [6, 8.7],
});
