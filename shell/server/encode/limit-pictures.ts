import {
  type CompressorPicture,
  compressorPicture,
  type EngineModel,
  type Step,
  soakRecoveryOf,
  sparkMarginMap,
  usualSpeeds,
} from '../../../day/plans/index.ts';
import type { LimitPictures } from '../../contract/index.ts';
import { encodeSeries } from './cooler.ts';
import { inWords } from './limit-words.ts';
import type { AskedStep } from './limits.ts';
import { plainNumber, plainSamples } from './plain.ts';

/** Pressures of the spark map, as shares of the step's. @source our default */
const SHARES = [0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3] as const;
/** Series that is drawn: pulls, and the pause between them [s]. @source our default */
const USUAL_SERIES = { pulls: 6, pause: 480 } as const;

/** Compressor map with the operating line, spark margin over speed and pressure, and how a hot charge cooler recovers. */
export function encodePictures({ engine: { model }, step }: AskedStep): LimitPictures {
  const series = encodeSeries(model, step, USUAL_SERIES);
  const [first] = series.pulls;
  const end = first?.end ?? step.soak ?? 0;
  const tank = first?.ice;
  const base = Math.min(first?.start ?? 0, end);
  const left = { rise: end, step, ...(tank === undefined ? { base } : { ice: tank }) };
  const { time, rise, low, high, wait, assumed } = soakRecoveryOf(model, left);
  return {
    compressor: encodeCompressor(model, step),
    spark: encodeSpark(model, step),
    soak: {
      time: plainSamples(time),
      rise: plainSamples(rise),
      low: plainSamples(low),
      high: plainSamples(high),
      wait: { value: wait.value, standardUncertainty: plainNumber(wait.standardUncertainty) },
      assumed: assumed.map(inWords),
      series,
    },
  };
}

const line = ({ flow, pressureRatio }: CompressorPicture['surge']) => ({
  flow: plainSamples(flow),
  pressureRatio: plainSamples(pressureRatio),
});
const NOTHING = { flow: [], pressureRatio: [] };

function encodeCompressor(model: EngineModel, step: Step): LimitPictures['compressor'] {
  const picture = compressorPicture(model, step, usualSpeeds(model));
  if (!picture.ok) {
    const operating = { ...NOTHING, speed: [], shaftSpeed: [] };
    return { why: inWords(picture.refusal.message), lines: [], surge: NOTHING, choke: NOTHING, operating };
  }
  const { lines, surge, choke, operating } = picture.value;
  return {
    lines: lines.map(({ speed, ...rest }) => ({ speed, ...line(rest) })),
    surge: line(surge),
    choke: line(choke),
    operating: { ...line(operating), speed: [...operating.speed], shaftSpeed: plainSamples(operating.shaftSpeed) },
  };
}

function encodeSpark(model: EngineModel, step: Step): LimitPictures['spark'] {
  const speeds = usualSpeeds(model);
  const pressures = Float64Array.from(SHARES, (share) => Math.round((share * step.manifoldPressure) / 5e3) * 5e3);
  const { margin, over, why } = sparkMarginMap(model, step, { speeds, pressures });
  const row = (values: Float64Array, k: number) =>
    plainSamples(values.subarray(k * speeds.length, (k + 1) * speeds.length));
  return {
    ...(why !== undefined && { why: inWords(why) }),
    speeds: [...speeds],
    pressures: [...pressures],
    rows: Array.from(pressures, (_, k) => ({ margin: row(margin, k), over: row(over, k) })),
  };
}
