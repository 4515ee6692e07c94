import { behaves } from '../../testing/behaves.ts';
import { dragging, restricted, soaked } from '../../testing/faults.ts';
import { chargeHeatSoak } from './charge-heat-soak.ts';

behaves({
  detector: chargeHeatSoak,
  fault: soaked(),
  below: soaked(2),
  lookAlikes: { 'driveline drag': dragging(), 'exhaust restriction': restricted() },
  clean: { references: [{}, {}] },
});
