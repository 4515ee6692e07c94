import { behaves } from '../../testing/behaves.ts';
import { breakup, oscillation, phaserLags, short, soaked } from '../../testing/faults.ts';
import { camNotTracking } from './cam-not-tracking.ts';
import { powerShortfall } from './power-shortfall.ts';

behaves({
  detector: camNotTracking,
  fault: phaserLags(),
  below: phaserLags(0.06),
  lookAlikes: { 'boost oscillation': oscillation(), breakup: breakup() },
  rates: [10, 100],
  span: [3, 8],
});

behaves({
  detector: powerShortfall,
  fault: short(),
  below: short(0.012),
  lookAlikes: {
    'heat soak that explains itself': { ...soaked(10), power: () => 1 - 0.033 },
    'a lower pressure that explains itself': {
      references: [{}],
      change: { 'manifold-pressure': (value) => value * 0.96 },
      power: () => 0.964,
    },
  },
  clean: { references: [{}, {}] },
});
