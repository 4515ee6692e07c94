import { behaves } from '../../testing/behaves.ts';
import {
  breakup,
  choke,
  creep,
  dragging,
  droop,
  leak,
  limiter,
  oscillation,
  overshoot,
  restricted,
  soaked,
  surging,
} from '../../testing/faults.ts';
import { boostCreep, boostDroop, boostOscillation, boostOvershoot } from './boost-control.ts';
import { boostLeak } from './boost-leak.ts';
import { compressorChoke } from './compressor-choke.ts';
import { exhaustRestriction } from './exhaust-restriction.ts';
import { surge } from './surge.ts';
import { turboOverspeed } from './turbo-overspeed.ts';

behaves({
  detector: boostOvershoot,
  fault: overshoot(),
  below: overshoot(6e3),
  lookAlikes: { oscillation: oscillation(), creep: creep(), droop: droop(), breakup: breakup() },
  span: [0.6, 1.3],
});

behaves({
  detector: boostOscillation,
  fault: oscillation(),
  below: oscillation(2e3),
  lookAlikes: { overshoot: overshoot(), surge: surging(), breakup: breakup(), droop: droop() },
  rates: [20, 100, 1000],
  span: [2, 7],
});

behaves({
  detector: boostDroop,
  fault: droop(),
  below: droop(0.03),
  lookAlikes: { oscillation: oscillation(), creep: creep(), overshoot: overshoot() },
  rates: [10, 100, 1000],
  span: [6, 10],
});

behaves({
  detector: boostCreep,
  fault: creep(),
  below: creep(0.03),
  lookAlikes: { oscillation: oscillation(), droop: droop(), overshoot: overshoot() },
  rates: [10, 100, 1000],
  span: [5, 10],
});

behaves({
  detector: boostLeak,
  fault: leak(),
  below: leak(0.5),
  lookAlikes: { 'heat soak': soaked(), 'exhaust restriction': restricted(), 'driveline drag': dragging() },
  clean: { references: [{}, {}] },
});

behaves({
  detector: compressorChoke,
  fault: choke(),
  below: choke(0.02),
  lookAlikes: {
    'droop with the wheel no faster': {
      change: { ...droop().change, 'turbo-speed': (value, { place }) => value * (1 - 0.16 * place) },
    },
    overshoot: overshoot(),
    oscillation: oscillation(),
  },
  rates: [20, 100, 1000],
});

behaves({
  detector: exhaustRestriction,
  fault: restricted(),
  below: restricted(0.1),
  lookAlikes: { 'boost leak': leak(), 'heat soak': soaked() },
  clean: { references: [{}, {}] },
});

behaves({
  detector: surge,
  fault: surging(),
  below: surging(0.03),
  lookAlikes: { 'boost oscillation': oscillation(), breakup: breakup(), 'a limiter': limiter() },
  span: [2, 4],
});

behaves({
  detector: turboOverspeed,
  fault: {},
  below: { change: { 'turbo-speed': (value) => value * 0.96 } },
  lookAlikes: {
    'a slower wheel with breakup': { change: { ...breakup().change, 'turbo-speed': (value) => value * 0.96 } },
  },
  set: { 'turbo.limit': 11_200 },
  clean: { change: { 'turbo-speed': (value) => value * 0.95 } },
});
