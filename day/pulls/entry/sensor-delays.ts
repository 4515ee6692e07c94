import type { Finding } from '../../../core/quantities/index.ts';
import {
  delayAt,
  type Meaning,
  measuredLambdaDelay,
  type SensorDelay,
  undelayed,
  usualDelay,
} from '../../channels/index.ts';
import type { JoinedRecord, Track } from '../record.ts';
import { trackOf } from '../rolls/find-track.ts';

/** Channels that tell what the mixture is asked to follow, best first. */
const COMMANDS: readonly Meaning[] = ['injector-pulse', 'injector-duty', 'fuel-flow', 'throttle'];

/** Engine speeds at which a delay is told to a person [rad/s]: 3000 and 7000 rpm. */
const TOLD = [Math.PI * 100, (Math.PI * 700) / 3] as const;

/**
 * The record with lambda moved to the times it speaks of: earlier by its transport delay and lag, measured at a fuel cut where the record
 * holds one, else common practice. No value changes. Slow temperature sensors stay as they are, with a finding that says how late they
 * tell: their lag is a matter for whoever judges a rise.
 */
export function withSensorDelays(record: JoinedRecord): JoinedRecord {
  const engineSpeed = trackOf(record, 'engine-speed');
  const findings: Finding[] = [];
  const tracks = record.tracks.map((track) => {
    const prior = usualDelay(track.channel.meaning);
    if (!prior) return track;
    if (track.channel.meaning !== 'lambda') {
      findings.push(slowSensor(track, prior));
      return track;
    }
    const delay = engineSpeed ? measuredDelay(record, { lambda: track, engineSpeed, prior }) : prior;
    findings.push(movedLambda(track, delay));
    return { ...track, times: undelayed(track, delay, engineSpeed).times };
  });
  return { ...record, tracks, findings: [...record.findings, ...findings] };
}

function measuredDelay(
  record: JoinedRecord,
  known: { lambda: Track; engineSpeed: Track; prior: SensorDelay },
): SensorDelay {
  const command = COMMANDS.map((meaning) => trackOf(record, meaning)).find((track) => track !== undefined);
  return command
    ? measuredLambdaDelay({ lambda: known.lambda, engineSpeed: known.engineSpeed, command }, known.prior)
    : known.prior;
}

function movedLambda({ channel, file }: Track, delay: SensorDelay): Finding {
  const [slow, fast] = TOLD.map((speed) => delayAt(delay, speed));
  return {
    kind: 'sensor-delay',
    weight: 'note',
    message: `"${channel.name}" is shown earlier by its transport delay and lag: ${slow.toFixed(2)} s at 3000 rpm, ${fast.toFixed(2)} s at 7000 rpm, ± ${(2 * delay.uncertainty).toFixed(2)} s (${delay.origin})`,
    place: { file, channel: channel.name },
    numbers: { at3000: slow, at7000: fast, standardUncertainty: delay.uncertainty },
    rule: delay.origin,
  };
}

function slowSensor({ channel, file }: Track, { lag, uncertainty, origin }: SensorDelay): Finding {
  return {
    kind: 'sensor-lag',
    weight: 'note',
    message: `"${channel.name}" follows slowly, by about ${lag.toFixed(1)} ± ${(2 * uncertainty).toFixed(1)} s: a rise within a pull is larger than it shows (${origin})`,
    place: { file, channel: channel.name },
    numbers: { lag, standardUncertainty: uncertainty },
    rule: origin,
  };
}
