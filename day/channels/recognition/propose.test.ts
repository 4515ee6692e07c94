import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromSi, unitOf } from '../../../core/quantities/index.ts';
import type { Proposal } from '../mapping.ts';
import { BAR, MARGIN } from './bar.ts';
import { type ExampleColumn, exampleTable } from './example-table.ts';
import { proposeMapping } from './propose.ts';

const ROWS = 600;
const RPM = Math.PI / 30;

/** Repeatable noise between -1 and 1. */
function noiseAt(i: number): number {
  const value = Math.sin(i * 12.9898 + 1) * 43758.5453;
  return 2 * (value - Math.floor(value)) - 1;
}

/** An invented full-load pull in one gear, SI: idle first, then a ramp. Noise is a fixed pattern. */
function pull(options: { readonly idle?: boolean; readonly boost?: number; readonly top?: number } = {}) {
  const { idle = true, boost = 90e3, top = 6500 } = options;
  const at = (make: (share: number, noise: number, resting: boolean) => number) =>
    Float64Array.from({ length: ROWS }, (_, i) => {
      const resting = idle && i < 150;
      const share = resting ? 0 : (i - (idle ? 150 : 0)) / (ROWS - (idle ? 150 : 0));
      return make(share, noiseAt(i), resting);
    });
  const engineSpeed = at(
    (share, noise, rest) => (rest ? 900 + 5 * noise : 2200 + (top - 2200) * share + 4 * noise) * RPM,
  );
  const speed = at((share, noise, rest) => (rest ? 0 : (2200 + (top - 2200) * share) * RPM * 0.075 + 0.01 * noise));
  const force = at((share, noise, rest) => (rest ? 5 * noise : 3800 + 900 * Math.sin(3 * share) + 20 * noise));
  return {
    time: Float64Array.from({ length: ROWS }, (_, i) => i * 0.02),
    engineSpeed,
    speed,
    force,
    power: speed.map((v, i) => v * force[i]),
    torque: speed.map((v, i) => (v * force[i]) / engineSpeed[i]),
    manifold: at((share, noise, rest) => (rest ? 35e3 : 101e3 + boost * Math.min(1, 3 * share)) + 400 * noise),
    coolant: at((share, noise) => 273.15 + 88 + 3 * share + 0.1 * noise),
    charge: at((share, noise) => 273.15 + 32 + 20 * share + 0.1 * noise),
  };
}

function written(name: string, si: Float64Array, unit: string): ExampleColumn {
  return { name, samples: si.map((value) => fromSi(value, unitOf(unit))) };
}

function only(columns: readonly ExampleColumn[], name: string, context = {}): Proposal {
  const found = proposeMapping(exampleTable(columns), context).find(({ column }) => column === name);
  if (!found) throw new Error(`no proposal for ${name}`);
  return found;
}

describe('a column without a unit', () => {
  const { time, engineSpeed, speed, force, power, torque, manifold, coolant } = pull();
  const clock = written('time', time, 's');

  it('asks for km/h, mph or m/s when nothing else in the file tells', () => {
    const proposal = only([clock, written('roll speed', speed, 'mph')], 'roll speed');
    expect(proposal.question).toContain('In which unit is "roll speed"');
    expect(proposal.alternatives.map(({ unit }) => unit)).toContain('mph');
  });

  it('is settled by power = force × speed when two of the three are written', () => {
    const columns = [
      clock,
      written('roll speed', speed, 'mph'),
      written('tractive force [N]', force, 'N'),
      written('power [kW]', power, 'kW'),
    ];
    const proposal = only(columns, 'roll speed');
    expect([proposal.unit, proposal.question]).toEqual(['mph', undefined]);
    expect(proposal.reason).toContain('power = force × speed');
  });

  it('is settled for torque by power = torque × engine speed', () => {
    const columns = [
      written('rpm', engineSpeed, 'rpm'),
      written('power [kW]', power, 'kW'),
      written('torque', torque, 'lbf·ft'),
    ];
    expect(only(columns, 'torque')).toMatchObject({ unit: 'lbf·ft', meaning: 'stated-torque', origin: 'derived' });
    expect(only(columns, 'torque').question).toBeUndefined();
  });

  it('is absolute when the idling engine holds a vacuum', () => {
    const proposal = only([written('rpm', engineSpeed, 'rpm'), written('MAP', manifold, 'kPa')], 'MAP');
    expect([proposal.meaning, proposal.unit, proposal.question]).toEqual(['manifold-pressure', 'kPa', undefined]);
  });

  it('is gauge when it goes below zero', () => {
    const gauge = manifold.map((value) => value - 101325);
    const proposal = only([written('rpm', engineSpeed, 'rpm'), written('Boost [psi]', gauge, 'psi')], 'Boost [psi]');
    expect([proposal.meaning, proposal.question]).toEqual(['manifold-gauge-pressure', undefined]);
  });

  describe('of a pressure beside manifold pressure', () => {
    const columns = (name: string, values: Float64Array) => [
      written('rpm', engineSpeed, 'rpm'),
      written('MAP [kPa]', manifold, 'kPa'),
      written(name, values, 'kPa'),
    ];
    const before = manifold.map((value) => Math.max(value, 99e3) * 1.03);
    const exhaust = manifold.map((value) => 101e3 + Math.max(0, value - 40e3) * 0.9);

    it('is absolute where an open throttle leaves it near manifold pressure', () => {
      const proposal = only(columns('Boost pre throttle [kPa]', before), 'Boost pre throttle [kPa]');
      expect([proposal.meaning, proposal.unit, proposal.zero]).toEqual(['boost-pressure', 'kPa', undefined]);
      expect(proposal.question).toBeUndefined();
      expect(proposal.reason).toContain('fits manifold pressure');
    });

    it('is above ambient where manifold pressure says so', () => {
      const name = 'Boost pre throttle [kPa]';
      const proposal = only(
        columns(
          name,
          before.map((value) => value - 101325),
        ),
        name,
      );
      expect([proposal.meaning, proposal.zero, proposal.question]).toEqual(['boost-pressure', 'ambient', undefined]);
    });

    it('is absolute in the exhaust manifold when it is near ambient with little load', () => {
      const name = 'exhaust manifold pressure [kPa]';
      const proposal = only(columns(name, exhaust), name);
      expect([proposal.meaning, proposal.zero, proposal.question]).toEqual(['exhaust-pressure', undefined, undefined]);
      const gauge = only(
        columns(
          name,
          exhaust.map((value) => value - 101325),
        ),
        name,
      );
      expect([gauge.zero, gauge.question]).toEqual(['ambient', undefined]);
    });

    it('is still asked without manifold pressure', () => {
      const name = 'exhaust manifold pressure [kPa]';
      expect(only([written('rpm', engineSpeed, 'rpm'), written(name, exhaust, 'kPa')], name).question).toContain(
        'absolute or',
      );
    });
  });

  it('takes the temperature unit that the rest of the file writes', () => {
    const columns = [written('oil temp [°F]', coolant, '°F'), written('coolant temp', coolant, '°F')];
    expect(only(columns, 'coolant temp').unit).toBe('°F');
  });

  it('asks which fuel an air-fuel ratio is scaled for, and does not when lambda is written', () => {
    const ratio = Float64Array.from({ length: 300 }, (_, i) => 12 + 0.3 * Math.sin(i));
    expect(only([{ name: 'AFR', samples: ratio }], 'AFR').question).toContain('for which fuel');
    const lambda = only([{ name: 'Lambda', samples: ratio.map((value) => value / 14.7) }], 'Lambda');
    expect([lambda.unit, lambda.divisor, lambda.question]).toEqual(['1', undefined, undefined]);
  });

  it('asks what a bare temperature or force is', () => {
    expect(only([written('tC', coolant, '°C')], 'tC').question).toMatch(/^What is "tC"/);
    expect(
      only([clock, written('speed_kmh', speed, 'km/h'), written('force_N', force, 'N')], 'force_N').question,
    ).toMatch(/brake force|whole force/);
  });
});

describe('a written unit that the numbers contradict', () => {
  it('is asked about and keeps little confidence', () => {
    const { manifold } = pull();
    const proposal = only(
      [{ name: 'MAP [kPa]', samples: manifold.map((value) => fromSi(value, unitOf('psi'))) }],
      'MAP [kPa]',
    );
    expect(proposal.confidence).toBeLessThan(0.4);
    expect(proposal.question).toContain('do not fit');
  });

  it('is believed when the numbers are just possible', () => {
    const proposal = only(
      [{ name: 'MAP [kPa]', samples: Float64Array.from({ length: 100 }, (_, i) => 30 + 0.3 * i) }],
      'MAP [kPa]',
    );
    expect(proposal.question).toBeUndefined();
  });
});

describe('time', () => {
  const counting = Float64Array.from({ length: 400 }, (_, i) => i);
  it('asks how many rows per second when it counts rows', () => {
    expect(only([{ name: 'time', samples: counting }], 'time').question).toContain('how many rows per second');
    expect(only([{ name: 'sample', samples: counting }], 'sample').question).toContain('how many rows per second');
  });
  it('does not ask when the unit is written', () => {
    expect(only([{ name: 'time [s]', samples: counting }], 'time [s]').question).toBeUndefined();
  });
  it('is ms by its step when whole steps of ten would be hours of log', () => {
    const proposal = only([{ name: 'time', samples: Float64Array.from({ length: 6000 }, (_, i) => i * 10) }], 'time');
    expect([proposal.unit, proposal.question]).toEqual(['ms', undefined]);
  });
  it('mentions that it falls back', () => {
    const samples = Float64Array.from({ length: 900 }, (_, i) => (i < 450 ? 3000 + i * 0.02 : (i - 450) * 0.02));
    expect(only([{ name: 'time [s]', samples }], 'time [s]').reason).toContain('falls back 1 times');
  });
});

describe('columns that were worked on are never measured', () => {
  const { time, engineSpeed, speed, force, power } = pull();
  const base = [
    written('time [s]', time, 's'),
    written('roll speed [km/h]', speed, 'km/h'),
    written('tractive force [N]', force, 'N'),
  ];

  it('finds the correction factor in a stated power', () => {
    const proposal = only(
      [
        ...base,
        written(
          'power [kW]',
          power.map((p) => p * 1.197),
          'kW',
        ),
      ],
      'power [kW]',
    );
    expect(proposal.origin).toBe('corrected');
    expect(proposal.reason).toContain('1.197 times');
  });

  it('finds smoothing and about its width', () => {
    const smooth = power.map((_, i) => {
      const near = power.slice(Math.max(0, i - 10), i + 11);
      return near.reduce((sum, value) => sum + value, 0) / near.length;
    });
    const proposal = only([...base, written('power [kW]', smooth, 'kW')], 'power [kW]');
    expect(proposal.origin).toBe('smoothed');
    const width = Number(/about ([\d.]+) s/.exec(proposal.reason)?.[1]);
    expect(width).toBeGreaterThan(0.3);
    expect(width).toBeLessThan(0.6);
  });

  it('calls a power that equals force × speed derived', () => {
    expect(only([...base, written('power [kW]', power, 'kW')], 'power [kW]').origin).toBe('derived');
  });

  it('sees engine speed that is roll speed times a constant, and leaves a measured one alone', () => {
    const computed = speed.map((v) => v / 0.075);
    expect(only([...base, written('Engine speed [rpm]', computed, 'rpm')], 'Engine speed [rpm]')).toMatchObject({
      origin: 'derived',
    });
    const creeping = engineSpeed.map((w, i) => w * (1 + 1e-6 * force[i]));
    expect(only([...base, written('Engine speed [rpm]', creeping, 'rpm')], 'Engine speed [rpm]').origin).toBe(
      'measured',
    );
  });

  it('notices the same numbers under two names', () => {
    const proposal = only([...base, written('wheel speed [km/h]', speed, 'km/h')], 'wheel speed [km/h]');
    expect([proposal.origin, proposal.reason]).toEqual([
      'derived',
      expect.stringContaining('holds the same numbers as "roll speed [km/h]"'),
    ]);
  });
});

describe('numbers that lost their units', () => {
  it('are refused as unknown with the reason', () => {
    const standard = (phase: number) => Float64Array.from({ length: 500 }, (_, i) => 1.4 * Math.sin(i / 40 + phase));
    const names = ['speed', 'load', 'lambda', 'ignition_angle', 'NOx'];
    const proposals = proposeMapping(exampleTable(names.map((name, i) => ({ name, samples: standard(i) }))));
    expect(proposals.every(({ meaning, reason }) => meaning === 'unknown' && reason.includes('standardised'))).toBe(
      true,
    );
  });
});

/** Units in which each column may be written when nobody says so. */
const WRITTEN = {
  'engine speed': ['rpm', 'rad/s', 'krpm'],
  'roll speed': ['km/h', 'mph', 'm/s'],
  'tractive force': ['N', 'lbf', 'kN', 'kgf'],
  power: ['kW', 'hp', 'PS'],
  torque: ['N·m', 'lbf·ft'],
  MAP: ['kPa', 'psi', 'bar', 'hPa', 'inHg'],
  'coolant temp': ['°C', '°F', 'K'],
  'charge temp': ['°C', '°F', 'K'],
} as const;

describe('a pull in random units without any unit text', () => {
  const unitArbitrary = fc.record({
    ...{ a: fc.constantFrom(...WRITTEN['engine speed']), b: fc.constantFrom(...WRITTEN['roll speed']) },
    ...{
      c: fc.constantFrom(...WRITTEN['tractive force']),
      d: fc.constantFrom(...WRITTEN.power),
      e: fc.constantFrom(...WRITTEN.torque),
    },
    ...{
      f: fc.constantFrom(...WRITTEN.MAP),
      g: fc.constantFrom(...WRITTEN['coolant temp']),
      h: fc.constantFrom(...WRITTEN['charge temp']),
    },
    gauge: fc.boolean(),
    idle: fc.boolean(),
    boost: fc.integer({ min: 0, max: 220 }),
    top: fc.integer({ min: 3500, max: 9000 }),
    present: fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }),
  });

  it('never gets a wrong unit without a question', () => {
    fc.assert(
      fc.property(unitArbitrary, (drawn) => {
        const si = pull({ idle: drawn.idle, boost: drawn.boost * 1000, top: drawn.top });
        const manifold = drawn.gauge ? si.manifold.map((value) => value - 101325) : si.manifold;
        const all: readonly (readonly [string, Float64Array, string])[] = [
          ['engine speed', si.engineSpeed, drawn.a],
          ['roll speed', si.speed, drawn.b],
          ['tractive force', si.force, drawn.c],
          ['power', si.power, drawn.d],
          ['torque', si.torque, drawn.e],
          ['MAP', manifold, drawn.f],
          ['coolant temp', si.coolant, drawn.g],
          ['charge temp', si.charge, drawn.h],
        ];
        const used = all.filter((_, i) => drawn.present[i] || i === 0);
        const proposals = proposeMapping(
          exampleTable(used.map(([name, samples, unit]) => written(name, samples, unit))),
        );
        proposals.forEach((proposal, i) => {
          if (proposal.question !== undefined) return;
          const [name, , unit] = used[i];
          const zero = proposal.meaning === 'manifold-gauge-pressure';
          expect([name, proposal.unit, name === 'MAP' ? zero : false]).toEqual([
            name,
            unit,
            name === 'MAP' ? drawn.gauge : false,
          ]);
        });
      }),
      { seed: 20, numRuns: 400 },
    );
  });

  it('sets a question exactly when the confidence is below the bar or two readings are close', () => {
    const si = pull();
    const proposals = proposeMapping(
      exampleTable([written('MAP', si.manifold, 'psi'), written('roll speed', si.speed, 'km/h')]),
    );
    for (const { confidence, alternatives, question } of proposals) {
      const close = confidence - (alternatives[0]?.confidence ?? 0) < MARGIN;
      expect(question !== undefined).toBe(confidence < BAR || close);
    }
  });
});
