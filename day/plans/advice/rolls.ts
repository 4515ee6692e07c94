import {
  gearChoice,
  KEPT_MARGIN,
  KEPT_TRACTION,
  type RollerLimits,
  type SurfaceCurve,
} from '../../../core/physics/index.ts';
import { force, type Measured, power, type Ratio, ratio, speed } from '../../../core/quantities/index.ts';
import { around } from '../limits/around.ts';
import type { Foresight } from '../limits/foresight.ts';
import { tyreContact } from '../limits/kinds/traction.ts';
import { type Ledger, ledgerOf } from '../limits/ledger.ts';
import type { Limit, LimitName } from '../limits/limit.ts';
import { limitBy } from '../limits/limits-of.ts';
import { judgedSpeeds, usualSpeeds } from '../limits/speeds.ts';
import type { Prediction, Step } from '../model/engine-model.ts';
import { isForetold, withDriving } from './driving.ts';

/** gearRatios: of the gearbox, from the first gear on [1]; absent: unknown. kept: share of the tractive limit kept in hand [1]. */
export interface GearsAsked {
  readonly gearRatios?: readonly number[] | undefined;
  readonly kept?: number;
}

/** How much a limit leaves in a gear: margin [1] with its spread, and the chance that it is passed, where that is likeliest. */
export interface GearMargin {
  readonly margin: Measured;
  readonly over: number;
}

/**
 * One gear in a step. number: 1 is the first. force [N], power [W], speed [m/s]: largest at the roll surface; speed at the highest engine speed.
 * margins: of the limits that are known. now: the gear of the step. direct: its gearbox ratio is nearest 1. fits: every known limit is kept.
 */
export interface GearOffered {
  readonly number: number;
  readonly gearRatio: number;
  readonly overallRatio: number;
  readonly now: boolean;
  readonly direct: boolean;
  readonly force: Measured;
  readonly power: Measured;
  readonly speed: Measured;
  readonly margins: Readonly<Partial<Record<GearLimit, GearMargin>>>;
  readonly fits: boolean;
}

export type GearLimit = Extract<LimitName, 'roller force' | 'roller power' | 'roller speed' | 'traction'>;
const LIMITS: readonly GearLimit[] = ['roller force', 'roller power', 'roller speed', 'traction'];

/**
 * gears: as far as they are known, from the first on. best: number of the one to take. why: none can be named, and why.
 * from, to: overall ratios that keep the roller's speed, and its force and the tyres; undefined where it cannot be told.
 * lossless: no coast-down told the losses; without them the forces are rather too large.
 * differs: the stated overall ratio over the one that gears and final drive make, where they disagree by more than 3 %.
 */
export interface GearAdvice {
  readonly kept: number;
  readonly keptOfRoller: number;
  readonly gears: readonly GearOffered[];
  readonly best: number | undefined;
  readonly why: string | undefined;
  readonly from: number | undefined;
  readonly to: number | undefined;
  readonly differs: number | undefined;
  readonly lossless: boolean;
  readonly unknown: readonly string[];
  readonly assumed: readonly string[];
}

/** Overall ratios that count as the same gear, apart [1]. @source our default */
const SAME_GEAR = 0.03;

/**
 * What each gear asks of roller and tyres in a step, and which to pull in: of those that keep every known limit, the one with the lowest
 * force at the tyre, for slip and tyre heat grow with force. Without the roller's highest speed none is named: the tallest would always win.
 *
 *     F = T·i·η/r less what the coast-downs show,   v = ω·r/i
 *
 * @valid   steady speed; overall ratios from the gear of the pulls, else from the final drive
 * @source  kinematics and statics; choice: {@link gearChoice}
 */
export function gearAdvice(told: Foresight, step: Step, { gearRatios, kept = KEPT_TRACTION }: GearsAsked): GearAdvice {
  const foresight = withDriving(told);
  const ledger = ledgerOf(foresight.model);
  const overall = overallRatios(ledger, gearRatios);
  const limits = rollerLimits(ledger);
  const contact = tyreContact(ledger, step);
  const traction = contact?.limit.value;
  const asked: Asked = { foresight, step, ledger };
  const rows = overall.ratios.map((i) => rowAt(asked, i));
  const choice = gearChoice({
    gears: rows.map(({ ratio: i, surface }, k) => ({ name: String(k + 1), ratio: i, surface })),
    limits,
    ...(traction === undefined ? {} : { traction }),
    tractionMargin: ratio(1 / (1 - kept) - 1),
  });
  const direct = directGear(gearRatios);
  const now = step.overallRatio ?? ledger.look('overallRatio')?.value;
  const gears = choice.offers.map((offer, k): GearOffered => {
    const { ratio: i, force: F, power: P, speed: v, margins } = rows[k];
    return {
      ...{ number: k + 1, gearRatio: gearRatios?.[k] ?? Number.NaN, overallRatio: i },
      now: now !== undefined && Math.abs(i / now - 1) < SAME_GEAR,
      direct: k === direct,
      ...{ force: F, power: P, speed: v, margins, fits: offer.fits },
    };
  });
  const canChoose = Number.isFinite(limits.speed);
  const best = canChoose && choice.best ? Number(choice.best.name) : undefined;
  return {
    ...{ kept, keptOfRoller: KEPT_MARGIN / (1 + KEPT_MARGIN), gears, best },
    why: best === undefined ? whyNone(overall, gears, canChoose) : undefined,
    ...ratiosThatFit(asked, { limits, traction, kept }),
    differs: overall.differs,
    lossless: !isForetold(told.predict(step, usualSpeeds(told.model))),
    unknown: [...(gearRatios === undefined ? ['gearRatios'] : []), ...ledger.missing],
    assumed: ledger.assumed,
  };
}

interface Asked {
  readonly foresight: Foresight;
  readonly step: Step;
  readonly ledger: Ledger;
}

interface Overall {
  readonly ratios: readonly number[];
  readonly why?: string;
  readonly differs: number | undefined;
}

/** Overall ratio of each gear: from that of the pulls where their gear is known, else from the final drive. */
function overallRatios(ledger: Ledger, gearRatios: readonly number[] | undefined): Overall {
  const none = { ratios: [], differs: undefined };
  if (gearRatios === undefined) return { ...none, why: 'gears unknown: state gearRatios, and finalDrive or pullGear' };
  const drive = ledger.look('finalDrive')?.value;
  const pull = ledger.look('pullGear')?.value;
  const inPulls = ledger.look('overallRatio')?.value;
  const own = pull === undefined ? undefined : gearRatios[pull - 1];
  if (pull !== undefined && own === undefined)
    return { ...none, why: `gear of the pulls is ${pull}, and only ${gearRatios.length} gears are stated` };
  const fromPulls = own !== undefined && inPulls !== undefined ? inPulls / own : undefined;
  const factor = fromPulls ?? drive;
  if (factor === undefined) {
    ledger.need('finalDrive');
    return { ...none, why: 'gears unknown: state finalDrive, or pullGear with overallRatio' };
  }
  const ratios = gearRatios.map((one) => one * factor);
  return { ratios, differs: differenceOf({ drive, fromPulls, inPulls }, ratios) };
}

interface Known {
  readonly drive: number | undefined;
  readonly fromPulls: number | undefined;
  readonly inPulls: number | undefined;
}

function differenceOf({ drive, fromPulls, inPulls }: Known, ratios: readonly number[]): number | undefined {
  if (drive !== undefined && fromPulls !== undefined) {
    return Math.abs(fromPulls / drive - 1) > SAME_GEAR ? fromPulls / drive : undefined;
  }
  if (inPulls === undefined || ratios.length === 0) return undefined;
  const nearest = ratios.reduce((best, one) =>
    Math.abs(one / inPulls - 1) < Math.abs(best / inPulls - 1) ? one : best,
  );
  return Math.abs(nearest / inPulls - 1) > SAME_GEAR ? inPulls / nearest : undefined;
}

function whyNone({ ratios, why }: Overall, gears: readonly GearOffered[], canChoose: boolean): string {
  if (ratios.length === 0) return why ?? 'gears unknown: state gearRatios';
  if (gears.every(({ force: F }) => Number.isNaN(F.value))) return 'driving force cannot be told';
  return canChoose
    ? 'no gear keeps every limit'
    : 'highest speed of the roller unknown: state maxSpeed; without it the tallest gear would always seem best';
}

/** Gear whose gearbox ratio is nearest 1, in the sense of a quotient. */
function directGear(gearRatios: readonly number[] = []): number {
  const away = gearRatios.map((one) => Math.abs(Math.log(one)));
  return away.indexOf(Math.min(...away));
}

function rollerLimits(ledger: Ledger): RollerLimits {
  const limit = (name: string): number => ledger.need(name)?.value ?? Number.POSITIVE_INFINITY;
  return { force: force(limit('maxForce')), power: power(limit('maxPower')), speed: speed(limit('maxSpeed')) };
}

interface Row extends Pick<GearOffered, 'force' | 'power' | 'speed' | 'margins'> {
  readonly ratio: Ratio;
  readonly surface: SurfaceCurve;
}

function rowAt({ foresight, step, ledger }: Asked, overallRatio: number): Row {
  const { model, predict } = foresight;
  const geared = { ...step, overallRatio };
  const speeds = usualSpeeds(model);
  const judged = judgedSpeeds(model, step, speeds);
  const prediction = predict(geared, speeds);
  const radius = ledger.take('tyreRadius', UNKNOWN_RADIUS);
  const kept = (values: Float64Array): Float64Array => values.map((one, i) => (judged[i] ? one : Number.NaN));
  const surface = {
    speed: kept(speeds.map((omega) => (omega * radius.value) / overallRatio)),
    force: kept(prediction.lines['wheel force'].value),
  };
  const fastest = Math.max(...surface.speed.filter((v) => !Number.isNaN(v)));
  const margins = LIMITS.flatMap((name): [GearLimit, GearMargin][] => {
    const found = marginOf(limitBy(name, { model, prediction, step: geared }), judged);
    return found ? [[name, found]] : [];
  });
  return {
    ...{ ratio: ratio(overallRatio), surface, margins: Object.fromEntries(margins) },
    force: largestOf(prediction, 'wheel force', judged),
    power: largestOf(prediction, 'wheel power', judged),
    speed: around(fastest, (fastest * radius.standardUncertainty) / radius.value),
  };
}

const UNKNOWN_RADIUS = { value: Number.NaN, standardUncertainty: Number.NaN, source: 'none' };

function largestOf({ lines }: Prediction, line: 'wheel force' | 'wheel power', judged: readonly boolean[]): Measured {
  const { value, standardUncertainty } = lines[line];
  let most = -1;
  value.forEach((one, i) => {
    if (judged[i] && !Number.isNaN(one) && !(value[most] >= one)) most = i;
  });
  return most < 0 ? around(Number.NaN, Number.NaN) : around(value[most], standardUncertainty[most]);
}

/** Where a limit is likeliest passed; of several such places the one with the least margin. */
function marginOf({ margin, marginUncertainty, over }: Limit, judged: readonly boolean[]): GearMargin | undefined {
  let at = -1;
  over.forEach((chance, i) => {
    if (!judged[i] || Number.isNaN(chance) || !Number.isFinite(margin[i])) return;
    if (at < 0 || chance > over[at] + 1e-9 || (Math.abs(chance - over[at]) <= 1e-9 && margin[i] < margin[at])) at = i;
  });
  return at < 0 ? undefined : { margin: around(margin[at], marginUncertainty[at]), over: over[at] };
}

interface Borders {
  readonly limits: RollerLimits;
  readonly traction: number | undefined;
  readonly kept: number;
}

/** Overall ratios between which roller and tyres are kept: the upper one a little too small, as losses do not fall with the ratio. */
function ratiosThatFit(
  { foresight, step, ledger }: Asked,
  { limits, traction, kept }: Borders,
): Pick<GearAdvice, 'from' | 'to'> {
  const { model } = foresight;
  const radius = ledger.look('tyreRadius')?.value;
  const fastest = usualSpeeds(model).at(-1) ?? Number.NaN;
  const from =
    radius === undefined || !Number.isFinite(limits.speed)
      ? undefined
      : ((fastest * radius) / limits.speed) * (1 + KEPT_MARGIN);
  const now = step.overallRatio ?? ledger.look('overallRatio')?.value;
  const most = now === undefined ? Number.NaN : rowAt({ foresight, step, ledger }, now).force.value;
  const allowed = Math.min(limits.force / (1 + KEPT_MARGIN), (traction ?? Number.POSITIVE_INFINITY) * (1 - kept));
  const to = now !== undefined && most > 0 && Number.isFinite(allowed) ? (now * allowed) / most : undefined;
  return { from, to };
}
