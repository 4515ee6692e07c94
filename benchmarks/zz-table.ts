import { makePlateauDay } from '../scenarios/index.ts';
import { largestPressure } from '../day/plans/limits/at.ts';
import { dayModel } from '../day/plans/model/day-model.ts';
import { predict } from '../day/plans/model/predict.ts';
import { inventedMap } from '../day/plans/model/testing/invented-map.ts';
import { judged, withSheet } from '../day/plans/model/testing/plateau.ts';
const RPM = Math.PI / 30;
const HALL = { camPhase: 0, ambientPressure: 85.3e3, ambientTemperature: 300.15, soak: 8 };
const day = judged(makePlateauDay({ seed: 1 }));
const model = dayModel({ ...day, facts: withSheet(day.facts), map: inventedMap() });
const at = (line: any, rpm: number, step: any) => { const { value, standardUncertainty } = predict(model, step, [rpm * RPM]).lines[line as 'engine torque']; return { value: value[0], spread: standardUncertainty[0] }; };
const T = [[150, 3500, 320, 76.7, 48],[150, 5500, 327, 84.1, 50],[150, 6500, 309, 88.8, 52],[185, 3500, 393, 90.9, 55],[185, 4500, 402, 94.2, 56],[185, 6500, 376, 106, 61],[200, 3500, 423, 95.9, 57],[200, 5500, 428, 106, 62],[200, 7000, 384, 115.2, 67],[215, 4500, 462, 104.5, 62],[215, 6500, 428, 119, 70]];
let [t, s, c] = [[] as number[], [] as number[], [] as number[]];
for (const [kPa, rpm, torque, krpm, cel] of T) { const st = { ...HALL, manifoldPressure: kPa * 1e3 }; t.push(at('engine torque', rpm, st).value / torque - 1); s.push(at('turbocharger speed', rpm, st).value / (krpm * 1000 * RPM) - 1); c.push(at('charge temperature', rpm, st).value - 273.15 - cel); }
const rms = (x: number[]) => Math.sqrt(x.reduce((a, b) => a + b * b, 0) / x.length);
console.log('pulls', model.pulls, 'left out', [...(model.rests?.leftOut ?? [])].map(String));
console.log('torque', t.map((x) => (100 * x).toFixed(1)).join(' '), '| speed', s.map((x) => (100 * x).toFixed(1)).join(' '), 'rms', (100 * rms(s)).toFixed(2), '| charge', c.map((x) => x.toFixed(1)).join(' '), 'spread', at('charge temperature', 5500, { ...HALL, manifoldPressure: 200e3 }).spread.toFixed(1));
for (const soak of [8, undefined]) { const race = { camPhase: 0, ...(soak === undefined ? {} : { soak }), ambientPressure: 68.5e3, ambientTemperature: 285.15, manifoldPressure: 200e3 };
for (const [rpm, loss] of [[5500, 0], [6000, 0], [6500, 0], [7000, 0], [6500, 1978], [7000, 1978]]) { const f = largestPressure(model, { ...race, inletLoss: loss }, { name: 'compressor speed', speeds: Float64Array.of(rpm * RPM) }); console.log('soak', soak, rpm, loss, (f.manifoldPressure[0] / 1e3).toFixed(0), (f.standardUncertainty[0] / 1e3).toFixed(0)); } }
for (const [kPa, rpm] of [[150, 3500], [200, 3500], [200, 5500], [215, 4500]]) { const p = at('peak pressure', rpm, { ...HALL, manifoldPressure: kPa * 1e3 }); console.log('peak', kPa, rpm, (p.value / 1e5).toFixed(0), (p.spread / 1e5).toFixed(0)); }
for (const rpm of [5700, 6200, 6700]) { const p = at('spark voltage', rpm, { ...HALL, manifoldPressure: 200e3, plugGap: 0.7e-3 }); console.log('kV', rpm, (p.value / 1e3).toFixed(1), (p.spread / 1e3).toFixed(1)); }
for (const name of ['sensorLag', 'coolerFlow', 'soakStart', 'soakRate', 'chargeLag']) { const p = model.parameters.find((x: any) => x.name === name); if (p) console.log(name, p.value, (p as any).standardUncertainty ?? (p as any).spread); }
console.log(model.parameters.map((p: any) => `${p.name} ${Number(p.value).toPrecision(3)}±${Number(p.standardUncertainty ?? p.spread).toPrecision(2)}`).join('; '));
