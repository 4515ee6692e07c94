import { MEANINGS, type Meaning } from '../../channels/index.ts';
import { type Detection, type Detector, detect, type Fault, type Subject } from '../detector.ts';
import { DETECTORS } from '../detectors.ts';
import { type Limits, limitsWith } from '../thresholds.ts';
import { divergence, missingFor } from '../weighing/inseparable.ts';
import { LIKELIHOODS } from '../weighing/likelihoods.ts';
import { areTwins, lookAlikesOf } from '../weighing/look-alikes.ts';
import type { ItemName, WeighingModel } from '../weighing/model.ts';
import { questionNames } from '../weighing/questions.ts';
import { blankPull, type PlannedChannel, type PlannedEngine, type PlannedTransmission } from './blank-pull.ts';

/** How far a fault can be seen with a set of channels. */
export type Reach = 'full' | 'weak' | 'blind';

/** A channel that is not in the set, and what it would add: the detector's answer, or what parts the fault from others. */
export interface Lacking {
  readonly channel: Meaning;
  readonly adds: 'an answer' | 'part of an answer' | 'certainty';
}

/** A look-alike that this set of channels cannot part from the fault, and the channels that would; none: no channel that we know would. */
export interface Unparted {
  readonly fault: Fault;
  readonly add: readonly Meaning[];
}

/** One fault of the coverage matrix. why: in the detector's own words, when it is blind. */
export interface CoverageRow {
  readonly fault: Fault;
  readonly subject: Subject;
  readonly reach: Reach;
  readonly why?: string;
  readonly lacking: readonly Lacking[];
  readonly unparted: readonly Unparted[];
}

/** What is planned. transmission: both are tried when it is not known. engine: limits of it that are stated. */
export interface CoverageInput {
  readonly channels: readonly (Meaning | PlannedChannel)[];
  readonly transmission?: PlannedTransmission | undefined;
  readonly engine?: PlannedEngine | undefined;
  readonly limits?: Limits;
  readonly model?: WeighingModel;
}

/** Below this share of what all channels together would tell about a fault it is seen only weakly [1]. @source our default */
const WEAK = 0.5;
/** Two look-alikes are parted when the answers differ by this much [nat]. @source our default: odds of about 3 to 1 either way */
const PARTED = 1;

/**
 * Which faults could be seen with these channels, fully, weakly or not at all, what is lacking, and which faults could not be told from
 * one another. The detectors themselves are asked, on a blank pull with exactly these channels; how much a question or a detector tells
 * comes from what was learnt from invented days.
 *
 * @param input a list of meanings, or meanings with their rates [Hz] and what is known of the vehicle
 */
export function coverageOf(input: readonly Meaning[] | CoverageInput): readonly CoverageRow[] {
  const {
    channels,
    transmission,
    engine,
    limits = limitsWith(),
    model = LIKELIHOODS,
  } = isList(input) ? { channels: input, transmission: undefined, engine: undefined } : input;
  const planned = channels.map((one): PlannedChannel => (typeof one === 'string' ? { meaning: one } : one));
  const kinds: readonly PlannedTransmission[] = transmission ? [transmission] : ['manual', 'converter'];
  const ask = (list: readonly PlannedChannel[], detectors: readonly Detector[]): readonly Detection[] =>
    bestOf(kinds.map((kind) => askedWith(list, { kind, detectors, limits, engine })));
  const answers = ask(planned, DETECTORS);
  const lookAlikes = lookAlikesOf(DETECTORS, model.explains);
  const logged = (meaning: Meaning): boolean => planned.some((one) => one.meaning === meaning);
  const able = new Set(answers.filter(({ answer }) => answer !== 'cannot tell').map(({ fault }) => fault));
  const known = (item: ItemName): boolean => isKnown(item, { able, logged });
  return answers.map((answer, i) => {
    const { fault, subject } = answer;
    const like = [...(lookAlikes.get(fault) ?? [])];
    const view = { model, known, logged, answers };
    if (planned.length === 0)
      return { fault, subject, reach: 'blind', why: 'no channel at all', lacking: [], unparted: [] };
    if (!able.has(fault)) {
      const lacking = lackingOf(answer, (list) => ask([...planned, ...list], [DETECTORS[i]]));
      return { fault, subject, reach: 'blind', why: answer.why ?? '', lacking, unparted: [] };
    }
    const told = toldAbout([fault, 'nothing'], view);
    const unparted = like.flatMap((other): Unparted[] => {
      const pair = toldAbout([fault, other], view);
      const hidden = areTwins(fault, other) ? [...hiddenBy(fault, logged), ...hiddenBy(other, logged)] : [];
      const lacks = able.has(other) ? pair.lacking : (answers.find((one) => one.fault === other)?.missing ?? []);
      const without = [...new Set([...hidden, ...lacks])];
      const parted = pair.here >= PARTED && able.has(other) && hidden.length === 0;
      return parted || without.length === 0 ? [] : [{ fault: other, add: without }];
    });
    const hidden = hiddenBy(fault, logged);
    const faint = told.all > 0 && told.here < WEAK * told.all;
    const reach = faint || hidden.length > 0 ? 'weak' : 'full';
    const lacks = [...new Set([...hidden, ...(faint ? told.lacking : [])])];
    const lacking = lacks.map((channel): Lacking => ({ channel, adds: 'certainty' }));
    return { fault, subject, reach, lacking, unparted };
  });
}

/** Channels that are not logged and without which part of a fault stays hidden. */
function hiddenBy(fault: Fault, logged: (meaning: Meaning) => boolean): readonly Meaning[] {
  const sharper = DETECTORS.find((one) => one.fault === fault)?.sharper ?? [];
  return sharper.filter((meaning) => !logged(meaning));
}

function isList(input: readonly Meaning[] | CoverageInput): input is readonly Meaning[] {
  return Array.isArray(input);
}

interface Asking {
  readonly kind: PlannedTransmission;
  readonly detectors: readonly Detector[];
  readonly limits: Limits;
  readonly engine: PlannedEngine | undefined;
}

function askedWith(
  channels: readonly PlannedChannel[],
  { kind, detectors, limits, engine }: Asking,
): readonly Detection[] {
  const scene = blankPull(channels, kind, engine);
  return detectors.map((detector) => detect(detector, scene, limits));
}

/** For each detector the answer of the vehicle that suits it best. */
function bestOf(each: readonly (readonly Detection[])[]): readonly Detection[] {
  const [first, ...rest] = each;
  return first.map((answer, i) => rest.reduce((best, other) => (isBetter(other[i], best) ? other[i] : best), answer));
}

function isBetter(one: Detection, other: Detection): boolean {
  if (other.answer !== 'cannot tell') return false;
  return one.answer !== 'cannot tell' || (one.missing.length > 0 && other.missing.length === 0);
}

/** What a blind detector lacks: each missing channel alone, or together with the other missing ones. */
function lackingOf(
  { missing }: Detection,
  ask: (added: readonly PlannedChannel[]) => readonly Detection[],
): readonly Lacking[] {
  return missing.map((channel) => {
    const alone = ask([{ meaning: channel }])[0]?.answer !== 'cannot tell';
    return { channel, adds: alone ? 'an answer' : 'part of an answer' };
  });
}

interface View {
  readonly model: WeighingModel;
  readonly known: (item: ItemName) => boolean;
  readonly logged: (meaning: Meaning) => boolean;
  readonly answers: readonly Detection[];
}

/** How much the items tell about two causes, here and with all channels [nat], and the channels that the silent ones lack. */
function toldAbout(
  pair: readonly [Fault, Fault | 'nothing'],
  { model, known, logged, answers }: View,
): { readonly here: number; readonly all: number; readonly lacking: readonly Meaning[] } {
  const items: readonly ItemName[] = [...questionNames(), ...answers.map(({ fault }): ItemName => `said:${fault}`)];
  let [here, all] = [0, 0];
  const lacking = new Map<Meaning, number>();
  for (const item of items) {
    const tells = divergence(model, item, pair);
    all += tells;
    if (known(item)) here += tells;
    else
      for (const meaning of lackedBy(item, { logged, answers }))
        lacking.set(meaning, (lacking.get(meaning) ?? 0) + tells);
  }
  const worth = [...lacking].filter(([, tells]) => tells > 0.2).sort((one, other) => other[1] - one[1]);
  return { here, all, lacking: worth.map(([meaning]) => meaning) };
}

function lackedBy(item: ItemName, { logged, answers }: Pick<View, 'logged' | 'answers'>): readonly Meaning[] {
  const question = questionNames().find((name) => name === item);
  if (question !== undefined) return missingFor(question, logged);
  return answers.find(({ fault }) => `said:${fault}` === item)?.missing ?? [];
}

function isKnown(
  item: ItemName,
  { able, logged }: { readonly able: ReadonlySet<Fault>; readonly logged: (meaning: Meaning) => boolean },
): boolean {
  const question = questionNames().find((name) => name === item);
  if (question !== undefined) return missingFor(question, logged).length === 0;
  return [...able].some((fault) => `said:${fault}` === item);
}

/** Every meaning that a channel can have, for the widest coverage there is. */
export const ALL_MEANINGS: readonly Meaning[] = Object.keys(MEANINGS).filter(
  (name): name is Meaning => name in MEANINGS && !['time', 'unknown', 'text', 'row-counter'].includes(name),
);
