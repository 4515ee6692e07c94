import type { Changes, Invented } from './invented-pull.ts';

const degree = Math.PI / 180;
const between = (from: number, to: number) => (t: number) => t > from && t < to;
/** Rises and falls smoothly between two times: 0 … 1 … 0. */
const hump = (t: number, from: number, to: number): number =>
  t <= from || t >= to ? 0 : Math.sin((Math.PI * (t - from)) / (to - from)) ** 2;

/** Bursts of misfire: irregular notches of the drive, lambda lean behind them. size: share of the force lost in a notch [1]. */
export function breakup(size = 0.25): Invented {
  const notches = [
    6.1, 6.14, 6.23, 6.29, 6.33, 6.9, 6.96, 7.01, 7.09, 7.16, 7.7, 7.78, 7.82, 7.9, 7.97, 8.03, 8.5, 8.57, 8.6,
  ];
  const missing = (t: number): number => notches.reduce((sum, at) => sum + (Math.abs(t - at) < 0.02 ? 1 : 0), 0);
  const lean = (t: number): number =>
    [6.2, 7.05, 7.85, 8.55].reduce((sum, at) => sum + 0.4 * size * hump(t, at - 0.12, at + 0.2), 0);
  return {
    change: {
      'brake-force': (value, { t }) => value * (1 - (missing(t) > 0 ? size : 0)),
      lambda: (value, { t, speed }) => value + lean(t - (0.08 + 45 / speed)),
    },
  };
}

/** The trigger is lost twice: the drive collapses, speed reads nonsense, the counter climbs. */
export function syncLoss(counts = 2): Invented {
  const lost = (t: number): boolean => between(6, 6.1)(t) || between(6.3, 6.42)(t);
  return {
    change: {
      'brake-force': (value, { t }) => (lost(t) ? 0 : value),
      'engine-speed': (value, { t }) => (counts > 0 && lost(t) ? 30 : value),
      'sync-errors': (value, { t }) =>
        value + (t > 6 ? Math.min(1, counts) : 0) + (t > 6.3 ? Math.max(0, counts - 1) : 0),
      lambda: (value, { t }) => value + 0.3 * hump(t, 6.15, 6.7),
    },
  };
}

/** A limiter: even notches from a speed on, on command. */
export function limiter(): Invented {
  const off = (t: number): boolean => t > 8.5 && t < 10 && (t * 10) % 1 < 0.4;
  return {
    change: {
      'brake-force': (value, { t }) => value * (off(t) ? 0.4 : 1),
      'cut-status': (value, { t }) => (off(t) ? 1 : value),
      lambda: (value, { t }) => value + (t > 8.6 && t < 10 ? 0.04 : 0),
    },
  };
}

/** The tyre lets go around the middle of the pull by so much [1]. */
export function tyreSlip(size = 0.06): Invented {
  const factor = (t: number): number => 1 + size * hump(t, 4, 7);
  return {
    change: {
      'engine-speed': (value, { t }) => value * factor(t),
      'wheel-speed@driven left': (value, { t }) => value * factor(t),
    },
  };
}

/** The clutch lets go: engine speed leaves wheel and roll. */
export function clutchSlips(size = 0.06): Invented {
  return { change: { 'engine-speed': (value, { t }) => value * (1 + size * hump(t, 4, 7)) } };
}

/** Lock-up releases: one step of engine speed. */
export function lockUpReleases(size = 0.05): Invented {
  return {
    facts: { transmission: 'converter' },
    change: { 'engine-speed': (value, { t }) => value * (1 + (t > 5 ? size * Math.min(1, (t - 5) / 0.15) : 0)) },
  };
}

const pressure = (add: (t: number) => number): Invented => ({
  change: {
    'manifold-pressure': (value, { t }) => value + add(t),
    'brake-force': (value, { t }) => value * (1 + 0.6 * (add(t) / 200e3)),
  },
});

export const overshoot = (size = 15e3): Invented => pressure((t) => size * hump(t, 0.6, 1.3));
export const oscillation = (size = 7e3): Invented =>
  pressure((t) => (t > 2 && t < 7 ? size * Math.sin(2 * Math.PI * 1.8 * t) : 0));
export const droop = (share = 0.09): Invented =>
  pressure((t) => (t > 6 && t < 10 ? (-200e3 * share * (t - 6)) / 4 : 0));
export const creep = (share = 0.09): Invented => pressure((t) => (t > 5 && t < 10 ? (200e3 * share * (t - 5)) / 5 : 0));
export const choke = (share = 0.09): Invented => ({
  change: {
    ...droop(share).change,
    'turbo-speed': (value, { t }) => value * (1 + (t > 6 && t < 10 ? 0.015 * (t - 6) : 0)),
  },
});
export const surging = (share = 0.09): Invented => ({
  change: {
    'manifold-pressure': (value, { t }) => value * (1 + (t > 2 && t < 4 ? share * Math.sin(2 * Math.PI * 9 * t) : 0)),
  },
});

/** Knock on one cylinder with the retard that answers it [rad]. */
export function knocking(retard = 4 * degree): Invented {
  const events = [3, 3.15, 3.3, 3.5];
  return {
    change: {
      'knock-level@cylinder 1': (value, { t }) =>
        value * (events.some((at) => t >= at && t < at + 0.03) ? 1 + 0.75 * (retard / degree) : 1),
      'knock-retard@cylinder 1': (_, { t }) =>
        Math.max(0, retard * (events.filter((at) => t > at).length / 4) * (t < 6 ? 1 : Math.max(0, 1 - (t - 6) / 2))),
    },
  };
}

/** Fuel pressure falls at the top of the pull by this share, and the mixture leans with it. */
export function pumpStarves(share = 0.12): Invented {
  const down = (t: number): number => share * Math.max(0, Math.min(1, (t - 6) / 2));
  return {
    change: {
      'fuel-pressure-difference': (value, { t }) => value * (t < 10 ? 1 - down(t) : 1),
      lambda: (value, { t }) => value + (t < 10 ? 0.5 * down(t) : 0),
    },
  };
}

export const leans = (size = 0.07): Invented => ({
  change: { lambda: (value, { t }) => value + (t > 5 && t < 10 ? size : 0) },
});
export const richens = (size = 0.1): Invented => ({
  change: { lambda: (value, { t }) => value - (t > 5 && t < 10 ? size : 0) },
});
export const injectorsFull = (share = 0.95): Invented => ({
  change: { 'injector-duty': (value, { t, place }) => (t > 0 && t < 10 ? 0.3 + (share - 0.3) * place : value) },
});

const always = (change: Changes, rest: Invented = {}): Invented => ({ change, references: [{}, {}], ...rest });

export const leak = (size = 1): Invented =>
  always({
    'wastegate-duty': (value) => value + 0.12 * size,
    // A leak costs speed where there is boost, not before tip-in.
    'turbo-speed': (value, { place }) => value * (1 + (place > 0 ? 0.05 * size : 0)),
    'charge-temperature': (value, { place }) => value + (place > 0 ? 5 * size : 0),
  });
export const soaked = (kelvin = 7): Invented => always({ 'charge-temperature': (value) => value + kelvin });
export const lifting = (pascal = 40e3): Invented =>
  always({ 'coolant-pressure': (value, { t }) => value + pascal * Math.max(0, Math.min(1, (t - 4) / 2)) });
export const phaserLags = (angle = 8 * degree): Invented => ({
  change: { 'cam-angle@bank A': (value, { t }) => value - (t > 3 && t < 8 ? angle : 0) },
});
export const oilLow = (share = 0.2): Invented => always({ 'oil-pressure': (value) => value * (1 - share) });
export const blowBy = (pascal = 2.5e3): Invented => always({ 'crankcase-pressure': (value) => value + pascal });
export const restricted = (ratio = 0.3): Invented =>
  always({ 'exhaust-pressure': (value, { place }) => value + 200e3 * ratio * (0.3 + place) });
export const dragging = (share = 0.04, kelvin = 20): Invented =>
  always({ 'axle-temperature': (value) => value + kelvin }, { power: () => 1 - share });
export const short = (share = 0.06): Invented =>
  always({ lambda: (value) => value + 0.03, 'lambda-target': (value) => value + 0.03 }, { power: () => 1 - share });

/** Rough from one speed up to the end; the same in a pull at another manifold pressure. */
export function floating(same = true): Invented {
  const rough: Changes = {
    'brake-force': (value, { t }) =>
      value * (1 + (t > 8 && t < 10 ? 0.12 * Math.sin(90 * t) * Math.sin(37 * t + 1) : 0)),
  };
  const weaker: Changes = { 'manifold-pressure': (value) => value * 0.85, 'manifold-target': (value) => value * 0.85 };
  return { change: rough, references: [{ change: { ...weaker, ...(same ? rough : {}) } }] };
}

/** The supply sags towards the end of the pull by so many volts, and it misfires where it is low. */
export function starvedCoils(volts = 1.6, size = 0.25): Invented {
  const sag = (t: number): number => (t < 10 ? volts * Math.max(0, Math.min(1, (t - 4) / 2)) : 0);
  return { change: { ...breakup(size).change, 'battery-voltage': (value, { t }) => value - sag(t) } };
}

/** The same breakup with a dwell that became short. */
export function shortDwell(share = 0.5): Invented {
  return {
    change: { ...breakup().change, dwell: (value, { t }) => value * (t > 5 && t < 10 ? 1 - share : 1) },
    references: [{}, {}],
  };
}

/** Knock that goes on although timing is taken back; with exhaust temperature falling, by so many kelvin. */
export function deafKnock(kelvin = 40, reacts = false): Invented {
  const moments = [3, 3.1, 3.2, 3.5, 3.8, 4.1, 4.4, 4.7];
  const loud = (t: number): boolean => moments.some((at, k) => (!reacts || k < 3) && t >= at && t < at + 0.03);
  return {
    change: {
      'knock-level@cylinder 1': (value, { t }) => value * (loud(t) ? 4 : 1),
      'knock-retard@cylinder 1': (_, { t }) => (t > 3 && t < 10 ? Math.min(1, (t - 3) / 0.3) * 5 * degree : 0),
      'exhaust-temperature': (value, { t }) => value - (t > 3 ? kelvin * Math.min(1, (t - 3) / 2) : 0),
    },
  };
}

/** A missed gear right after lift-off: engine speed up to so many times the redline. */
export function missedGear(share = 1.08, redline = 700): Invented {
  return {
    engine: { ignition: 'spark', strokesPerCycle: 4, redline: { value: redline, standardUncertainty: 0 } },
    change: {
      'engine-speed': (value, { t }) =>
        t > 10.4 && t < 11.4 ? value + (share * redline - value) * hump(t, 10.4, 11.4) : value,
    },
  };
}

/** A channel keeps the value it had at one time until another [s since tip-in]. */
export function keeps(name: string, from: number, to: number): Invented {
  let held = Number.NaN;
  return {
    change: {
      [name]: (value, { t }) => {
        held = t < from || t > to ? Number.NaN : Number.isNaN(held) ? value : held;
        return Number.isNaN(held) ? value : held;
      },
    },
  };
}

/** A sensor ends at a value: nothing above it is written. */
export const ends = (name: string, at: number): Invented => ({ change: { [name]: (value) => Math.min(at, value) } });

/** A channel reads zero between two times. */
export const fallsOut = (name: string, from: number, to: number): Invented => ({
  change: { [name]: (value, { t }) => (t > from && t < to ? 0 : value) },
});
