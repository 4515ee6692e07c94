import type { Finding } from '../../../core/quantities/index.ts';
import type { EntryResult, PullResult, Segment } from '../../../day/pulls/index.ts';
import type { EntryReport } from '../../../day/reports/index.ts';
import type { Standing } from '../../contract/index.ts';
import { concernsPower, type PowerChannels } from './power-channels.ts';
import { mayMeet } from './record-window.ts';

/**
 * How an entry stands, for the fill of its mark. A whole entry stands as its best pull does: one clean pull among three is worth going to.
 * Columns that wait for a person count only while there is no result without them.
 */
export function standingOf({ facts, result, questions, verdicts }: EntryReport, channels: PowerChannels): Standing {
  if (facts.kind === 'change' || facts.kind === 'note') return 'none';
  const waits = questions.some(({ proposals }) => proposals.length > 0);
  const answers =
    result !== undefined && result.refusal === undefined && result.pulls.length + result.losses.length > 0;
  if (!answers) return waits ? 'waiting' : facts.files.length === 0 ? 'none' : 'refused';
  if (facts.kind === 'coast-down')
    return result.losses.length > 0 ? weighed(coastReasons(result, channels)) : 'refused';
  if (result.pulls.length === 0) return 'refused';
  return result.pulls
    .map((pull, at) => (isVoid(verdicts, at) ? 'void' : pullStanding(pull, result, channels)))
    .reduce((one, other) => (RANK[other] > RANK[one] ? other : one));
}

/** The verdict may call a pull void of which a few points are left. */
function isVoid(verdicts: EntryReport['verdicts'], at: number): boolean {
  return verdicts.some(({ index, validity }) => index === at && validity === 'void');
}

/**
 * How far the power of one pull can be used: refused, void, usable in windows, doubtful, valid. What made points of the curve void counts
 * there and not again. Of what was found about the logs only that counts which concerns the power: a channel that it is made of,
 * while the pull ran; the state of the air only where a rule corrects with it. A fault of any other channel is told, and leaves the power as it is.
 */
export function pullStanding(pull: PullResult, result: Judged, channels: PowerChannels): Standing {
  if (pull.refusal) return 'refused';
  const { valid } = pull.curve;
  const usable = valid.reduce((sum, flag) => sum + flag, 0);
  if (usable === 0) return 'void';
  const word = weighed(pullReasons(pull, result, channels));
  return usable < valid.length && RANK.windows < RANK[word] ? 'windows' : word;
}

/** What speaks against the result of an entry: the doubts and faults that its word was made from, each message once. */
export function reasonsOf({ result }: EntryReport, channels: PowerChannels): readonly string[] {
  if (!result || result.refusal) return [];
  const about = result.pulls.flatMap((pull) => pullReasons(pull, result, channels));
  const found = result.pulls.length > 0 ? about : coastReasons(result, channels);
  return [...new Set(found.filter(({ weight }) => weight !== 'note').map(({ message }) => message))];
}

type Judged = Pick<EntryResult, 'id' | 'findings' | 'conditions' | 'alignment'>;

function pullReasons(pull: PullResult, result: Judged, channels: PowerChannels): readonly Finding[] {
  const { segment, curve, findings } = pull;
  const logs = result.findings.filter((finding) => concerns(finding, { result, channels, during: segment }));
  return [...findings, ...logs, ...(curve.rule === 'none' ? [] : result.conditions.findings)];
}

function coastReasons(result: EntryResult, channels: PowerChannels): readonly Finding[] {
  const during = result.losses[0]?.segment;
  const logs = result.findings.filter((finding) => concerns(finding, { result, channels, during }));
  return [...logs, ...result.losses.flatMap(({ findings }) => findings)];
}

interface About {
  readonly result: Pick<EntryResult, 'id' | 'alignment'>;
  readonly channels: PowerChannels;
  readonly during: Segment | undefined;
}

/**
 * What a log lost shows as void points or as a line that is missing; so does a log that was left out. What has a window counts only
 * when the window meets the stretch in question.
 */
function concerns(finding: Finding, { result, channels, during }: About): boolean {
  const { kind, place } = finding;
  if (SHOWN_BY_WHAT_IS_MISSING.has(kind) || !concernsPower(finding, result, channels)) return false;
  return !during || mayMeet(place, { from: during.fromTime, to: during.toTime }, result.alignment);
}

const SHOWN_BY_WHAT_IS_MISSING: ReadonlySet<string> = new Set([
  'gap',
  'time-backward',
  'logs-not-joined',
  'log-not-used',
  'log-not-read',
  'unnamed-columns',
  'extra-cells',
]);

/** A fault that has a window spoils that window; a fault or a doubt about the whole makes the whole doubtful. */
function weighed(findings: readonly Finding[]): Standing {
  if (findings.some(({ weight, place }) => weight === 'fault' && place?.from !== undefined)) return 'windows';
  return findings.some(({ weight }) => weight !== 'note') ? 'doubtful' : 'valid';
}

const RANK: Readonly<Record<Standing, number>> = {
  none: 0,
  waiting: 1,
  refused: 2,
  void: 3,
  windows: 4,
  doubtful: 5,
  valid: 6,
};
