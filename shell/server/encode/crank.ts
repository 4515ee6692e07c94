import { answered, type Outcome, parseQuantity } from '../../../core/quantities/index.ts';
import {
  type CrankPicture,
  crankPicture,
  type EngineModel,
  type Limit,
  type LimitName,
  limitsAt,
  type Step,
  usualSpeeds,
} from '../../../day/plans/index.ts';
import type { CrankLimit, CrankView } from '../../contract/index.ts';
import { inWords, limitTitle } from './limit-words.ts';
import type { AskedStep } from './limits.ts';
import { plainNumber } from './plain.ts';
import { unknownFacts } from './unknown-facts.ts';

/** Limits that a picture over crank angle shows, and at which angle each is asked [rad]; undefined: where the picture has its extreme. */
const LOADS: readonly { readonly name: LimitName; readonly sign: 1 | -1 }[] = [
  { name: 'peak pressure', sign: 1 },
  { name: 'head clamp', sign: 1 },
  { name: 'rod compression', sign: 1 },
  { name: 'rod tension', sign: -1 },
];
/** Of the samples of a picture one in so many is sent. @source our default: one a degree */
const THIN = 2;
/** Digits that are sent. @source our default: a hundredth of a percent is far below any spread */
const DIGITS = 5;

/** Pressure and forces of one cylinder over crank angle, with the limits of the loads at that speed. Without a speed: where they are tightest. */
export function encodeCrank({ engine: { model }, step }: AskedStep, speed?: number): CrankView {
  const speeds = usualSpeeds(model);
  const at = speed ?? tightestSpeed(limitsAt(model, step, speeds), speeds);
  const picture = crankPicture(model, step, at);
  const limits = crankLimits(model, { step, speed: at }, picture.ok ? picture.value : undefined);
  if (!picture.ok) {
    const nothing = { angle: [], pressure: [], gas: [], inertia: [], rod: [] };
    return { speed: at, speeds: [...speeds], ...nothing, limits, why: inWords(picture.refusal.message) };
  }
  const { angle, pressure, gas, inertia, rod, thinnestFilm } = picture.value;
  return {
    speed: at,
    speeds: [...speeds],
    ...{ angle: thinned(angle), pressure: thinned(pressure) },
    ...{ gas: thinned(gas), inertia: thinned(inertia), rod: thinned(rod) },
    ...(thinnestFilm !== undefined && Number.isFinite(thinnestFilm) && { film: thinnestFilm }),
    limits,
  };
}

/** Reads `5000 rpm`; nothing stays nothing. */
export function readSpeed(text: string | undefined): Outcome<number | undefined> {
  if (text === undefined || text.trim() === '') return answered(undefined);
  const read = parseQuantity(text, 'engine-speed');
  if (!read.ok) return read;
  const { value } = read.value;
  if (value > LOWEST && value < HIGHEST) return answered(value);
  const message = `engine speed out of validity: ${text}, valid 500–20000 rpm`;
  return { ok: false, refusal: { kind: 'out of validity', message, numbers: { value, low: LOWEST, high: HIGHEST } } };
}

const LOWEST = (500 * Math.PI) / 30;
const HIGHEST = (20_000 * Math.PI) / 30;

function tightestSpeed(limits: readonly Limit[], speeds: Float64Array): number {
  const middle = speeds[speeds.length >> 1] ?? Number.NaN;
  let best = { chance: -1, room: Number.POSITIVE_INFINITY, speed: middle };
  for (const { name, over, margin } of limits) {
    if (!LOADS.some((load) => load.name === name)) continue;
    speeds.forEach((speed, i) => {
      const [chance, room] = [over[i] ?? Number.NaN, margin[i] ?? Number.NaN];
      if (chance > best.chance + 1e-6 || (chance >= best.chance - 1e-6 && room < best.room))
        best = { chance, room, speed };
    });
  }
  return best.speed;
}

function crankLimits(
  model: EngineModel,
  { step, speed }: { readonly step: Step; readonly speed: number },
  picture: CrankPicture | undefined,
): CrankLimit[] {
  const limits = limitsAt(model, step, Float64Array.of(speed));
  return LOADS.flatMap(({ name, sign }) => {
    const limit = limits.find((one) => one.name === name);
    if (!limit) return [];
    const of = (values: Float64Array): number | null => plainNumber(values[0] ?? Number.NaN);
    const worst = worstOf(name, picture);
    return [
      {
        ...{ name, sign, title: limitTitle(name), kind: limit.kind },
        angle: plainNumber(worst.angle),
        required: of(limit.required) ?? plainNumber(worst.value),
        requiredUncertainty: of(limit.requiredUncertainty),
        available: of(limit.available),
        availableUncertainty: of(limit.availableUncertainty),
        margin: of(limit.margin),
        over: of(limit.over),
        ...(limit.why !== undefined && { why: inWords(limit.why) }),
        unknown: unknownFacts(limit),
      },
    ];
  });
}

/** The worst place of the cycle that was drawn [rad], and what is asked there; that of a limit that is known, with its spread, goes before. */
function worstOf(
  name: LimitName,
  picture: CrankPicture | undefined,
): { readonly angle: number; readonly value: number } {
  if (!picture) return { angle: Number.NaN, value: Number.NaN };
  // a rod is pulled hardest at the dead centre of gas exchange with the throttle shut: inertia alone
  if (name === 'rod tension') return { angle: 2 * Math.PI, value: -(picture.inertia[0] ?? Number.NaN) };
  const { compression, peak } = picture;
  return name === 'rod compression'
    ? { angle: compression.angle, value: compression.force }
    : { angle: peak.angle, value: peak.pressure };
}

/** Every second sample, the last one too, with as many digits as can be seen. */
function thinned(values: Float64Array): (number | null)[] {
  const kept: (number | null)[] = [];
  for (let i = 0; i < values.length; i += THIN) kept.push(rounded(values[i] ?? Number.NaN));
  return kept;
}

function rounded(value: number): number | null {
  return Number.isFinite(value) ? Number(value.toPrecision(DIGITS)) : null;
}
