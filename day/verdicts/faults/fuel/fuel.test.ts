import { behaves } from '../../testing/behaves.ts';
import { breakup, injectorsFull, leans, limiter, pumpStarves, richens, syncLoss } from '../../testing/faults.ts';
import { fuelPressureDrop } from './fuel-pressure-drop.ts';
import { injectorSaturation } from './injector-saturation.ts';
import { leanMixture, richMixture } from './mixture.ts';

behaves({
  detector: fuelPressureDrop,
  fault: pumpStarves(),
  below: pumpStarves(0.035),
  lookAlikes: { 'full injectors': injectorsFull(), 'a lean mixture': leans(), breakup: breakup() },
  rates: [20, 100, 1000],
  span: [6, 10],
});

behaves({
  detector: injectorSaturation,
  fault: injectorsFull(),
  below: injectorsFull(0.84),
  lookAlikes: { 'a starving pump': pumpStarves(), 'a lean mixture': leans() },
  rates: [20, 100, 1000],
});

behaves({
  detector: leanMixture,
  fault: leans(),
  below: leans(0.03),
  lookAlikes: { breakup: breakup(), 'lost sync': syncLoss(), 'a limiter': limiter(), 'a rich mixture': richens() },
  rates: [10, 100, 1000],
  span: [5, 10],
});

behaves({
  detector: richMixture,
  fault: richens(),
  below: richens(0.05),
  lookAlikes: { breakup: breakup(), 'a lean mixture': leans() },
  rates: [10, 100, 1000],
  span: [5, 10],
});
