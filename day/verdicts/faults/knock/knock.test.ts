import { behaves } from '../../testing/behaves.ts';
import { breakup, knocking, limiter, syncLoss } from '../../testing/faults.ts';
import { knock } from './knock.ts';

behaves({
  detector: knock,
  fault: knocking(),
  below: knocking(0.012),
  lookAlikes: { breakup: breakup(), 'lost sync': syncLoss(), 'a limiter': limiter() },
  span: [3, 8],
});
