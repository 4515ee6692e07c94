import {
  AMBIENT_RULES,
  type AmbientRule,
  measuredFactor,
  type RuleEngine,
  saturationPressure,
  vapourPressureOfWetBulb,
} from '../../../core/physics/index.ts';
import {
  absolutePressure,
  type Finding,
  type Measured,
  measured,
  STANDARD_ATMOSPHERE,
  temperature,
} from '../../../core/quantities/index.ts';
import type { AmbientRuleName, DayFacts, EngineFacts } from '../facts.ts';
import type { JoinedRecord } from '../record.ts';
import type { Conditions, FactorLine } from '../result.ts';
import { humidityFindings } from './humidity-findings.ts';
import { altitudeFindings, pressureFindings } from './pressure-findings.ts';
import { type AirReading, channelReading, pressureRounding } from './reading.ts';

/** Standard uncertainties of sensors in a hall: air temperature [K], barometer [Pa], relative humidity [1]. @source common practice, no source */
const SENSOR = { temperature: 1.5, pressure: 100, humidity: 0.05 } as const;

/** Rules that can be chosen for a day. The others of the physics need inputs that no log of a pull gives. */
const CHOICES: Readonly<Record<AmbientRuleName, true>> = {
  none: true,
  'temperature only': true,
  'SAE J1349': true,
  'ISO 1585 spark': true,
  'ISO 1585 compression': true,
  'DIN 70020': true,
  'SAE J607': true,
};

export interface ConditionsQuestion {
  readonly record: JoinedRecord;
  readonly day: DayFacts;
  readonly rule: AmbientRuleName | undefined;
}

/** The air during an entry: logged values first, then stated ones; and what every rule would make of it. */
export function conditionsOf({ record, day, rule }: ConditionsQuestion): Conditions {
  const air =
    channelReading(record, 'ambient-temperature', SENSOR.temperature) ??
    stated(day.ambient.temperature, SENSOR.temperature);
  const barometer =
    channelReading(record, 'barometric-pressure', SENSOR.pressure) ?? statedPressure(day.ambient.pressure);
  const vapour = vapourOf(record, day, { air, barometer });
  const known = { temperature: air?.value, pressure: barometer?.value, vapourPressure: vapour?.value };
  const altitude = altitudeFindings(barometer, day.place.altitude);
  const factors = AMBIENT_RULES.flatMap((one) => {
    if (!isChoice(one.id)) return [];
    const line = factorLine(one, one.id, { known, engine: day.engine });
    return [one.pressureBasis === 'none' ? line : withDoubt(line, altitude)];
  });
  const name = rule ?? 'none';
  const chosen = factors.find((line) => line.rule === name) ?? UNCORRECTED;
  return {
    ...known,
    origin: {
      temperature: air?.origin ?? 'unknown',
      pressure: barometer?.origin ?? 'unknown',
      humidity: vapour?.origin ?? 'unknown',
    },
    factors,
    chosen,
    findings: [
      ...pressureFindings(barometer, factors),
      ...altitude,
      ...humidityFindings(
        air,
        channelReading(record, 'dew-point', SENSOR.temperature),
        channelReading(record, 'relative-humidity', SENSOR.humidity),
      ),
      ...chosenFindings(chosen),
    ],
  };
}

const UNCORRECTED: FactorLine = {
  rule: 'none',
  factor: 1,
  standardUncertainty: 0,
  valid: true,
  why: 'measured power under its conditions',
};

/** A pressure that contradicts the altitude makes no pressure rule valid. */
function withDoubt(line: FactorLine, altitude: readonly Finding[]): FactorLine {
  const [doubt] = altitude;
  if (!doubt || line.factor === undefined) return line;
  const why =
    doubt.kind === 'pressure-at-sea-level'
      ? 'the barometer looks reduced to sea level'
      : 'the barometer contradicts the altitude';
  return { ...line, valid: false, why: `${why}; ${line.why}` };
}

function isChoice(id: string): id is AmbientRuleName {
  return Object.hasOwn(CHOICES, id);
}

function stated(value: Measured | undefined, floor: number): AirReading | undefined {
  if (!value) return undefined;
  const spread = value.standardUncertainty > 0 ? value.standardUncertainty : floor;
  return { value: measured(value.value, spread), origin: 'stated', step: 0 };
}

/** A pressure stated without ± is as uncertain as the step it was rounded to. */
function statedPressure(value: Measured | undefined): AirReading | undefined {
  if (!value || value.standardUncertainty > 0) return stated(value, SENSOR.pressure);
  const rounding = pressureRounding(value.value);
  const step = rounding?.step ?? 0;
  return {
    value: measured(value.value, Math.hypot(SENSOR.pressure, step / Math.sqrt(12))),
    origin: rounding ? `stated, rounded to ${rounding.text}` : 'stated',
    step,
  };
}

interface Air {
  readonly air: AirReading | undefined;
  readonly barometer: AirReading | undefined;
}

/** Vapour pressure from relative humidity, dew point or wet bulb, whichever is logged; else from the stated humidity. */
function vapourOf(record: JoinedRecord, day: DayFacts, { air, barometer }: Air): AirReading | undefined {
  const dew = channelReading(record, 'dew-point', SENSOR.temperature);
  if (dew) {
    return {
      value: through(dew.value, (kelvin) => saturationPressure(temperature(kelvin))),
      origin: `dew point ${dew.origin}`,
      step: 0,
    };
  }
  const humidity =
    channelReading(record, 'relative-humidity', SENSOR.humidity) ??
    stated(day.ambient.relativeHumidity, SENSOR.humidity);
  if (humidity && air) {
    const full = saturationPressure(temperature(air.value.value));
    const byHumidity = through(humidity.value, (share) => share * full);
    const byTemperature = through(
      air.value,
      (kelvin) => humidity.value.value * saturationPressure(temperature(kelvin)),
    );
    const spread = Math.hypot(byHumidity.standardUncertainty, byTemperature.standardUncertainty);
    return { value: measured(byHumidity.value, spread), origin: `relative humidity ${humidity.origin}`, step: 0 };
  }
  const wet = channelReading(record, 'wet-bulb', SENSOR.temperature);
  if (!wet || !air || !barometer) return undefined;
  const pressure = absolutePressure(barometer.value.value);
  const dryBulb = temperature(air.value.value);
  const value = through(wet.value, (kelvin) =>
    vapourPressureOfWetBulb({ dryBulb, wetBulb: temperature(kelvin), pressure }),
  );
  return { value, origin: `wet bulb ${wet.origin}`, step: 0 };
}

/** A value through a curve, with its uncertainty by the curve's slope over one standard deviation to either side (GUM 5.1.3). */
function through(value: Measured, curve: (x: number) => number): Measured {
  const u = value.standardUncertainty;
  return measured(curve(value.value), Math.abs(curve(value.value + u) - curve(value.value - u)) / 2);
}

interface KnownAir {
  readonly temperature: Measured | undefined;
  readonly pressure: Measured | undefined;
  readonly vapourPressure: Measured | undefined;
}

function factorLine(
  rule: AmbientRule,
  name: AmbientRuleName,
  { known, engine }: { known: KnownAir; engine: EngineFacts },
): FactorLine {
  if (name === 'none') return UNCORRECTED;
  const { temperature: air, pressure, vapourPressure } = known;
  if (!air || (!pressure && rule.pressureBasis !== 'none')) {
    return {
      rule: name,
      factor: undefined,
      standardUncertainty: undefined,
      valid: false,
      why: `missing ${air ? 'barometer' : 'air temperature'}`,
    };
  }
  const outcome = measuredFactor(
    rule,
    {
      temperature: air,
      pressure: pressure ?? measured(STANDARD_ATMOSPHERE, 0),
      ...(vapourPressure && { vapourPressure }),
    },
    ruleEngine(engine),
  );
  if (!outcome.ok)
    return {
      rule: name,
      factor: undefined,
      standardUncertainty: undefined,
      valid: false,
      why: outcome.refusal.message,
    };
  const { measured: factor, valid, why } = outcome.value;
  return {
    rule: name,
    factor: factor.value,
    standardUncertainty: factor.standardUncertainty,
    valid,
    why: why.length > 0 ? why.join('; ') : rule.edition,
  };
}

function ruleEngine({ ignition, boostControl }: EngineFacts): RuleEngine {
  return {
    ...(ignition && { ignition }),
    ...(boostControl && { boostControl }),
    ...(boostControl && boostControl !== 'unknown' && { charging: boostControl === 'none' ? 'natural' : 'turbo' }),
  };
}

function chosenFindings(chosen: FactorLine): readonly Finding[] {
  if (chosen.rule === 'none' || chosen.valid) return [];
  return [
    {
      kind: 'ambient-rule-out-of-validity',
      weight: 'doubt',
      message: `${chosen.rule} is in force but not valid here: ${chosen.why}`,
      numbers: { factor: chosen.factor ?? Number.NaN },
    },
  ];
}
