import { MEANINGS } from '../../../day/channels/index.ts';
import type {
  DayHealth,
  Gate,
  HealthFinding,
  HealthLine,
  HealthValue,
  PullReadiness,
} from '../../../day/verdicts/index.ts';
import type { GateLine, HealthFindingView, HealthLineView, HealthView, ReadinessView } from '../../contract/index.ts';
import { foundTitle } from './day-stop.ts';
import { titlesOf } from './feature.ts';
import { plainMeasured, plainNumber, plainSamples } from './plain.ts';
import { encodeStop } from './verdict.ts';

/** Health of a day for the page: the gravest first, then in the order of the day. */
export function encodeHealth(day: string, health: DayHealth): HealthView {
  const { stopClass, lines, findings, unknown, readiness } = health;
  return {
    day,
    stop: encodeStop(stopClass),
    lines: lines.map(encodeLine),
    findings: findings.map(encodeFinding).sort((one, other) => other.stop.class - one.stop.class),
    unknown: unknown.map(({ what, entries, why }) => ({ what, entries: [...entries], why })),
    readiness: readiness.map(encodeReadiness),
  };
}

function encodeLine(line: HealthLine): HealthLineView {
  const { name, subject, kind, worse, baseline, verdict, why, left, remarks, points, ewma } = line;
  return {
    ...{ name, subject, kind, worse, baseline, verdict },
    ...(why !== undefined && { why }),
    ...(left && { left: { ...left } }),
    remarks: [...remarks],
    points: points.map(({ entry, deviation }) => ({
      entry,
      value: plainNumber(deviation.value),
      standardUncertainty: plainNumber(deviation.standardUncertainty),
    })),
    average: plainSamples(ewma?.statistic ?? []),
    low: plainSamples(ewma?.low ?? []),
    high: plainSamples(ewma?.high ?? []),
  };
}

function encodeFinding({
  kind,
  subject,
  stopClass,
  entry,
  rests,
  why,
  changed,
  values,
  overruled,
}: HealthFinding): HealthFindingView {
  return {
    ...{ name: `health.${kind}`, title: foundTitle({ kind }), subject, stop: encodeStop(stopClass), entry, why },
    rests: [...rests],
    changed: [...changed],
    values: values.map(encodeValue),
    ...(overruled !== undefined && { overruled }),
  };
}

function encodeValue({ name, value, kind, limit, source }: HealthValue): HealthFindingView['values'][number] {
  const measured = plainMeasured(value);
  return {
    ...{ name: valueInWords(name), kind, source },
    ...(measured && { value: measured }),
    ...(limit !== undefined && Number.isFinite(limit) && { limit }),
  };
}

/** What a number is called on a page: `power over expected, less 1` → `power against expected`. */
export function valueInWords(name: string): string {
  return name.replace(/^(.*?) over (.*), less 1$/, '$1 against $2');
}

function encodeReadiness({ entry, key, ready, gates, sincePull, unknown }: PullReadiness): ReadinessView {
  return {
    ...{ entry, key, ready, gates: gates.map(encodeGate), unknown: titlesOf(unknown) },
    ...(sincePull !== undefined && { sincePull }),
  };
}

function encodeGate({ channel, value, low, high, out, rule, wait, why }: Gate): GateLine {
  const [measured, waiting] = [plainMeasured(value), plainMeasured(wait)];
  return {
    ...{ channel: MEANINGS[channel].title, rule },
    ...(measured && { value: measured }),
    ...(low !== undefined && { low }),
    ...(high !== undefined && { high }),
    ...(out !== undefined && { out }),
    ...(waiting && { wait: waiting }),
    ...(why !== undefined && { why }),
  };
}
