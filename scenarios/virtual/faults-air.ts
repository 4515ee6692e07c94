import { easeBetween, lineAt } from '../interpolate.ts';
import { type Builder, between, type Context, from, fullAct, meanOf, mostOf, shareWhere, sized } from './built.ts';
import { rehearse } from './nature.ts';
import { type Act, fullLoad, type VirtualRun } from './run.ts';

/** Mean over the last fifth of the full-load part. */
function atEnd(run: VirtualRun, value: (at: (name: 'map' | 'target') => number) => number): number {
  const rows = fullLoad(run, 0.5).filter(({ share }) => share > 0.93);
  return rows.reduce((sum, { at }) => sum + value(at) / rows.length, 0);
}

/** Share of the redline at which a boosted engine is at its target. */
function reached(context: Context): number {
  const { target } = context.nature.engine;
  const share = shareWhere(context, (at) => at('map') > 0.97 * target);
  return Number.isFinite(share) ? share : 0.65;
}

function boosted(build: Builder): Builder {
  return (context) => (context.nature.engine.turbo ? build(context) : undefined);
}

const leak: Builder = boosted((context) => {
  const usual = { turbo: meanOf(context.clean, 'turbo'), duty: meanOf(context.clean, 'duty') };
  const act = (value: number): Act =>
    fullAct(
      () => 1,
      (knobs) => {
        knobs.leak += value;
      },
    );
  const speedOf = (run: VirtualRun): number => meanOf(run, 'turbo') / usual.turbo - 1;
  const dutyOf = (run: VirtualRun): number => meanOf(run, 'duty') - usual.duty;
  const { strength } = context;
  const found = sized(context, strength, {
    low: 0,
    high: 0.8,
    act,
    measure: (run) => Math.max(speedOf(run) / LEAK.turbo, dutyOf(run) / LEAK.duty),
  });
  const run = rehearse(context.nature, [act(found.value)]);
  return {
    act: act(found.value),
    size: { turboSpeedShare: speedOf(run), dutyPoints: dutyOf(run), leakShare: found.value },
    reached: found.shown / strength,
    moved: ['turbo-speed', 'wastegate-duty', 'compressor-outlet-temperature', 'charge-temperature', 'exhaust-pressure'],
    stopClass: 1,
  };
});

/** Signs of a leak at strength 1, whichever is met first. @source turbo speed +3 %, duty +8 points: common practice, no source */
const LEAK = { turbo: 0.03, duty: 0.08 } as const;

/** Pressure over or under the target at strength 1 [Pa]. @source MAP − target > 8 kPa: common practice, no source */
const OFF_TARGET = 8e3;
/** @source amplitude > ±3 kPa: common practice, no source */
const SWING = 3e3;

const overshoot: Builder = boosted((context) => {
  const { engine } = context.nature;
  const act = (value: number): Act => {
    let begun = Number.NaN;
    return (now, knobs) => {
      if (now.stage !== 'full') return 0;
      if (Number.isNaN(begun) && now.state.map > 0.985 * engine.target) begun = now.time;
      if (now.time - begun < value) knobs.gateLimit = 0;
      return now.time - begun < value + 0.4 ? 1 : 0;
    };
  };
  const wanted = OFF_TARGET * context.strength;
  const found = sized(context, wanted, {
    low: 0,
    high: 2.5,
    act,
    measure: (run) => mostOf(run, (at) => at('map') - at('target'), 0.2),
  });
  return {
    act: act(found.value),
    size: { overTarget: found.shown, gateStuckSeconds: found.value },
    reached: found.shown / wanted,
    moved: ['manifold-pressure', 'boost-pressure', 'engine-torque'],
    stopClass: 1,
  };
});

const oscillation: Builder = boosted((context) => {
  const hertz = context.chance.between(0.9, 2.6);
  const low = reached(context) + 0.02;
  const act = (value: number): Act =>
    fullAct(from(low, 0.04), (knobs, much, { time }) => {
      knobs.gateExtra += value * much * Math.sin(2 * Math.PI * hertz * time);
    });
  const wanted = SWING * context.strength;
  const found = sized(context, wanted, {
    low: 0,
    high: 1.2,
    act,
    measure: (run) => {
      const rows = fullLoad(run, 0.5).filter(
        ({ at }) => at('engineSpeed') > (low + 0.08) * context.nature.engine.redline,
      );
      const pressures = rows.map(({ at }) => at('map') - at('target'));
      const mean = pressures.reduce((sum, p) => sum + p / pressures.length, 0);
      return Math.sqrt(2 * pressures.reduce((sum, p) => sum + (p - mean) ** 2 / pressures.length, 0));
    },
  });
  return {
    act: act(found.value),
    size: { amplitude: found.shown, hertz },
    reached: found.shown / wanted,
    moved: ['manifold-pressure', 'boost-pressure', 'wastegate-duty', 'engine-torque'],
    stopClass: 1,
  };
});

const creep: Builder = boosted((context) => {
  const low = reached(context);
  // A gate that comes to a stop too soon: nothing shows until more is asked of it.
  const act = (value: number): Act =>
    fullAct(
      () => 1,
      (knobs) => {
        knobs.gateMost = 1 - value;
      },
    );
  const wanted = OFF_TARGET * context.strength;
  const found = sized(context, wanted, {
    low: 0,
    high: 1,
    act,
    measure: (run) => atEnd(run, (at) => at('map') - at('target')),
  });
  const limit = 1 - found.value;
  return {
    act: (now, knobs) => {
      if (now.stage !== 'full') return 0;
      knobs.gateMost = limit;
      return now.share > low && now.state.gate > 0.98 * limit ? 1 : 0;
    },
    size: { overTarget: found.shown, gateLeft: limit },
    reached: found.shown / wanted,
    inRun: (run) => atEnd(run, (at) => at('map') - at('target')) / OFF_TARGET,
    moved: ['manifold-pressure', 'boost-pressure', 'wastegate-duty', 'engine-torque'],
    stopClass: 1,
  };
});

const droop: Builder = boosted((context) => {
  const low = Math.min(0.68, Math.max(0.58, reached(context) + 0.04));
  const act = (value: number): Act =>
    fullAct(from(low, 0.22), (knobs, much) => {
      knobs.turbineEfficiency *= 1 - value * much;
    });
  const wanted = OFF_TARGET * context.strength;
  const found = sized(context, wanted, {
    low: 0,
    high: 0.85,
    act,
    measure: (run) => atEnd(run, (at) => at('target') - at('map')),
  });
  return {
    act: act(found.value),
    size: { underTarget: found.shown, turbineLost: found.value },
    reached: found.shown / wanted,
    inRun: (run) => atEnd(run, (at) => at('target') - at('map')) / OFF_TARGET,
    moved: ['manifold-pressure', 'boost-pressure', 'wastegate-duty', 'engine-torque', 'exhaust-pressure'],
    stopClass: 1,
  };
});

const surge: Builder = boosted((context) => {
  const { strength, chance } = context;
  const variant = context.variant ?? chance.pick(['load', 'load', 'lift-off']);
  const amplitude = Math.min(0.3, 0.05 * strength);
  const hertz = chance.between(6, 16);
  const low = Math.min(0.8, reached(context) - 0.06);
  const inside = between(low, low + 0.12);
  const shape =
    variant === 'load' ? inside : ({ sinceLift }: { sinceLift: number }) => (sinceLift >= 0 && sinceLift < 0.8 ? 1 : 0);
  return {
    act: (now, knobs) => {
      const much = variant === 'load' && now.stage !== 'full' ? 0 : shape(now);
      knobs.surge = amplitude * much;
      knobs.surgeHertz = hertz;
      if (variant === 'load') knobs.soak += 6 * strength * much;
      return much;
    },
    variant,
    size: { amplitudeShare: amplitude, hertz },
    moved: [
      'boost-pressure',
      'turbo-speed',
      ...(variant === 'load' ? ['manifold-pressure', 'charge-temperature'] : []),
    ],
    stopClass: variant === 'load' ? 2 : 1,
  };
});

/** A throat so wide that it is in nobody's way, and the narrowest, over the disc of the wheel [1]; the turbine has so little in hand that the gate stays open by this of what it is otherwise [1]. */
const THROAT = { wide: 0.35, narrow: 0.06, gate: 0.85 } as const;

/** Share of its target by which the pressure of a choked compressor is short at the end, at strength 1 [1]. @source our default */
const DROOP = 0.03;

/** Opening of the gate of the clean engine by the share of the redline, from where boost was reached on. */
function cleanGate(context: Context): (share: number) => number {
  const { clean, nature } = context;
  const { target, redline } = nature.engine;
  const rows = fullLoad(clean, 0).filter(({ at }) => at('map') > 0.97 * target);
  const shares = rows.map(({ at }) => at('engineSpeed') / redline);
  const open = rows.map(({ at }) => 1 - at('duty'));
  const low = reached(context);
  return (share) => (rows.length > 1 ? lineAt(shares, open, share) * easeBetween(low, low + 0.08, share) : 0);
}

const choke: Builder = boosted((context) => {
  const gate = cleanGate(context);
  const throatOf = (value: number): number => THROAT.wide * (THROAT.narrow / THROAT.wide) ** value;
  const act = (value: number): Act =>
    fullAct(
      () => 1,
      (knobs, _, { share }) => {
        knobs.throat = throatOf(value);
        knobs.gateLeast = THROAT.gate * gate(share);
      },
    );
  const wanted = DROOP * context.strength;
  const short = (run: VirtualRun): number => atEnd(run, (at) => 1 - at('map') / at('target'));
  const usual = short(context.clean);
  const found = sized(context, wanted, {
    low: 0,
    high: 1,
    act,
    measure: (run) => short(run) - usual,
  });
  const chosen = act(found.value);
  return {
    act: (now, knobs) => {
      chosen(now, knobs);
      const { engine } = now.state;
      const lacking = 1 - now.state.map / engine.target;
      // It lies where the pressure is short although boost had been there.
      return now.stage === 'full' && now.share > reached(context) && lacking > 0.2 * wanted ? 1 : 0;
    },
    size: { droopShare: found.shown, throatShare: throatOf(found.value) },
    reached: found.shown / wanted,
    inRun: (run) => (short(run) - usual) / DROOP,
    moved: ['manifold-pressure', 'boost-pressure', 'turbo-speed', 'compressor-outlet-temperature', 'wastegate-duty'],
    stopClass: 2,
  };
});

/** Turbocharger speed of the clean engine over the limit of its wheel [1]. */
export const CLEAN_TURBO_SHARE = 0.93;

const overspeed: Builder = boosted((context) => {
  const { strength } = context;
  const limit = mostOf(context.clean, (at) => at('turbo')) / CLEAN_TURBO_SHARE;
  const wanted = 0.97 + 0.05 * (strength - 1);
  const flow = mostOf(context.clean, (at) => at('airFlow'));
  const act = (value: number): Act =>
    fullAct(
      () => 1,
      (knobs) => {
        knobs.inletDrop += (value * context.nature.place.pressure) / flow ** 2;
      },
    );
  const found = sized(context, wanted - CLEAN_TURBO_SHARE, {
    low: 0,
    high: 0.45,
    act,
    measure: (run) => mostOf(run, (at) => at('turbo')) / limit - CLEAN_TURBO_SHARE,
  });
  return {
    act: act(found.value),
    size: { shareOfLimit: found.shown + CLEAN_TURBO_SHARE, limit },
    reached: found.shown / (wanted - CLEAN_TURBO_SHARE),
    moved: ['turbo-speed', 'compressor-inlet-pressure', 'compressor-outlet-temperature', 'wastegate-duty'],
    stopClass: wanted > 1.02 ? 3 : wanted >= 0.97 ? 2 : 0,
  };
});

const restriction: Builder = (context) => {
  const ratio = (run: VirtualRun): number => meanOf(run, 'exhaustPressure', [0.85, 1]) / meanOf(run, 'map', [0.85, 1]);
  const usual = ratio(context.clean);
  const flow = mostOf(context.clean, (at) => at('airFlow'));
  const act = (value: number): Act =>
    fullAct(
      () => 1,
      (knobs) => {
        knobs.exhaustDrop += value / flow ** 2;
      },
    );
  const wanted = 0.15 * context.strength;
  const found = sized(context, wanted, { low: 0, high: 3e5, act, measure: (run) => ratio(run) - usual });
  return {
    act: act(found.value),
    size: { ratioRise: found.shown, dropAtTop: found.value },
    reached: found.shown / wanted,
    moved: ['exhaust-pressure', 'engine-torque', 'wastegate-duty', 'turbo-speed', 'air-flow'],
    stopClass: 1,
  };
};

const soak: Builder = ({ nature, strength }) => {
  const through = nature.engine.turbo?.effectiveness ?? 1;
  const warmer = (3 * strength) / through;
  const act: Act = (now, knobs) => {
    knobs.soak += warmer;
    knobs.effectiveness *= 1 - 0.02 * Math.min(4, strength);
    return now.stage === 'full' ? 1 : 0;
  };
  return {
    act,
    size: { warmerStart: 3 * strength },
    moved: ['charge-temperature', 'engine-torque', 'ignition-timing'],
    stopClass: 1,
  };
};

const cams: Builder = (context) => {
  const { strength, chance, nature } = context;
  const variant = context.variant ?? chance.pick(['late', 'late', 'slow']);
  const where = between(chance.between(0.42, 0.5), chance.between(0.72, 0.85));
  const wanted = 4 * strength;
  if (variant === 'late') {
    return {
      act: fullAct(where, (knobs, much) => {
        knobs.camError += wanted * much;
      }),
      variant,
      size: { errorDegrees: wanted },
      moved: ['cam-angle', 'air-flow', 'engine-torque'],
      stopClass: 1,
    };
  }
  const act = (value: number): Act =>
    fullAct(from(0.3, 0.05), (knobs, much) => {
      knobs.camSlew *= 1 - value * easeBetween(0, 1, much);
    });
  const found = sized(context, wanted, {
    low: 0,
    high: 0.995,
    act,
    measure: (run) => mostOf(run, (at) => Math.abs(at('cam') - at('camTarget')), 0.6),
  });
  return {
    act: act(found.value),
    variant,
    size: { errorDegrees: found.shown, slew: nature.engine.cams.slew * (1 - found.value) },
    reached: found.shown / wanted,
    moved: ['cam-angle', 'air-flow', 'engine-torque'],
    stopClass: 1,
  };
};

/** Faults of charge air, exhaust and cams. */
export const AIR_FAULTS = {
  'boost-leak': leak,
  'boost-overshoot': overshoot,
  'boost-oscillation': oscillation,
  'boost-creep': creep,
  'boost-droop': droop,
  surge,
  'compressor-choke': choke,
  'turbo-overspeed': overspeed,
  'exhaust-restriction': restriction,
  'charge-heat-soak': soak,
  'cam-not-tracking': cams,
} as const satisfies Record<string, Builder>;
