import { MEANINGS, type Meaning, type Recording } from '../../../day/channels/index.ts';
import type { DayFacts, JoinedRecord } from '../../../day/pulls/index.ts';
import { FAULT_TITLES } from '../../../day/reports/index.ts';
import {
  ALL_MEANINGS,
  type CoverageInput,
  type CoverageRow,
  coverageOf,
  dayLimits,
} from '../../../day/verdicts/index.ts';
import type { CoverageRowView, CoverageView } from '../../contract/index.ts';
import { titlesOf } from './feature.ts';

/** A channel as a log has it, with how often it is renewed. */
type Planned = Exclude<CoverageInput['channels'][number], Meaning>;

/** What is asked: the channels that were ticked, or all that the newest log of the day has. */
export interface CoverageQuestion {
  readonly day: string;
  readonly facts: DayFacts;
  readonly record: JoinedRecord | undefined;
  readonly ticked: readonly Meaning[] | undefined;
}

/** The matrix of faults for a set of channels. A channel that the day's log has counts with the rate it has there. */
export function encodeCoverage({ day, facts, record, ticked }: CoverageQuestion): CoverageView {
  const logged = record ? channelsOf([{ channels: record.tracks.map(({ channel }) => channel) }]) : [];
  const wanted = ticked ?? logged.map(({ meaning }) => meaning);
  const channels = wanted.map((meaning) => logged.find((one) => one.meaning === meaning) ?? { meaning });
  return {
    ...{ day, dayTitle: facts.title, ...(facts.invented !== undefined && { invented: facts.invented }) },
    channels: ALL_MEANINGS.map((meaning) => ({
      meaning,
      title: MEANINGS[meaning].title,
      subject: MEANINGS[meaning].subject,
      logged: logged.some((one) => one.meaning === meaning),
      ticked: wanted.includes(meaning),
    })),
    rows: coverageRows(channels, facts),
  };
}

/** What could be told with these channels, under what is stated about vehicle and limits. */
export function coverageRows(
  channels: CoverageInput['channels'],
  facts: Pick<DayFacts, 'vehicle' | 'thresholds' | 'engineThresholds'> & Partial<Pick<DayFacts, 'engine'>>,
): CoverageRowView[] {
  const { transmission } = facts.vehicle;
  const known = transmission === 'manual' || transmission === 'converter' ? { transmission } : {};
  const { limits } = dayLimits(facts);
  return coverageOf({ channels, limits, engine: facts.engine, ...known }).map(encodeRow);
}

function encodeRow({ fault, subject, reach, why, lacking, unparted }: CoverageRow): CoverageRowView {
  return {
    ...{ fault, title: FAULT_TITLES[fault], subject, reach, ...(why !== undefined && { why }) },
    lacking: lacking.map(({ channel, adds }) => ({ channel: MEANINGS[channel].title, adds })),
    unparted: unparted.map((one) => ({ title: FAULT_TITLES[one.fault], add: titlesOf(one.add) })),
  };
}

/** Channels of logs that a fault can be seen in, each once, with its fastest rate [Hz]. */
export function channelsOf(logs: readonly Pick<Recording, 'channels'>[]): readonly Planned[] {
  const found = new Map<Meaning, Planned>();
  for (const { meaning, refreshRate: rate } of logs.flatMap(({ channels }) => channels)) {
    if (!ALL_MEANINGS.includes(meaning) || rate <= (found.get(meaning)?.rate ?? 0)) continue;
    found.set(meaning, { meaning, ...(Number.isFinite(rate) && rate > 0 && { rate }) });
  }
  return [...found.values()];
}

/** Meanings that were asked for by name; undefined when one of them is none. */
export function meaningsNamed(text: string): readonly Meaning[] | { readonly unknown: string } {
  const names = text.split(',').filter((name) => name !== '');
  const unknown = names.find((name) => !ALL_MEANINGS.some((meaning) => meaning === name));
  return unknown === undefined ? ALL_MEANINGS.filter((meaning) => names.includes(meaning)) : { unknown };
}
