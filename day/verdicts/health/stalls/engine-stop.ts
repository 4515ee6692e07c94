import { middle } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';
import type { HealthEntry } from '../entries.ts';
import type { HealthLimits } from '../thresholds.ts';

/**
 * Engine speed that fell from running to nothing. Times [s] on the record's clock: `above` last at `level`, `stopped` first below the limit.
 * level: engine speed before the fall [rad/s]; leap: it came from running to nothing between two samples; smooth: through several values on the way, as a shaft does. returns: it came back with a leap.
 * moment: what was being done.
 */
export interface EngineStop {
  readonly above: number;
  readonly stopped: number;
  readonly level: number;
  readonly leap: boolean;
  readonly smooth: boolean;
  readonly returns: boolean;
  readonly moment: 'throttle released' | 'coast-down' | 'idle';
}

/** Look back over this for what went before [s]; a throttle released within it belongs to the stop. @source our default */
const BEFORE = 6;
const RELEASED = 8;

/** The first stop of the engine in an entry; undefined when its speed never fell to nothing after running. */
export function engineStop(entry: HealthEntry, limits: HealthLimits): EngineStop | undefined {
  const track = entry.tracks.find(({ meaning }) => meaning === 'engine-speed');
  if (!track) return undefined;
  const [running, low] = [limits['stall.running'].value, limits['stall.stopped'].value];
  const at = firstStop(track, { running, low, lasting: limits['stall.lasting'].value });
  if (at === undefined) return undefined;
  const { times, raw } = track;
  let above = at;
  while (above > 0 && !(raw[above] > 1.5 * running)) above -= 1;
  const before = [...times.keys()].filter((i) => times[i] <= times[above] && times[i] > times[above] - BEFORE);
  const after = [...times.keys()].slice(at).find((i) => raw[i] > running);
  const stop = { above: times[above], stopped: times[at], level: middle(before.slice(-20).map((i) => raw[i])) };
  return {
    ...stop,
    leap: at - above <= 1,
    smooth: isSmooth(track, above, at),
    returns: after !== undefined && raw[after] - raw[after - 1] > 0.6 * stop.level,
    moment: momentOf(entry, stop.stopped),
  };
}

/** A fall takes at least so long [s] and passes so many different values. @source our default */
const FALLS = 0.12;
const VALUES = 3;

function isSmooth({ times, raw }: SceneTrack, above: number, at: number): boolean {
  const between = new Set([...raw.slice(above, at + 1)].map((speed) => Math.round(speed)));
  return times[at] - times[above] > FALLS && between.size > VALUES + 1;
}

function firstStop(
  { times, raw }: SceneTrack,
  { running, low, lasting }: { readonly running: number; readonly low: number; readonly lasting: number },
): number | undefined {
  let ran = 0;
  let from: number | undefined;
  for (let i = 0; i < times.length; i++) {
    if (raw[i] > running) ran += 1;
    if (!(raw[i] < low)) from = undefined;
    else from ??= i;
    const ended = i === times.length - 1 && from !== undefined && times[i] - times[from] > lasting / 3;
    if (from !== undefined && ran >= 5 && (times[i] - times[from] >= lasting || ended)) return from;
  }
  return undefined;
}

function momentOf(entry: HealthEntry, stopped: number): EngineStop['moment'] {
  const segments = (entry.open?.segments ?? []).filter(({ fromTime }) => fromTime < stopped);
  if (entry.facts.kind === 'coast-down') return 'coast-down';
  const pulled = segments.some(({ kind, toTime }) => kind === 'full-load' && stopped - toTime < RELEASED);
  if (pulled) return 'throttle released';
  const last = segments.at(-1);
  const rolling = last && (last.kind === 'coast-down' || last.kind === 'overrun') && stopped - last.toTime < BEFORE;
  return rolling ? 'coast-down' : 'idle';
}
