import { formatQuantity, type Measured, type QuantityKind } from '../../../../core/quantities/index.ts';
import type { GearAdvice, GearLimit, GearOffered } from '../../../../day/plans/index.ts';
import type { GearRow, GearsView } from '../../../contract/index.ts';
import { inWords } from '../limit-words.ts';
import { plainMeasured, plainNumber } from '../plain.ts';
import { unknownFacts } from '../unknown-facts.ts';

/** Which gear to pull in, in sentences and numbers. */
export function encodeGears(advice: GearAdvice): GearsView {
  const { gears, best, from, to, unknown, assumed } = advice;
  return {
    sentence: sentenceOf(advice),
    gears: gears.map((gear) => encodeGear(gear, best)),
    ...(best !== undefined && { best }),
    from: plainNumber(from ?? Number.NaN),
    to: plainNumber(to ?? Number.NaN),
    notes: notesOf(advice),
    unknown: unknownFacts({ missing: unknown, assumed }),
  };
}

function encodeGear({ force, power, speed, margins, ...gear }: GearOffered, best: number | undefined): GearRow {
  const [F, P, v] = [plainMeasured(force), plainMeasured(power), plainMeasured(speed)];
  return {
    ...gear,
    best: gear.number === best,
    ...(F && { force: F }),
    ...(P && { power: P }),
    ...(v && { speed: v }),
    margins: Object.entries(margins).map(([name, { margin, over }]) => ({
      ...{ name, margin: margin.value, over },
      marginUncertainty: plainNumber(margin.standardUncertainty),
    })),
  };
}

/** Said where no coast-down told what axle and tyres lose. */
export const LOSSLESS =
  'No coast-down told what axle and tyres lose: it is left out, and the force at the tyres is rather too large.';

function sentenceOf(advice: GearAdvice): string {
  const { gears, best, why } = advice;
  const taken = gears.find(({ number }) => number === best);
  if (!taken) return `No gear can be named: ${inWords(why ?? '')}.${nearestWords(advice)}${windowWords(advice)}`;
  const of = taken.margins['roller speed'];
  const left = of ? `, ${percent(of.margin.value)} below the roller’s highest` : '';
  return `Gear ${taken.number} (overall ${ratioText(taken.overallRatio)}) asks least of the tyres of those that keep every known limit: ${band(taken.force, 'force')}, and ${formatQuantity(taken.speed.value, 'speed', { decimals: 0 })} at the highest engine speed${left}.`;
}

/** The gear that lacks least where none keeps every limit, and in what. */
function nearestWords({ gears, kept, keptOfRoller, from }: GearAdvice): string {
  const lacking = gears.map(({ number, margins }) => {
    const left = Object.entries(margins).map(([name, { margin }]) => {
      const share = margin.value / (1 + margin.value);
      const wanted = name === 'traction' ? kept : keptOfRoller;
      return { name, share, wanted, lacks: wanted - share };
    });
    return { number, worst: left.sort((a, b) => b.lacks - a.lacks)[0] };
  });
  const [nearest] = lacking.sort((a, b) => (a.worst?.lacks ?? 1) - (b.worst?.lacks ?? 1));
  if (from === undefined || nearest?.worst === undefined || nearest.worst.lacks <= 0) return '';
  const { name, share, wanted } = nearest.worst;
  const text = (one: number): string => formatQuantity(one, 'fraction', { decimals: 0 });
  const words = share < 0 ? `${name} is passed` : `${name} leaves ${text(share)} in hand, ${text(wanted)} are wanted`;
  return ` Nearest is gear ${nearest.number}: ${words}.`;
}

/** Share by which a limit stands above what is asked, as a share of the limit. */
function percent(margin: number): string {
  return formatQuantity(margin / (1 + margin), 'fraction', { decimals: 0 });
}

function windowWords({ from, to }: GearAdvice): string {
  const [low, high] = [from, to].map((value) => (value === undefined ? '' : ratioText(value)));
  if (from !== undefined && to !== undefined) {
    return from <= to
      ? ` Overall ratios from ${low} to ${high} keep the roller’s speed, its force and the tyres.`
      : ` No overall ratio keeps both: the roller’s speed asks for ${low} or more, its force and the tyres for ${high} or less.`;
  }
  if (from !== undefined) return ` The roller’s speed asks for an overall ratio of ${low} or more.`;
  return to === undefined ? '' : ` The roller’s force and the tyres ask for an overall ratio of ${high} or less.`;
}

const STATE: Readonly<Record<GearLimit, string>> = {
  'roller force': 'maxForce',
  'roller power': 'maxPower',
  'roller speed': 'maxSpeed',
  traction: 'axleLoad',
};

function notesOf(advice: GearAdvice): string[] {
  const { gears, best, differs, kept, keptOfRoller, lossless } = advice;
  if (gears.length === 0) return [];
  const names: readonly GearLimit[] = ['roller force', 'roller power', 'roller speed', 'traction'];
  const blind = names.filter((name) => advice.unknown.includes(STATE[name]));
  const direct = gears.find((gear) => gear.direct);
  const share = (one: number): string => formatQuantity(one, 'fraction', { decimals: 0 });
  const shares = `A gear fits with ${share(keptOfRoller)} of the roller’s limits and ${share(kept)} of the tyres’ in hand (our default unless said otherwise).`;
  return [
    ...(lossless ? [LOSSLESS] : []),
    ...(differs === undefined
      ? []
      : [
          `The stated overall ratio is ${differs.toFixed(2)} times what gears and final drive make: one of them is wrong, or the pulls were in none of these gears.`,
        ]),
    ...(blind.length === 0
      ? []
      : [`Not in it, as nobody stated them: ${blind.map((name) => `${name} (${inWords(STATE[name])})`).join(', ')}.`]),
    ...(direct && direct.number !== best ? [directNote(direct)] : []),
    shares,
    'Gear and tyre have speeds and loads of their own that nobody stated here: theirs go first.',
  ];
}

function directNote({ number, margins, fits, gearRatio }: GearOffered): string {
  const passed = Object.entries(margins).filter(([, { margin }]) => margin.value < 0);
  const words =
    passed.length > 0
      ? `it passes ${passed.map(([name]) => name).join(', ')}`
      : fits
        ? 'it would fit too'
        : 'it keeps too little in hand';
  return `Usual is the gear nearest 1:1 (common practice, no source): gear ${number}, ${ratioText(gearRatio)}; ${words}.`;
}

function band({ value, standardUncertainty }: Measured, kind: QuantityKind): string {
  const spread = standardUncertainty > 0 ? { standardUncertainty: 2 * standardUncertainty } : {};
  return formatQuantity(value, kind, { decimals: 0, ...spread });
}

function ratioText(value: number): string {
  return formatQuantity(value, 'ratio', { decimals: 2 });
}
