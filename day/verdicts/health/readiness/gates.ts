import { type Measured, measured } from '../../../../core/quantities/index.ts';
import type { Meaning } from '../../../channels/index.ts';
import { middle } from '../../scene/series.ts';
import { valuesBetween } from '../../scene/track.ts';
import type { HealthEntry } from '../entries.ts';
import type { PullState } from '../pull-state.ts';
import type { HealthLimits, HealthThresholdName } from '../thresholds.ts';
import { type CoolingStretch, coolingDecay, type Decay, waitUntil } from './decay.ts';

/** One gate of one pull. value: at the start [K]. low, high: what was allowed. wait: until it would have been inside [s]; `why` when it cannot be told. */
export interface Gate {
  readonly channel: Meaning;
  readonly value: Measured;
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly out: 'too cold' | 'too hot' | undefined;
  readonly rule: string;
  readonly wait?: Measured;
  readonly why?: string;
}

/** Thermal state in which a pull was begun. sincePull: time since the pull before it [s], when both clocks are known. */
export interface PullReadiness {
  readonly entry: string;
  readonly key: string;
  readonly gates: readonly Gate[];
  readonly ready: boolean;
  readonly sincePull: number | undefined;
  readonly unknown: readonly Meaning[];
}

interface GateRule {
  readonly channel: Meaning;
  readonly low?: HealthThresholdName;
  readonly high?: HealthThresholdName;
  /** Half width about the reference start. */
  readonly about?: HealthThresholdName;
  /** What it falls to when left alone. */
  readonly settles: 'in the air' | 'by itself';
}

const GATES: readonly GateRule[] = [
  { channel: 'oil-temperature', low: 'gate.oil-low', high: 'gate.oil-high', settles: 'by itself' },
  { channel: 'oil-temperature', about: 'gate.oil-reference', settles: 'by itself' },
  { channel: 'coolant-temperature', low: 'gate.coolant-low', high: 'gate.coolant-high', settles: 'by itself' },
  { channel: 'coolant-temperature', about: 'gate.coolant-reference', settles: 'by itself' },
  { channel: 'gearbox-temperature', low: 'gate.driveline-low', high: 'gate.driveline-high', settles: 'in the air' },
  { channel: 'axle-temperature', low: 'gate.driveline-low', high: 'gate.driveline-high', settles: 'in the air' },
  { channel: 'charge-temperature', about: 'gate.charge-reference', settles: 'in the air' },
  { channel: 'tyre-temperature', high: 'gate.tyre-high', settles: 'in the air' },
];

/** Noise of a temperature reading [K]; the air around a hot car is known no better than this, and where a fluid settles by itself than that [K]. @source our default */
const NOISE = 0.4;
const AIR = 4;
const ITSELF = 12;

/**
 * Gates of every pull against the day's limits and the reference start: the middle of the first pulls of the day. Each wait comes from that
 * channel's own decay over the day.
 *
 * @source limits: thresholds `gate.…`
 */
export function pullReadiness(
  pulls: readonly PullState[],
  entries: readonly HealthEntry[],
  limits: HealthLimits,
): readonly PullReadiness[] {
  const first = pulls.slice(0, limits['line.baseline'].value);
  const reference = (channel: Meaning): number => middle(first.map(({ starts }) => starts.get(channel) ?? Number.NaN));
  const decays = new Map(
    GATES.map(({ channel, settles }) => [
      channel,
      decayOf(channel, { entries, settles, reference: reference(channel) }),
    ]),
  );
  return pulls.map((pull, i) => {
    const gates = GATES.flatMap((rule) => {
      const decay = decays.get(rule.channel);
      return gateOf(pull, rule, { limits, decay, reference: reference(rule.channel) }) ?? [];
    });
    const before = pulls[i - 1]?.entry;
    const known = before?.clockKnown && pull.entry.clockKnown;
    return {
      ...{ entry: pull.entry.id, key: pull.key, gates, ready: gates.every(({ out }) => out === undefined) },
      sincePull: known ? pull.entry.clock - before.clock : undefined,
      unknown: [...new Set(GATES.map(({ channel }) => channel))].filter(
        (channel) => !gates.some((gate) => gate.channel === channel),
      ),
    };
  });
}

interface Known {
  readonly limits: HealthLimits;
  readonly decay: Decay | { readonly why: string } | undefined;
  readonly reference: number;
}

function gateOf({ starts }: PullState, rule: GateRule, { limits, decay, reference }: Known): Gate | undefined {
  const now = starts.get(rule.channel) ?? Number.NaN;
  if (!Number.isFinite(now) || (rule.about && !Number.isFinite(reference))) return undefined;
  const half = rule.about ? limits[rule.about].value : Number.NaN;
  const low = rule.about ? reference - half : rule.low && limits[rule.low].value;
  const high = rule.about ? reference + half : rule.high && limits[rule.high].value;
  const name = rule.about ?? rule.high ?? rule.low;
  const value = measured(now, NOISE);
  const out = low !== undefined && now < low ? 'too cold' : high !== undefined && now > high ? 'too hot' : undefined;
  const gate = {
    channel: rule.channel,
    value,
    low,
    high,
    out,
    rule: name ? `${name}: ${limits[name].source}` : '',
  } as const;
  if (out === undefined) return gate;
  if (out === 'too cold') return { ...gate, why: 'too cold: it has to be driven warm, waiting does not do' };
  if (!decay || 'why' in decay) return { ...gate, why: `cannot tell the wait: ${decay?.why ?? 'no decay seen'}` };
  const wait = waitUntil(decay, value, high ?? Number.NaN);
  return 'why' in wait ? { ...gate, why: `cannot tell the wait: ${wait.why}` } : { ...gate, wait };
}

/** Time constant of one channel from its own cooling over the day. */
export function decayOf(
  channel: Meaning,
  {
    entries,
    settles,
    reference,
  }: { readonly entries: readonly HealthEntry[]; readonly settles: GateRule['settles']; readonly reference: number },
): Decay | { readonly why: string } {
  const air = middle(entries.map(({ result }) => result?.conditions.temperature?.value ?? Number.NaN));
  const floor =
    settles === 'in the air' && Number.isFinite(air)
      ? measured(air, AIR)
      : measured(Math.min(reference, HOTTEST), ITSELF);
  if (!Number.isFinite(floor.value)) return { why: 'nothing tells what it settles to' };
  return coolingDecay({ stretches: coolingStretches(entries, channel), floor, noise: NOISE });
}

/** A fluid with a thermostat settles no higher than this by itself [K]. @source common practice, no source: 90 °C */
const HOTTEST = 363;
/** After full load the sensors themselves still follow for so long [s]; a stretch is at least so long [s]; readings per stretch. @source our default */
const SENSORS = 5;
const LEAST = 20;
const READINGS = 25;

/** Cooling within records after the last full load, and from the end of a record to the start of the next one where the clocks are known. */
function coolingStretches(entries: readonly HealthEntry[], channel: Meaning): readonly CoolingStretch[] {
  const stretches: CoolingStretch[] = [];
  let last: { clock: number; temperature: number } | undefined;
  for (const entry of entries) {
    const track = entry.tracks.find(({ meaning }) => meaning === channel);
    if (!track || track.times.length < 4) continue;
    const [begin, end] = [track.times[0], track.times[track.times.length - 1]];
    const start = middle(valuesBetween(track, begin, begin + 2));
    if (last && entry.clockKnown && start < last.temperature) {
      stretches.push({ times: [0, entry.clock - last.clock], temperatures: [last.temperature, start] });
    }
    const loaded = (entry.open?.segments ?? []).filter(({ kind }) => kind === 'full-load').map(({ toTime }) => toTime);
    const from = loaded.length > 0 ? Math.max(...loaded) + SENSORS : begin;
    const at = Array.from({ length: READINGS }, (_, i) => from + ((end - from) * i) / (READINGS - 1));
    const half = (end - from) / READINGS / 2;
    const temperatures = at.map((time) => middle(valuesBetween(track, time - half, time + half)));
    const kept = at.flatMap((time, i) =>
      Number.isFinite(temperatures[i]) ? [{ time, temperature: temperatures[i] }] : [],
    );
    if (end - from > LEAST && kept.length > 4) {
      stretches.push({
        times: kept.map(({ time }) => time - from),
        temperatures: kept.map(({ temperature }) => temperature),
      });
    }
    const settled = end > from ? middle(valuesBetween(track, Math.max(from, end - 2), end)) : Number.NaN;
    last =
      entry.clockKnown && Number.isFinite(settled)
        ? { clock: entry.clock + (end - begin), temperature: settled }
        : undefined;
  }
  return stretches;
}
