import type { DayReport, EntryReport } from '../../day/reports/index.ts';
import type { DayHealth } from '../../day/verdicts/index.ts';
import type { GateView } from '../contract/index.ts';
import type { DaySummary } from '../desk/index.ts';
import { dayStop, graver, healthStop } from './encode/day-stop.ts';
import { plainFinding } from './encode/plain.ts';

/** What to look at before the next pull, and what the last pulls reached against the limits that are known. */
export function gateOf(summary: DaySummary, report: DayReport, health: DayHealth): GateView {
  const { facts, entries, cautions } = report;
  return {
    day: summary.id,
    dayTitle: facts.title,
    ...(facts.invented !== undefined && { invented: facts.invented }),
    items: ITEMS.map((item) => ({ ...item })),
    reach: reachOf(report),
    open: openFindings(entries),
    stop: graver(dayStop(entries), healthStop(health, entries)),
    abort: [...ABORT],
    disclaimer: DISCLAIMER,
    cautions: [...cautions],
  };
}

function reachOf({ facts, entries }: DayReport): GateView['reach'] {
  const curves = entries.flatMap(({ result }) => result?.pulls ?? []).map(({ curve }) => curve);
  const speed = highest(curves.flatMap(({ rollSpeed }) => Array.from(rollSpeed)));
  const force = highest(
    curves.flatMap(({ rollPower, rollSpeed }) =>
      Array.from(rollPower, (power, at) => power / (rollSpeed[at] ?? Number.NaN)),
    ),
  );
  const { maxSpeed, maxForce } = facts.roller;
  const from = 'highest of the pulls so far today';
  return [
    reach({ what: 'speed at the roll', kind: 'speed', from }, speed, maxSpeed?.value),
    reach({ what: 'force at the roll', kind: 'force', from }, force, maxForce?.value),
  ];
}

function reach(
  line: { what: string; kind: 'speed' | 'force'; from: string },
  value: number | undefined,
  limit: number | undefined,
): GateView['reach'][number] {
  return {
    ...line,
    ...(value === undefined ? { from: 'no pull yet today: not known' } : { value }),
    ...(limit !== undefined && { limit }),
    limitFrom: limit === undefined ? "the roller's limit is not among the facts" : "the roller's limit, from the facts",
    over: value !== undefined && limit !== undefined && value > limit,
  };
}

function highest(values: readonly number[]): number | undefined {
  const found = values.reduce(
    (most, value) => Math.max(Number.isNaN(value) ? most : value, most),
    Number.NEGATIVE_INFINITY,
  );
  return Number.isFinite(found) ? found : undefined;
}

/** Faults of the newest judged entry: they want an answer before the next pull. */
function openFindings(entries: readonly EntryReport[]): GateView['open'] {
  const newest = entries.findLast(({ result, facts }) => result !== undefined && facts.excluded === undefined);
  if (!newest?.result) return [];
  const all = [...newest.result.findings, ...newest.result.pulls.flatMap(({ findings }) => findings)];
  const findings = all.filter(({ weight }) => weight === 'fault').map(plainFinding);
  return findings.length > 0 ? [{ entry: newest.facts.id, findings }] : [];
}

const PRACTICE = 'common practice, no source';

const ITEMS: GateView['items'] = [
  {
    id: 'straps',
    text: 'Straps tensioned again after the first pull and after every refit',
    why: 'New straps bed in and lose tension; a slack strap lets the tyres climb.',
    source: PRACTICE,
  },
  {
    id: 'anchors',
    text: 'Anchors, hooks and ratchets seen by eye, one by one',
    why: 'No log sees a loosening strap.',
    source: PRACTICE,
  },
  {
    id: 'tyres',
    text: 'Driven tyres looked over: no damage, stones or studs, balanced, pressure, age and speed rating fit',
    why: 'A tyre that throws its tread at speed hurts whoever stands behind it.',
    source: PRACTICE,
  },
  {
    id: 'chocks',
    text: 'Wheels that do not turn are chocked',
    why: 'The vehicle must not wander on the rolls.',
    source: PRACTICE,
  },
  {
    id: 'line',
    text: 'Nobody in line with wheels, straps or couplings, in front or behind',
    why: 'What breaks loose flies along these lines.',
    source: PRACTICE,
  },
  {
    id: 'air',
    text: 'Exhaust extraction running, carbon monoxide alarm on',
    why: 'Carbon monoxide has no smell.',
    source: PRACTICE,
  },
  {
    id: 'fire',
    text: 'Extinguisher at hand, its reach known to both',
    why: 'Fuel meets hot metal first.',
    source: PRACTICE,
  },
  {
    id: 'exit',
    text: 'Way out clear, second person present',
    why: 'Nobody works on a running roller alone.',
    source: PRACTICE,
  },
  {
    id: 'ears',
    text: 'Ear protection on, hand signs agreed',
    why: 'Nobody hears a shout at full load.',
    source: PRACTICE,
  },
  {
    id: 'caps',
    text: 'Caps closed and left closed until cold; hoses and lines dry',
    why: 'Hot coolant under pressure scalds.',
    source: PRACTICE,
  },
];

const ABORT: readonly string[] = [
  'A smell, a noise, a jolt or smoke ends the pull. No reading is needed for that.',
  'To end a pull: lift, clutch, let the rolls run down or use the roll brake.',
  'Never step on rolls that turn.',
  'Read the screen before and after a pull, not during it.',
];

const DISCLAIMER =
  "Advice, not protection. The operator's judgement, the rules of the site, local codes and licensed practice prevail.";
