import type { Measured } from '../../../../core/quantities/index.ts';
import { cellValue, manifoldPressure, type PullCell } from '../pull-state.ts';
import type { HealthLimits, HealthThresholdName } from '../thresholds.ts';
import type { LineRule, LineSpec } from './pull-line.ts';

/** Power at equal manifold pressure, charge temperature, timing and mixture: logarithm, so that deviations are shares. */
export function powerSpec(limits: HealthLimits, withTemperature: boolean): LineSpec {
  const alone = withTemperature ? 'power.exponent-alone' : 'power.exponent';
  return {
    ...{ name: 'power at equal state', subject: 'air', kind: 'fraction', worse: 'down', repeat: 'power.repeat' },
    read: ({ power }) => Math.log(power),
    rules: [
      {
        name: 'manifold pressure',
        slope: believed(limits, [alone, 'power.exponent-spread']),
        read: (cell) => Math.log(manifoldPressure(cell)),
      },
      {
        name: 'charge temperature',
        slope: believed(limits, ['power.per-kelvin', 'power.per-kelvin-spread'], -1),
        read: (cell) => cellValue(cell, 'charge-temperature'),
      },
      {
        name: 'ignition timing',
        slope: believed(limits, ['power.per-timing', 'power.per-timing-spread']),
        read: (cell) => cellValue(cell, 'ignition-timing'),
      },
      {
        name: 'lambda',
        slope: believed(limits, ['power.per-lambda', 'power.per-lambda-spread']),
        read: (cell) => cellValue(cell, 'lambda'),
      },
    ],
  };
}

/** Turbocharger speed at equal manifold pressure and engine speed, which is equal flow. */
export function turboSpec(limits: HealthLimits): LineSpec {
  return {
    ...{ name: 'turbocharger speed at equal pressure', subject: 'charge-air', kind: 'fraction', worse: 'up' },
    repeat: 'turbo.repeat',
    read: (cell) => Math.log(cellValue(cell, 'turbo-speed')),
    rules: [
      {
        name: 'manifold pressure',
        slope: believed(limits, ['turbo.exponent', 'turbo.exponent-spread']),
        read: (cell) => Math.log(manifoldPressure(cell)),
      },
    ],
  };
}

/** What the charge cooler takes out, as a share of what it could: (outlet of the compressor − charge)/(outlet of the compressor − ambient). */
export function effectivenessSpec(): LineSpec {
  return {
    ...{ name: 'charge cooler effectiveness', subject: 'heat', kind: 'fraction', worse: 'down' },
    repeat: 'charge.repeat',
    read: (cell) => {
      const hot = cellValue(cell, 'compressor-outlet-temperature');
      const over = hot - cellValue(cell, 'ambient-temperature');
      return over > 10 ? (hot - cellValue(cell, 'charge-temperature')) / over : Number.NaN;
    },
    rules: [],
  };
}

/** Where no temperature is known before the cooler: how far the charge is above ambient. */
export function chargeRiseSpec(limits: HealthLimits): LineSpec {
  return {
    ...{ name: 'charge above ambient', subject: 'heat', kind: 'temperature-difference', worse: 'up' },
    repeat: 'charge.temperature-repeat',
    read: (cell) => cellValue(cell, 'charge-temperature') - cellValue(cell, 'ambient-temperature'),
    rules: [pressureRule(limits, 'charge.temperature-per-pressure', 'charge.temperature-per-pressure-spread')],
  };
}

/** Crankcase pressure at equal engine speed and manifold pressure. */
export function crankcaseSpec(limits: HealthLimits): LineSpec {
  return {
    ...{ name: 'crankcase pressure at equal load', subject: 'loads', kind: 'pressure-difference', worse: 'up' },
    repeat: 'crankcase.repeat',
    read: (cell) => cellValue(cell, 'crankcase-pressure'),
    rules: [pressureRule(limits, 'crankcase.per-pressure', 'crankcase.per-pressure-spread')],
  };
}

/** Coolant pressure at equal engine speed (the pump) and coolant temperature. */
export function coolantSpec(limits: HealthLimits): LineSpec {
  return {
    ...{ name: 'coolant pressure at equal temperature', subject: 'loads', kind: 'pressure-difference', worse: 'up' },
    repeat: 'coolant.repeat',
    read: (cell) => cellValue(cell, 'coolant-pressure'),
    rules: [
      {
        name: 'coolant temperature',
        slope: believed(limits, ['coolant.per-kelvin', 'coolant.per-kelvin-spread']),
        read: (cell) => cellValue(cell, 'coolant-temperature'),
      },
    ],
  };
}

/** Exhaust temperature at equal load, timing and mixture; mean of the places where it is measured. */
export function exhaustSpec(limits: HealthLimits): LineSpec {
  return {
    ...{ name: 'exhaust temperature at equal load', subject: 'heat', kind: 'temperature-difference', worse: 'up' },
    repeat: 'exhaust.repeat',
    read: (cell) => cellValue(cell, 'exhaust-temperature'),
    rules: [
      pressureRule(limits, 'exhaust.per-pressure', 'exhaust.per-pressure-spread'),
      {
        name: 'ignition timing',
        slope: believed(limits, ['exhaust.per-timing', 'exhaust.per-timing-spread'], -1),
        read: (cell) => cellValue(cell, 'ignition-timing'),
      },
      {
        name: 'lambda',
        slope: believed(limits, ['exhaust.per-lambda', 'exhaust.per-lambda-spread']),
        read: (cell) => cellValue(cell, 'lambda'),
      },
    ],
  };
}

/** Oil pressure at equal engine speed and oil temperature: logarithm, so that deviations are shares. */
export function oilSpec(limits: HealthLimits): LineSpec {
  return {
    ...{ name: 'oil pressure at equal speed and temperature', subject: 'loads', kind: 'fraction', worse: 'down' },
    repeat: 'oil.repeat',
    read: (cell) => {
      const pressure = cellValue(cell, 'oil-pressure');
      return pressure > 0 ? Math.log(pressure) : Number.NaN;
    },
    rules: [
      {
        name: 'oil temperature',
        slope: believed(limits, ['oil.per-kelvin', 'oil.per-kelvin-spread'], -1),
        read: (cell) => cellValue(cell, 'oil-temperature'),
      },
    ],
  };
}

function pressureRule(limits: HealthLimits, slope: HealthThresholdName, spread: HealthThresholdName): LineRule {
  return {
    name: 'manifold pressure',
    slope: believed(limits, [slope, spread]),
    read: (cell: PullCell) => manifoldPressure(cell),
  };
}

/** Names of a slope and of its standard uncertainty. */
type Believed = readonly [HealthThresholdName, HealthThresholdName];

function believed(limits: HealthLimits, [slope, spread]: Believed, sign = 1): Measured {
  return { value: sign * limits[slope].value, standardUncertainty: limits[spread].value };
}
