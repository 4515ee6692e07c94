import { behaves } from '../../testing/behaves.ts';
import {
  blowBy,
  breakup,
  dragging,
  floating,
  knocking,
  leak,
  lifting,
  limiter,
  oilLow,
  syncLoss,
} from '../../testing/faults.ts';
import { crankcasePressure } from './crankcase-pressure.ts';
import { headLift } from './head-lift.ts';
import { oilPressureLow } from './oil-pressure-low.ts';
import { valveFloat } from './valve-float.ts';

behaves({
  detector: crankcasePressure,
  fault: blowBy(),
  below: blowBy(800),
  lookAlikes: { 'low oil pressure': oilLow(), 'boost leak': leak() },
  clean: { references: [{}, {}] },
});

behaves({
  detector: headLift,
  fault: lifting(),
  below: lifting(17e3),
  lookAlikes: { breakup: breakup(), knock: knocking(), 'driveline drag': dragging() },
  rates: [20, 100],
  span: [4, 10.1],
});

behaves({
  detector: oilPressureLow,
  fault: oilLow(),
  below: oilLow(0.08),
  lookAlikes: { 'blow-by': blowBy(), 'driveline drag': dragging() },
  clean: { references: [{}, {}] },
});

behaves({
  detector: valveFloat,
  fault: floating(),
  below: floating(false),
  lookAlikes: { 'a limiter': limiter(), 'lost sync': syncLoss(), breakup: breakup() },
  rates: [100, 1000],
  span: [8, 10],
});
