import type { Finding } from '../../../core/quantities/index.ts';
import type { Meaning } from '../../../day/channels/index.ts';
import type { EntryResult, JoinedRecord } from '../../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../../day/reports/index.ts';
import type { Desk } from '../../desk/index.ts';

/** Of each entry whose channels had to be looked at: the names of those that its power is made of, as `file` and `channel` say them. */
export type PowerChannels = ReadonlyMap<string, ReadonlySet<string>>;

/** What power is made of: force and speed at the roll, and the engine speed it stands against. The air enters only with an ambient rule. */
const OF_POWER: ReadonlySet<Meaning> = new Set([
  'time',
  'brake-force',
  'tractive-force',
  'roll-torque',
  'roll-speed',
  'roll-rotation',
  'engine-speed',
]);

/** The channels that the power of a day is made of. Only entries with a doubt about a single channel are looked at. */
export async function powerChannels(desk: Desk, day: string, { entries }: DayReport): Promise<PowerChannels> {
  const found = new Map<string, ReadonlySet<string>>();
  for (const { facts, result } of entries) {
    if (!result?.findings.some(isAboutChannel)) continue;
    const record = await desk.record(day, facts.id);
    if (record.ok) found.set(facts.id, namesOf(record.value));
  }
  return found;
}

/** The same for one entry. */
export async function powerChannelsOf(desk: Desk, day: string, { facts, result }: EntryReport): Promise<PowerChannels> {
  if (!result?.findings.some(isAboutChannel)) return new Map();
  const record = await desk.record(day, facts.id);
  return new Map(record.ok ? [[facts.id, namesOf(record.value)]] : []);
}

/** True when a doubt or a fault about one channel is about a channel that power is made of, or when that cannot be told. */
export function concernsPower({ place }: Finding, { id }: Pick<EntryResult, 'id'>, channels: PowerChannels): boolean {
  const known = channels.get(id);
  return place?.channel === undefined || known === undefined || known.has(named(place.file, place.channel));
}

function isAboutChannel({ weight, place }: Finding): boolean {
  return weight !== 'note' && place?.channel !== undefined;
}

function namesOf({ tracks }: JoinedRecord): ReadonlySet<string> {
  const used = tracks.filter(({ channel }) => OF_POWER.has(channel.meaning));
  return new Set(used.flatMap(({ channel, file }) => [named(file, channel.name), named(undefined, channel.name)]));
}

function named(file: string | undefined, channel: string): string {
  return JSON.stringify([file ?? '', channel]);
}
