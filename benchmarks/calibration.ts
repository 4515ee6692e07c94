import { dayModel } from '../day/plans/model/day-model.ts';
import { predict } from '../day/plans/model/predict.ts';
import { inventedMap } from '../day/plans/model/testing/invented-map.ts';
import { judged, withSheet } from '../day/plans/model/testing/plateau.ts';
import { makePlateauDay } from '../scenarios/index.ts';

/**
 * Calibration of the demonstration day (25 pulls) and one prediction over 12 speeds, in time of this process (not of the wall, which others share).
 *
 *     node benchmarks/calibration.ts      goals: below 3 s and 5 ms
 */
const RPM = Math.PI / 30;
const day = judged(makePlateauDay({ seed: 1 }));
const facts = withSheet(day.facts);
const map = inventedMap();

const spent = (work: () => void): number => {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
};

let model = dayModel({ ...day, facts, map });
const calibrations = [1, 2, 3].map(() =>
  spent(() => {
    model = dayModel({ ...day, facts, map });
  }),
);
const speeds = Array.from({ length: 12 }, (_, i) => (2500 + 380 * i) * RPM);
const first = spent(() => predict(model, { manifoldPressure: 200e3 }, speeds));
let sum = 0;
const ROUNDS = 100;
const each = spent(() => {
  for (let i = 0; i < ROUNDS; i++) {
    sum += predict(model, { manifoldPressure: 180e3 + 400 * i }, speeds).lines['engine torque'].value[3];
  }
});
console.log(`calibration, ${model.pulls} pulls: ${calibrations.map((ms) => ms.toFixed(0)).join(', ')} ms   goal 3000`);
console.log(`first prediction with the slopes of its band: ${first.toFixed(0)} ms`);
console.log(
  `prediction of 12 speeds: ${(each / ROUNDS).toFixed(2)} ms   goal 5   (mean torque ${(sum / ROUNDS).toFixed(1)} N·m)`,
);
