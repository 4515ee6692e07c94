import { type CoastHealth, coastHealth } from './coasts/coast-health.ts';
import { coastLines } from './coasts/coast-lines.ts';
import { type EntriesInput, type HealthEntry, healthEntries, isUnmeasured } from './entries.ts';
import { type ExhaustHealth, exhaustHealth } from './fluids/exhaust.ts';
import { type OilHealth, oilHealth } from './fluids/oil.ts';
import { coolantHealth, crankcaseHealth, type FluidQuestion, lineOf, type PressureHealth } from './fluids/pressures.ts';
import type { HealthLine } from './lines/health-line.ts';
import { chargeRiseSpec, effectivenessSpec, powerSpec, turboSpec } from './lines/line-table.ts';
import { cellValue, pullStates } from './pull-state.ts';
import { type PullReadiness, pullReadiness } from './readiness/gates.ts';
import { type HealthDecision, type HealthFinding, type HealthPart, type HealthUnknown, heldValue } from './result.ts';
import type { Predict } from './shortfall/predict.ts';
import { type ShortfallHealth, shortfallHealth } from './shortfall/shortfall.ts';
import { type StallHealth, stallHealth } from './stalls/stall.ts';
import { type HealthLimits, healthLimitsWith } from './thresholds.ts';

/** What the health of a day is computed from. */
export interface HealthInput extends EntriesInput {
  readonly limits?: HealthLimits;
  /** Expected power of a pull by a model of the engine; without one, and where it cannot tell, from earlier clean pulls and sensitivities. */
  readonly predict?: Predict;
}

/**
 * Health of the engine and the car over one day. findings: everything found, in the order of the day, the gravest first within an entry.
 * unknown: questions that this day's data leave open, and why. lines: slow trends. stopClass: the gravest finding's.
 */
export interface DayHealth extends HealthPart {
  readonly coasts: CoastHealth;
  readonly stalls: StallHealth;
  readonly oil: OilHealth;
  readonly crankcase: PressureHealth;
  readonly coolant: PressureHealth;
  readonly exhaust: ExhaustHealth;
  readonly readiness: readonly PullReadiness[];
  readonly shortfall: ShortfallHealth;
  readonly lines: readonly HealthLine[];
  readonly stopClass: HealthFinding['stopClass'];
}

/**
 * What a day says of the health of engine and car: coast-downs, stalls, fluids at equal state, readiness of each pull, slow trends, power
 * against expected. It advises and never clears an engine: what it does not see it lists as unknown, and no finding is no promise.
 *
 * @source limits and their sources: `HEALTH_THRESHOLDS`
 */
export function dayHealth(input: HealthInput): DayHealth {
  const limits = input.limits ?? healthLimitsWith();
  const entries = healthEntries(input);
  const pulls = pullStates(entries);
  const question: FluidQuestion = { pulls, entries, limits };
  const coasts = coastHealth(entries, input.facts, limits);
  const oil = oilHealth(entries, limits);
  const [crankcase, coolant, exhaust] = [crankcaseHealth(question), coolantHealth(question), exhaustHealth(question)];
  const stalls = stallHealth({
    ...{ entries, limits },
    dragRisen: entriesOf(coasts.findings, 'engine-drag-rise'),
    oilFallen: entriesOf(oil.findings, 'oil-pressure-fall'),
  });
  const found = [coasts, stalls, oil, crankcase, coolant, exhaust].flatMap((part) => part.findings);
  const shortfall = shortfallHealth({ ...question, found, predict: input.predict });
  const trends = trendLines(question);
  const lines = [...coastLines(coasts, entries, limits), ...linesOf(oil, crankcase, coolant, exhaust), ...trends.lines];
  const parts: readonly HealthPart[] = [coasts, stalls, oil, crankcase, coolant, exhaust, shortfall];
  const told = [...parts.flatMap((part) => part.findings), ...lines.flatMap(trendFinding)];
  const findings = inOrder(told, entries).map((finding) => withReason(finding, input.facts));
  return {
    ...{ coasts, stalls, oil, crankcase, coolant, exhaust, shortfall, lines, findings },
    readiness: pullReadiness(pulls, entries, limits),
    unknown: [...parts.flatMap((part) => part.unknown), ...trends.unknown, ...notTold(input)],
    stopClass: gravest(findings),
  };
}

function gravest(findings: readonly HealthFinding[]): HealthFinding['stopClass'] {
  const counted = findings.filter(({ overruled }) => overruled === undefined);
  return counted.sort((a, b) => b.stopClass - a.stopClass)[0]?.stopClass ?? 0;
}

/** The finding with the reason of whoever overruled its kind at its entry. */
function withReason(finding: HealthFinding, { entries }: HealthInput['facts']): HealthFinding {
  const decided = entries.find(({ id }) => id === finding.entry)?.overruled ?? {};
  const name: HealthDecision = `health.${finding.kind}`;
  return Object.hasOwn(decided, name) ? { ...finding, overruled: decided[name] } : finding;
}

function entriesOf(findings: readonly HealthFinding[], kind: HealthFinding['kind']): ReadonlySet<string> {
  return new Set(findings.filter((one) => one.kind === kind && one.stopClass > 0).map(({ entry }) => entry));
}

function linesOf(...parts: readonly Pick<PressureHealth, 'line'>[]): readonly HealthLine[] {
  return parts.flatMap(({ line }) => (line ? [line.line] : []));
}

/** Lines that have no limits of their own: what leaves its band there is a slow trend. */
function trendLines(question: FluidQuestion): {
  readonly lines: readonly HealthLine[];
  readonly unknown: readonly HealthUnknown[];
} {
  const { pulls, limits } = question;
  const hasOutlet = pulls.some(({ cells }) => cells.some((cell) => Number.isFinite(effectivenessSpec().read(cell))));
  const hasCharge = pulls.some(({ cells }) =>
    cells.some((cell) => Number.isFinite(cellValue(cell, 'charge-temperature'))),
  );
  const specs = [
    powerSpec(limits, hasCharge),
    turboSpec(limits),
    hasOutlet ? effectivenessSpec() : chargeRiseSpec(limits),
  ];
  const found = specs.map((spec) => lineOf(spec, question));
  return { lines: linesOf(...found), unknown: found.flatMap(({ unknown }) => unknown) };
}

/**
 * A line that left its band the worse way. Class 1: find out why; the limits of its own quantity decide more. Class 0 where something was set or
 * changed since the baseline, which may be the whole cause.
 */
function trendFinding(line: HealthLine): readonly HealthFinding[] {
  const { left, points, name, kind, baseline } = line;
  const point = points.find(({ entry }) => entry === left?.entry);
  if (!left?.worse || !point) return [];
  const changed = point.changed.filter(isUnmeasured);
  const beside = changed.length > 0 ? '; something was changed or set otherwise since the baseline' : '';
  return [
    {
      ...{ kind: 'slow-trend', subject: line.subject, stopClass: changed.length > 0 ? 0 : 1, entry: left.entry },
      changed: point.changed,
      rests: [...new Set([left.entry, left.since, ...points.slice(0, baseline).map(({ entry }) => entry)])],
      values: [heldValue(name, point.deviation, { kind, source: `${left.by}; NIST/SEMATECH e-Handbook 6.3.2` })],
      why: `${name} has gone ${left.direction} and left its band by ${left.by}; since ${left.since}${beside}`,
    },
  ];
}

function inOrder(findings: readonly HealthFinding[], entries: readonly HealthEntry[]): readonly HealthFinding[] {
  const order = new Map(entries.map(({ id, order: place }) => [id, place]));
  return [...findings].sort(
    (a, b) => (order.get(a.entry) ?? 0) - (order.get(b.entry) ?? 0) || b.stopClass - a.stopClass,
  );
}

function notTold({ verdicts, facts }: HealthInput): readonly HealthUnknown[] {
  const unclocked = facts.entries.filter(({ clock }) => clock === undefined).map(({ id }) => id);
  return [
    ...(verdicts
      ? []
      : [
          {
            what: 'clean ignition, boost, mixture and contact',
            entries: [],
            why: 'no verdicts of the pulls: spoilt windows are in every comparison',
          },
        ]),
    ...(unclocked.length > 0
      ? [{ what: 'times between entries', entries: unclocked, why: 'no clock time stated: ten minutes apart assumed' }]
      : []),
  ];
}
