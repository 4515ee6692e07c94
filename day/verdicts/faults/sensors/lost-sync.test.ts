import { behaves } from '../../testing/behaves.ts';
import { breakup, limiter, syncLoss, tyreSlip } from '../../testing/faults.ts';
import { lostSync } from './lost-sync.ts';

behaves({
  detector: lostSync,
  fault: syncLoss(),
  below: syncLoss(0),
  lookAlikes: { breakup: breakup(), 'a limiter': limiter(), 'tyre slip': tyreSlip() },
  span: [6, 6.5],
});
