import { exactText, measuredText, unitSymbol } from '../../../core/quantities/index.ts';
import { borderText } from '../../../day/reports/index.ts';
import type { FeatureView, HypothesisView, OccurrenceView, VerdictView, WindowView } from '../../contract/index.ts';
import type { TextStyle } from './style.ts';
import { indented, wrapped } from './table.ts';

/** Windows of one occurrence that are named one by one. @source our default */
const MOST_WINDOWS = 3;
/** Causes of one occurrence whose reasons are told. @source our default */
const MOST_CAUSES = 2;

/** The verdict of one pull in full: what was seen with its causes, reasons and numbers, the next check, and what could not be told. */
export function verdictLines(verdict: VerdictView, style: TextStyle, number?: number): readonly string[] {
  const { stop, validity, occurrences, untold, unseen } = verdict;
  const lead = number === undefined ? 'Verdict' : `Verdict of pull ${number}`;
  const word = stop.class >= 2 ? stop.word.toUpperCase() : stop.word;
  const asks = stop.class === 0 ? '' : `; ${word}: ${stop.meaning}`;
  const counted = occurrences.filter((one) => one.believed && one.overruled === undefined);
  const doubted = occurrences.filter((one) => !one.believed && one.overruled === undefined);
  const overruled = occurrences.filter((one) => one.overruled !== undefined);
  return [
    '',
    wrapped(`${lead}: ${validity}${asks}`, style.width, '  '),
    ...(counted.length === 0 ? ['  Nothing that was looked for is more likely than not.'] : []),
    ...counted.flatMap((one) => occurrenceLines(one, style)),
    ...doubted.map((one) => line(`less likely than not: ${causeText(one)}, ${whereText(one.windows, style)}`, style)),
    ...overruled.map((one) => line(`overruled: ${causeText(one)}, because: ${one.overruled ?? ''}`, style)),
    ...untoldLines(untold, style),
    line(`looked for and not seen: ${unseen.map(({ title }) => title).join(', ') || 'nothing'}`, style),
  ];
}

function occurrenceLines(occurrence: OccurrenceView, style: TextStyle): readonly string[] {
  const { hypotheses, windows, stop, voids, channel, next, inseparable, separation } = occurrence;
  const [first, ...others] = hypotheses;
  const effect = { power: 'power void there', channel: `${channel ?? 'the channel'} not usable there`, nothing: '' }[
    voids
  ];
  const head = [
    `${causeText(occurrence)}${channel === undefined ? '' : ` (${channel})`}`,
    whereText(windows, style),
    stop.class >= 2 ? stop.word.toUpperCase() : stop.word,
    effect,
  ].filter((part) => part !== '');
  const rest = others.map(({ title, chance }) => `${title} ${chance}`);
  return [
    indented(wrapped(`! ${head.join('; ')}`, style.width - 2, '  ')),
    ...(rest.length > 0 ? [deeper(`or: ${rest.join(', ')}`, style)] : []),
    ...hypotheses.slice(0, MOST_CAUSES).flatMap((cause) => reasonLines(cause, style)),
    ...(first && first.features.length > 0
      ? [deeper(`numbers: ${first.features.map((feature) => featureText(feature, style)).join('; ')}`, style)]
      : []),
    deeper(separation.map(({ question, answer }) => `${question} ${answer}`).join(' '), style),
    ...inseparable.map(({ one, other, without }) =>
      deeper(`cannot tell ${one} from ${other}${without.length > 0 ? ` without ${without.join(', ')}` : ''}`, style),
    ),
    ...(next ? [deeper(`next check: ${next.text}`, style)] : []),
  ];
}

function causeText({ hypotheses }: Pick<OccurrenceView, 'hypotheses'>): string {
  const [first] = hypotheses;
  return first ? `${first.title} ${first.chance}` : 'something that no known fault explains';
}

function reasonLines({ title, evidence }: HypothesisView, style: TextStyle): readonly string[] {
  const side = (sign: 1 | -1, word: string): readonly string[] => {
    const told = evidence.filter(({ weight }) => sign * weight > 0).map(({ what }) => what);
    return told.length > 0 ? [deeper(`${word} ${title}: ${told.join('; ')}`, style)] : [];
  };
  return [...side(1, 'for'), ...side(-1, 'against')];
}

/** `roughness 8.1 % (limit 2 %, our default)`. */
function featureText({ title, value, kind, threshold, source }: FeatureView, style: TextStyle): string {
  const { system } = style;
  const shown = `${title} ${measuredText(value ?? Number.NaN, kind, { system, limit: threshold })}`;
  return threshold === undefined ? shown : `${shown} (limit ${exactText(threshold, kind, { system })}, ${source})`;
}

function whereText(windows: readonly WindowView[], style: TextStyle): string {
  const texts = windows.slice(0, MOST_WINDOWS).map((window) => windowText(window, style));
  const rest = windows.length - texts.length;
  return `${texts.join(', ')}${rest > 0 ? ` and ${rest} more windows` : ''}`;
}

function windowText({ from, to, lowSpeed, highSpeed }: WindowView, { system }: TextStyle): string {
  const seconds = `${from.toFixed(2)}–${to.toFixed(2)} s`;
  if (lowSpeed === null || highSpeed === null) return seconds;
  const [low, high] = [lowSpeed, highSpeed].map((speed) => borderText(speed, system));
  return `${low === high ? low : `${low}–${high}`} ${unitSymbol('engine-speed', system)} (${seconds})`;
}

/** What cannot be told, once for every reason: missing channels first. */
function untoldLines(untold: VerdictView['untold'], style: TextStyle): readonly string[] {
  const reasonOf = ({ missing, why }: VerdictView['untold'][number]): string =>
    missing.length > 0 ? `missing ${missing.join(', ')}` : why;
  const groups = [...Map.groupBy(untold, reasonOf)];
  return groups.map(([reason, group]) =>
    line(`cannot tell ${group.map(({ title }) => title).join(', ')}: ${reason}`, style),
  );
}

function line(text: string, { width }: TextStyle): string {
  return indented(wrapped(`· ${text}`, width - 2, '  '));
}

function deeper(text: string, { width }: TextStyle): string {
  return indented(indented(wrapped(text, width - 4, '  ')));
}
