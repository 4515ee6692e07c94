import { answered, type Measured, type Outcome, type Refusal, refused } from '../../../core/quantities/index.ts';
import {
  type EngineModel,
  type EngineResult,
  type ScaledResult,
  type ScaledTo,
  type ScaleRead,
  scaled,
} from '../../../day/plans/index.ts';
import type { DayFacts, Peak, PullResult } from '../../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../../day/reports/index.ts';
import type { ScaledView } from '../../contract/index.ts';

interface Day {
  readonly report: DayReport;
  readonly model: EngineModel;
}

/** One pull that can be carried, with its highest torque and power at the crankshaft. */
interface Source {
  readonly report: EntryReport;
  readonly torque: Peak;
  readonly power: Peak;
}

const NOTHING = { rows: [], factors: [], doesNotScale: [] };

/** A result of the day carried to another engine or other air. Refused where a number cannot be read. */
export function encodeScaled({ report, model }: Day, { from, to }: ScaleRead): Outcome<ScaledView> {
  const all = report.entries.flatMap(sourceOf).sort((a, b) => b.power.value - a.power.value);
  const source = from === undefined ? all[0] : all.find((one) => one.report.facts.id === from);
  const sources = all.map(({ report: { facts }, power }) => ({
    ...{ entry: facts.id, title: facts.title ?? '', power: power.value },
  }));
  if (!source) {
    if (from !== undefined && all.length > 0) return refused(unknownPull(from, sources));
    return answered({ sources, ...NOTHING, why: 'missing result: no pull of the day made a power curve' });
  }
  const engine = engineOf(source, report.facts, model);
  if (!engine.ok) return answered({ sources, from: source.report.facts.id, ...NOTHING, why: engine.refusal.message });
  const carried = carriedRows(source, engine.value.plain, to);
  if (!carried.ok) return carried;
  const { rows, result } = carried.value;
  return answered({
    ...{ sources, from: source.report.facts.id, engine: engine.value.shown, to: { ...to }, rows },
    share: result.share,
    factors: result.factors.map((factor) => ({ ...factor })),
    doesNotScale: [...result.doesNotScale],
  });
}

function unknownPull(from: string, sources: ScaledView['sources']): Refusal {
  const known = sources.map(({ entry }) => entry).join(', ');
  const message = `unknown pull: "${from}", expected one that made a power curve: ${known}`;
  return { kind: 'unknown-pull', message, numbers: { value: from } };
}

function sourceOf(report: EntryReport): readonly Source[] {
  const peakOf = ({ peaks }: PullResult, what: Peak['what']): Peak | undefined =>
    peaks.find((peak) => peak.what === what && peak.basis === 'curve' && peak.engineSpeed !== undefined);
  return (report.result?.pulls ?? []).slice(0, 1).flatMap((pull) => {
    const [torque, power] = [peakOf(pull, 'engine torque'), peakOf(pull, 'engine power')];
    return torque && power ? [{ report, torque, power }] : [];
  });
}

interface Engine {
  readonly plain: Omit<EngineResult, 'torque' | 'speed'>;
  readonly shown: NonNullable<ScaledView['engine']>;
}

function engineOf({ report: { result } }: Source, facts: DayFacts, model: EngineModel): Outcome<Engine> {
  const displacement = model.values.get('displacement');
  const cylinders = model.values.get('cylinders')?.value ?? facts.engine.cylinders;
  const { pressure, temperature } = result?.conditions ?? {};
  if (displacement === undefined || cylinders === undefined || !Number.isFinite(displacement.value))
    return refused({ kind: 'missing-engine', message: 'missing displacement or number of cylinders: state them' });
  const air = (measured: Measured | undefined, name: string) => ({
    value: measured?.value ?? model.values.get(name)?.value ?? Number.NaN,
    stated: measured !== undefined,
  });
  const shown = {
    displacement: { value: displacement.value, stated: displacement.origin !== 'prior' },
    cylinders: { value: cylinders, stated: facts.engine.cylinders !== undefined },
    ambientPressure: air(pressure, 'ambientPressure'),
    ambientTemperature: air(temperature, 'ambientTemperature'),
    pressureHeld: facts.engine.boostControl === 'absolute',
  };
  if (Number.isNaN(shown.ambientPressure.value + shown.ambientTemperature.value))
    return refused({ kind: 'missing-air', message: 'missing pressure or temperature of the air outside' });
  return answered({
    shown,
    plain: {
      ...{ displacement: displacement.value, cylinders, pressureHeld: shown.pressureHeld },
      ambientPressure: shown.ambientPressure.value,
      ambientTemperature: shown.ambientTemperature.value,
    },
  });
}

interface Carried {
  readonly rows: ScaledView['rows'];
  readonly result: ScaledResult;
}

function carriedRows({ torque, power }: Source, engine: Engine['plain'], to: ScaledTo): Outcome<Carried> {
  const at = (peak: Peak, made: number) => scaled({ ...engine, torque: made, speed: peak.engineSpeed ?? 0 }, to);
  const most = at(torque, torque.value);
  if (!most.ok) return most;
  const strongest = at(power, power.value / (power.engineSpeed ?? 1));
  if (!strongest.ok) return strongest;
  const row = (what: 'torque' | 'power', peak: Peak, result: ScaledResult): Carried['rows'][number] => {
    const share = Math.hypot(result.share, peak.standardUncertainty / peak.value);
    const value = what === 'torque' ? result.torque : result.power;
    return {
      what,
      before: { value: peak.value, standardUncertainty: peak.standardUncertainty },
      speed: peak.engineSpeed ?? 0,
      after: { value, standardUncertainty: value * share },
      speedAfter: result.speed,
    };
  };
  const rows = [row('torque', torque, most.value), row('power', power, strongest.value)];
  return answered({ rows, result: most.value });
}
