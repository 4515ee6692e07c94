import { MEANINGS } from '../../../day/channels/index.ts';
import type { JoinedRecord, Track } from '../../../day/pulls/index.ts';
import type { TraceName, TracesQuery, TracesView } from '../../contract/index.ts';
import { plainNumber } from './plain.ts';
import { type SpeedRatio, speedRatio } from './speed-ratio.ts';
import { thinned, type Window } from './thinned.ts';

/**
 * The channels that were asked for, in a window of time. Without a window: the whole record; without channels: a first choice of evidence. The ratio
 * of engine speed to roll speed is no channel of a log; it comes first when it is asked for.
 */
export function encodeTraces(record: JoinedRecord, query: TracesQuery): TracesView {
  const whole = extent(record.tracks);
  const window: Window = { from: query.from ?? whole.from, to: query.to ?? whole.to, points: query.points };
  const named = record.tracks.map((track, at) => ({ track, name: traceName(track, at) }));
  const wanted = wantedIds(record.tracks, query);
  const order = [...wanted];
  const ratio = query.meanings?.split(',').includes('speed-ratio') ? speedRatio(record) : undefined;
  const engine = record.tracks.find(({ channel }) => channel.meaning === 'engine-speed');
  return {
    from: window.from,
    to: window.to,
    wholeFrom: whole.from,
    wholeTo: whole.to,
    channels: named.map(({ name }) => name),
    traces: [
      ...(ratio ? [{ ...ratioName(ratio), ...thinned(ratio, window) }] : []),
      ...named
        .filter(({ name }) => wanted.has(name.id))
        .sort((one, other) => order.indexOf(one.name.id) - order.indexOf(other.name.id))
        .map(({ track, name }) => ({ ...name, ...thinnedTrack(track, window) })),
    ],
    engineSpeed: engine && thinnedTrack(engine, window),
  };
}

/** Ids of the channels that were asked for, in the order of asking: by id, by meaning with every position, or a first choice. */
function wantedIds(tracks: readonly Track[], { channels, meanings, name }: TracesQuery): ReadonlySet<string> {
  if (channels !== undefined) return new Set(channels.split(','));
  if (meanings === undefined && name === undefined) return firstChoice(tracks);
  const ids = (is: (track: Track) => boolean): readonly string[] =>
    tracks.flatMap((track, at) => (is(track) ? [traceId(track, at)] : []));
  const named = name === undefined ? [] : ids(({ channel }) => channel.name === name);
  const asked = (meanings ?? '').split(',').flatMap((meaning) => ids(({ channel }) => channel.meaning === meaning));
  return new Set([...named, ...asked]);
}

function ratioName(ratio: SpeedRatio): TraceName {
  return {
    id: 'speed-ratio',
    name: 'engine speed over roll speed',
    title: 'engine speed over roll speed, against its middle',
    ...{ meaning: 'speed-ratio', subject: 'traction', kind: 'fraction', origin: 'derived', file: ratio.file },
    refreshRate: null,
    count: ratio.times.length,
  };
}

/** Stable inside one record: position in the record and the channel's own name. */
export function traceId(track: Track, at: number): string {
  return `${at}-${track.channel.name.replaceAll(/[^\p{L}\p{N}_-]+/gu, '_')}`;
}

function traceName({ channel, times, file, ...rest }: Track, at: number): TraceName {
  const { title, subject } = MEANINGS[channel.meaning];
  return {
    id: traceId({ channel, times, file, ...rest }, at),
    name: channel.name,
    title: channel.meaning === 'unknown' ? channel.name : title,
    meaning: channel.meaning,
    subject,
    position: channel.position,
    kind: channel.kind,
    origin: channel.origin,
    file,
    refreshRate: plainNumber(channel.refreshRate),
    count: times.length,
  };
}

function thinnedTrack({ channel, times, pieces }: Track, window: Window) {
  return thinned({ times, values: channel.samples, pieces }, window);
}

function extent(tracks: readonly Track[]): { from: number; to: number } {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const { times } of tracks) {
    from = Math.min(from, times[0] ?? from);
    to = Math.max(to, times.at(-1) ?? to);
  }
  return from <= to ? { from, to } : { from: 0, to: 0 };
}

/** What most often decides whether a pull was clean, in the order of looking. Our default. */
const EVIDENCE: readonly string[] = [
  'engine-speed',
  'roll-speed',
  'brake-force',
  'tractive-force',
  'manifold-pressure',
  'manifold-target',
  'lambda',
  'ignition-timing',
  'battery-voltage',
  'charge-temperature',
];
const MOST_TRACES = 7;

function firstChoice(tracks: readonly Track[]): ReadonlySet<string> {
  const ranked = tracks
    .map((track, at) => ({ id: traceId(track, at), rank: EVIDENCE.indexOf(track.channel.meaning) }))
    .filter(({ rank }) => rank >= 0)
    .sort((one, other) => one.rank - other.rank);
  const some = ranked.length > 0 ? ranked : tracks.map((track, at) => ({ id: traceId(track, at), rank: at }));
  return new Set(some.slice(0, MOST_TRACES).map(({ id }) => id));
}
