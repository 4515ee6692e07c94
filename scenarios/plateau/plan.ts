import { lineAt } from '../interpolate.ts';

/** One planned pull: what the practitioner set. clock: minutes after midnight; map: kPa; gap: mm; straps: kN; phase, timing: °CA. */
export interface PullPlan {
  readonly id: string;
  readonly kind: 'pull';
  readonly clock: number;
  readonly map: number;
  readonly gap: number;
  readonly straps: number;
  readonly phase: number;
  readonly timing: number;
  readonly preCleaner: boolean;
  readonly notes?: string;
}

/** One coast-down. extraDrag: N on top of the vehicle's own, from a tight final drive. */
export interface CoastPlan {
  readonly id: string;
  readonly kind: 'coast-down';
  readonly clock: number;
  readonly straps: number;
  readonly clutch: 'open' | 'in gear';
  readonly extraDrag: number;
  readonly notes?: string;
}

/** Something that happened without a log, or a pull that was not run. */
export interface NotePlan {
  readonly id: string;
  readonly kind: 'change' | 'note';
  readonly clock: number;
  readonly title: string;
}

export type Planned = PullPlan | CoastPlan | NotePlan;

type Settings = Partial<Omit<PullPlan, 'id' | 'kind' | 'clock' | 'map'>>;

const at = (hours: number, minutes: number): number => hours * 60 + minutes;

function pull(id: number, clock: number, set: Settings & { map: number }): PullPlan {
  const common = { gap: 0.7, straps: 5, phase: 0, timing: 0, preCleaner: false };
  return { id: String(id), kind: 'pull', clock, ...common, ...set };
}

function coast(number: number, clock: number, set: Partial<CoastPlan> = {}): CoastPlan {
  return { id: `C${number}`, kind: 'coast-down', clock, straps: 5, clutch: 'open', extraDrag: 0, ...set };
}

function note(id: string, clock: number, title: string): NotePlan {
  return { id, kind: 'note', clock, title };
}

function change(id: string, clock: number, title: string): NotePlan {
  return { id, kind: 'change', clock, title };
}

const SMALL = { gap: 0.55 };

/** The day in order. */
export const PLAN: readonly Planned[] = [
  coast(1, at(9, 35), { straps: 0, notes: 'Warmed up, straps not tensioned.' }),
  coast(2, at(9, 41), { straps: 0 }),
  pull(1, at(9, 50), { map: 140, straps: 3, notes: 'Shakedown.' }),
  pull(2, at(10, 0), { map: 150, straps: 3, notes: 'Baseline.' }),
  pull(3, at(10, 10), { map: 150, straps: 3, notes: 'Baseline repeat.' }),
  pull(4, at(10, 20), {
    map: 150,
    straps: 3,
    notes: 'Third repeat. Lambda plug of bank A reseated.',
  }),
  pull(5, at(10, 35), { map: 170, straps: 3, notes: 'First step up.' }),
  pull(6, at(10, 48), { map: 170, notes: 'Straps tensioned to 5 kN.' }),
  pull(7, at(11, 0), { map: 185, notes: 'All hose clamps gone over.' }),
  pull(8, at(11, 12), { map: 185, notes: 'Boost gain lowered.' }),
  coast(3, at(11, 20)),
  pull(9, at(11, 30), { map: 200, notes: 'First pull at 200.' }),
  change('gap', at(11, 42), 'All plugs out, gap set to 0.55 mm.'),
  pull(10, at(11, 55), { map: 200, ...SMALL, notes: 'A.' }),
  pull(11, at(12, 8), { map: 200, ...SMALL, notes: 'A again.' }),
  change('pre-cleaner on', at(12, 15), 'Pre-cleaner fitted. Laptop of the engine log changed.'),
  pull(12, at(12, 22), { map: 200, ...SMALL, preCleaner: true, notes: 'B.' }),
  pull(13, at(12, 35), { map: 200, ...SMALL, preCleaner: true, notes: 'B again.' }),
  coast(4, at(12, 42), { extraDrag: 8.6 }),
  change('pre-cleaner off', at(12, 48), 'Pre-cleaner taken off. First laptop back.'),
  pull(14, at(12, 55), { map: 200, ...SMALL, notes: 'A. Roller program set to write the clock time.' }),
  pull(15, at(13, 10), { map: 200, ...SMALL, phase: -6 }),
  pull(16, at(13, 25), { map: 200, ...SMALL }),
  pull(17, at(13, 40), { map: 200, ...SMALL, phase: 6 }),
  coast(5, at(13, 50), { clutch: 'in gear', extraDrag: 118, notes: 'In gear, ignition off.' }),
  coast(6, at(13, 56), { extraDrag: 118 }),
  change('final drive', at(14, 5), 'Final drive opened: pinion preload reset, fresh oil. Charging belt replaced.'),
  pull(18, at(14, 40), { map: 200, ...SMALL, notes: 'Reference.' }),
  coast(7, at(14, 46), { extraDrag: 8.6 }),
  pull(19, at(14, 55), { map: 200, ...SMALL, phase: -6 }),
  pull(20, at(15, 8), { map: 200, ...SMALL, phase: 6 }),
  note(
    'forecast',
    at(15, 15),
    'Forecast read at the gate: 34 °C at 15:30, 34 °C at 16:30, 33 °C at 17:00, 20 % humidity.',
  ),
  pull(21, at(15, 22), { map: 200, ...SMALL, phase: 3, timing: 2 }),
  pull(22, at(15, 38), { map: 200, ...SMALL, phase: 3 }),
  pull(23, at(16, 5), { map: 208, ...SMALL, phase: 3, notes: 'Short of time.' }),
  pull(24, at(16, 20), { map: 215, ...SMALL, phase: 3 }),
  coast(8, at(16, 26), { extraDrag: 8.6 }),
  pull(25, at(16, 32), { map: 215, ...SMALL, phase: 3, notes: 'To confirm.' }),
  pull(26, at(16, 44), { map: 200, ...SMALL, phase: 3 }),
  coast(9, at(16, 50), { extraDrag: 8.6 }),
  note('27', at(17, 0), 'Reference pull at 200 kPa, planned, cancelled.'),
  note('28', at(17, 6), 'Reference pull at 200 kPa, planned, cancelled.'),
];

/** True air of the hall at a minute of the day: temperature [°C], pressure [kPa], relative humidity [%]. */
export function hallAir(minute: number): { temperature: number; pressure: number; humidity: number } {
  return {
    temperature: lineAt([at(9, 30), at(15, 30), at(16, 30), at(17, 30)], [22, 34, 34, 33], minute),
    pressure: lineAt([at(9, 30), at(15, 30)], [85.4, 85.1], minute),
    humidity: lineAt([at(9, 30), at(15, 30)], [38, 20], minute),
  };
}

/** Pulls in the same block before this one: a block ends with a break of 20 min. */
export function pullsBeforeInBlock(id: string): number {
  let count = 0;
  let last = Number.NEGATIVE_INFINITY;
  for (const entry of PLAN) {
    if (entry.kind !== 'pull') continue;
    if (entry.clock - last > 20) count = 0;
    if (entry.id === id) return count;
    count += 1;
    last = entry.clock;
  }
  return 0;
}

/** What earlier pulls left in the intercooler [°C]: 3 °C each, dying away with 240 s. */
export function leftSoak(plan: PullPlan): number {
  let soak = 0;
  for (const entry of PLAN) {
    if (entry.kind === 'pull' && entry.clock < plan.clock)
      soak += 3 * Math.exp(((entry.clock - plan.clock) * 60) / 240);
  }
  return soak;
}

/** Temperature of the tread before a run [°C]: 3 °C more per pull, 0.5 °C less per minute, never below the hall. */
export function treadTemperature(minute: number): number {
  let tread = hallAir(at(9, 30)).temperature;
  let last = at(9, 30);
  for (const entry of PLAN) {
    if (entry.kind !== 'pull' || entry.clock >= minute) continue;
    tread = Math.max(hallAir(entry.clock).temperature, tread - 0.5 * (entry.clock - last)) + 3;
    last = entry.clock;
  }
  return Math.max(hallAir(minute).temperature, tread - 0.5 * (minute - last));
}
