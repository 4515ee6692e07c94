import type { Finding } from '../../../core/quantities/index.ts';
import { type Channel, REASONS, type Recording } from '../channel.ts';
import type { HealthCheck, MaskChange } from './check.ts';
import { coarse } from './coarse.ts';
import { dead } from './dead.ts';
import { dropout } from './dropout.ts';
import { saturated } from './saturated.ts';
import { spike } from './spike.ts';
import { staircase } from './staircase.ts';
import { stuck } from './stuck.ts';
import { swapped } from './swapped.ts';
import { wrongScale } from './wrong-scale.ts';

/** In this order; the first reason given to a sample stays. */
const CHECKS: readonly HealthCheck[] = [dead, saturated, stuck, dropout, spike, staircase, coarse, wrongScale, swapped];
/** Of one kind on one channel, so many findings are written one by one; the rest is counted. @source our default */
const LISTED = 10;

/**
 * The recording with every disease found on its channels: new masks and findings, the same values. Clock diseases (gaps, backward and
 * repeated time) were found when the recording was made.
 *
 * @param context barometricPressure [Pa] of the day, for pressures at rest
 */
export function checkHealth(recording: Recording, context: { readonly barometricPressure?: number } = {}): Recording {
  const findings: Finding[] = [];
  const channels = recording.channels.map((channel) => {
    const input = { channel, clock: recording.clock, context: { ...context, channels: recording.channels } };
    const results = CHECKS.map((check) => check(input));
    findings.push(...listed(results.flatMap((result) => result.findings)));
    return masked(
      channel,
      results.flatMap(({ masks }) => masks),
    );
  });
  const placed = findings.map((finding) => ({ ...finding, place: { file: recording.file, ...finding.place } }));
  return { ...recording, channels, findings: [...recording.findings, ...placed] };
}

function masked(channel: Channel, changes: readonly MaskChange[]): Channel {
  if (changes.length === 0) return channel;
  const mask = Uint8Array.from(channel.mask);
  for (const { from, to, reason } of changes) {
    for (let i = from; i < to; i++) if (mask[i] === REASONS.measured) mask[i] = REASONS[reason];
  }
  return { ...channel, mask };
}

function listed(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Map<string, number>();
  const kept: Finding[] = [];
  for (const finding of findings) {
    const count = (seen.get(finding.kind) ?? 0) + 1;
    seen.set(finding.kind, count);
    if (count <= LISTED) kept.push(finding);
  }
  for (const [kind, count] of seen) {
    const last = kept.findLast((finding) => finding.kind === kind);
    if (last && count > LISTED)
      kept.push({
        ...last,
        message: `${count - LISTED} more of kind ${kind} on this channel`,
        numbers: { count: count - LISTED },
      });
  }
  return kept;
}
