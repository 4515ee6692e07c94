import { easeBetween } from '../interpolate.ts';
import { type Builder, from, fullAct, mostOf, progress } from './built.ts';
import type { Instant } from './run.ts';

const lean: Builder = ({ nature, strength, chance }) => {
  if (nature.engine.ignition !== 'spark') return undefined;
  const target = nature.engine.lambdaFull;
  const lambda = target + 0.04 * strength;
  return {
    act: fullAct(from(chance.between(0.5, 0.68), 0.08), (knobs, much) => {
      knobs.fuel *= target / (target + (lambda - target) * much);
    }),
    size: { leanerLambda: lambda - target, lambda },
    moved: ['lambda', 'fuel-flow', 'exhaust-temperature', 'engine-torque'],
    stopClass: lambda > 0.9 && nature.engine.target > 150e3 && nature.engine.fuel === 'petrol' ? 2 : 1,
  };
};

const rich: Builder = ({ nature, strength, chance }) => {
  if (nature.engine.ignition !== 'spark') return undefined;
  const target = nature.engine.lambdaFull;
  const lambda = Math.max(0.5, target - (target - 0.7) * strength);
  return {
    act: fullAct(from(chance.between(0.45, 0.65), 0.08), (knobs, much) => {
      knobs.fuel *= target / (target + (lambda - target) * much);
    }),
    size: { richerLambda: target - lambda, lambda },
    moved: ['lambda', 'fuel-flow', 'exhaust-temperature', 'engine-torque'],
    stopClass: 1,
  };
};

const pressure: Builder = (context) => {
  const { nature, strength, chance, clean } = context;
  if (nature.engine.ignition !== 'spark') return undefined;
  const hoses = nature.engine.boosted ? ['hose'] : [];
  const variant = context.variant ?? chance.pick(['pump', 'filter', 'voltage', 'aeration', ...hoses]);
  const lost = Math.min(0.8, 0.05 * strength);
  const flow = mostOf(clean, (at) => at('airFlow'));
  const map = mostOf(clean, (at) => at('map'));
  const far = progress(context);
  const shapes: Readonly<Record<string, (now: Instant) => number>> = {
    pump: (now) => easeBetween(0.3, 0.95, far(now)),
    filter: ({ state }) => Math.min(1.1, (state.airFlow / flow) ** 2),
    voltage: far,
    aeration: (now) => easeBetween(0.4, 0.6, far(now)),
    hose: ({ state }) => Math.max(0, (state.map - nature.place.pressure) / (map - nature.place.pressure)),
  };
  const shape = shapes[variant] ?? far;
  return {
    act: fullAct(shape, (knobs, much) => {
      knobs.railLost += lost * much;
      if (variant === 'aeration') knobs.railRough += 0.5 * lost * much;
      if (variant === 'voltage') knobs.volts -= 0.7 * Math.min(3, strength) * much;
    }),
    variant,
    size: { lostShare: lost },
    moved: [
      'fuel-pressure-difference',
      'fuel-pressure',
      'fuel-flow',
      'lambda',
      ...(variant === 'voltage' ? ['battery-voltage'] : []),
    ],
    stopClass: 2,
  };
};

const saturation: Builder = ({ nature, strength, clean }) => {
  const { engine } = nature;
  if (engine.ignition !== 'spark') return undefined;
  const wanted = 0.9 * (1 + 0.1 * (strength - 1));
  const dead = engine.deadTime;
  // The pulse holds the dead time; only the rest of it grows with smaller injectors.
  const factor = mostOf(clean, (at) => {
    const cycle = (4 * Math.PI) / at('engineSpeed');
    return (at('injectorDuty') - dead / cycle) / Math.max(0.05, wanted - dead / cycle);
  });
  const [low, high] = [0.5, 0.95].map((share) => share * mostOf(clean, (at) => at('airFlow')));
  return {
    act: fullAct(
      ({ state }) => easeBetween(low ?? 0, high ?? 1, state.airFlow),
      (knobs) => {
        knobs.injector *= factor;
      },
    ),
    size: { duty: wanted, injectorFactor: factor },
    moved: ['injector-duty', 'injector-pulse', ...(wanted >= 1 ? ['lambda', 'fuel-flow'] : [])],
    stopClass: wanted > 1 ? 2 : 1,
  };
};

/** Faults of the fuel side. */
export const FUEL_FAULTS = {
  'lean-mixture': lean,
  'rich-mixture': rich,
  'fuel-pressure-drop': pressure,
  'injector-saturation': saturation,
} as const satisfies Record<string, Builder>;
