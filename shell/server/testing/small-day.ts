import type { Finding } from '../../../core/quantities/index.ts';
import type { Conditions, DayFacts, EntryFacts, EntryResult, LossFit, PullResult } from '../../../day/pulls/index.ts';
import type { EntryReport } from '../../../day/reports/index.ts';
import { smallPull } from './small-curve.ts';
import { smallRecord } from './small-record.ts';
import { smallVerdict } from './small-verdict.ts';

/** An invented day for tests: every standing of an entry occurs once. */
export const SMALL_FACTS: DayFacts = {
  title: 'Invented day',
  date: '2031-05-14',
  invented: 'computed from formulas; no real engine, roller or vehicle',
  place: { name: 'invented hall', altitude: { value: 1420, standardUncertainty: 5 } },
  vehicle: { name: 'invented buggy', tyreRadius: { value: 0.33, standardUncertainty: 0.001 } },
  engine: { boostControl: 'absolute', cylinders: 6 },
  roller: {
    kind: 'brake',
    equivalentMass: { value: 450, standardUncertainty: 5 },
    maxForce: { value: 6000, standardUncertainty: 0 },
  },
  ambient: { rule: 'none' },
  entries: [
    entry('coast-1', '09:35', { kind: 'coast-down', clutch: 'open' }),
    entry('pull-1', '09:50', { title: 'baseline' }),
    entry('pull-2', '10:00', { title: 'baseline again' }),
    entry('change-1', '10:12', { kind: 'change', files: [], title: 'plug gap 0.70 → 0.55 mm' }),
    entry('pull-3', '10:20', { title: 'smaller gap' }),
    entry('pull-4', '10:35', { title: 'one log only' }),
    entry('pull-5', '10:48', { title: 'new logger' }),
    entry('note-1', '11:00', { kind: 'note', files: [], notes: 'door opened, wind' }),
    entry('pull-6', '11:12', { title: 'higher target', settings: { 'map target': '200 kPa' } }),
  ],
  mappings: [],
};

/** The same day with one more pull that calls for a hold. */
export const HELD_FACTS: DayFacts = {
  ...SMALL_FACTS,
  entries: [...SMALL_FACTS.entries, entry('pull-held', '11:30', { title: 'highest target' })],
};

function entry(id: string, clock: string, more: Partial<EntryFacts>): EntryFacts {
  return { id, kind: 'pull', clock, files: ['roller.csv', 'engine.csv'], settings: {}, ...more };
}

const BREAKUP: Finding = {
  kind: 'power-dropouts',
  weight: 'fault',
  message: 'short drops of force between 8.4 s and 9.6 s',
  place: { file: 'roller.csv', channel: 'force', from: 8.4, to: 9.6 },
  numbers: { depth: 0.09 },
};
const ZERO: Finding = {
  kind: 'force-zero',
  weight: 'note',
  message: 'force zero -9.3 ± 1.9 N taken off',
  numbers: { zero: -9.3, standardUncertainty: 1.9 },
};
/** A fault of a channel that no power is made of. */
const STUCK: Finding = {
  kind: 'stuck',
  weight: 'fault',
  message: '"lambda" keeps one value for 12 s while the load changes',
  place: { file: 'engine.csv', channel: 'lambda', from: 2, to: 14 },
};
const DOUBT: Finding = { kind: 'second-peak-near', weight: 'doubt', message: 'second correlation peak 0.93 at 2.40 s' };

/** What is computed for one invented entry. */
export function smallReport(facts: EntryFacts, at: number): EntryReport {
  const level = 0.92 + 0.015 * at;
  const judged = (pulls: readonly PullResult[], findings: readonly Finding[] = []) =>
    result(facts, { pulls, findings }, at);
  const told = (sentence: string, answer: EntryResult | undefined): EntryReport => ({
    facts,
    result: answer,
    verdicts: (answer?.pulls ?? []).map((pull) => smallVerdict(facts, pull)),
    sentence,
    questions: [],
  });
  switch (facts.id) {
    case 'pull-2':
      return told(
        'Valid outside 5 300–5 900 rpm: short drops of force there. 241.0 ± 3.4 kW at the engine.',
        judged([smallPull({ level, void: [53, 66] }, [BREAKUP])]),
      );
    case 'pull-3':
      return told(
        '264.1 ± 3.7 kW at the engine, with doubt: the clocks could also be joined 2.40 s apart.',
        judged([smallPull({ level })], [DOUBT]),
      );
    case 'pull-4':
      return told('No power: the log has no speed at the roll.', refusedResult(facts, at));
    case 'pull-5':
      return {
        facts,
        result: undefined,
        verdicts: [],
        sentence: 'Waits: 2 columns need a decision.',
        questions: [{ file: 'engine.csv', proposals: [PROPOSAL] }],
      };
    default:
      if (facts.kind === 'change' || facts.kind === 'note') return told(facts.title ?? facts.notes ?? '', undefined);
      if (facts.kind === 'coast-down') {
        return told('Losses 180 N + 3.2 N·s/m, clutch open.', { ...judged([]), losses: [loss()] });
      }
      return told(
        `Clean: ${(262 * level).toFixed(1)} ± 3.7 kW at the engine.`,
        judged([smallPull({ level }, [ZERO])], facts.id === 'pull-1' ? [STUCK] : []),
      );
  }
}

const PROPOSAL = {
  column: 'P_in',
  meaning: 'manifold-pressure',
  unit: 'kPa',
  origin: 'measured',
  confidence: 0.41,
  reason: 'range fits, name does not',
  alternatives: [{ meaning: 'boost-pressure', unit: 'kPa', confidence: 0.38, reason: 'range fits' }],
  question: 'Is P_in measured before or after the throttle?',
} as const;

function refusedResult(facts: EntryFacts, at: number): EntryResult {
  const refusal = {
    kind: 'missing-roll-speed',
    message: 'missing roll speed: no column holds it',
    place: { file: 'roller.csv' },
  };
  return { ...result(facts, { pulls: [], findings: [] }, at), refusal };
}

function result(
  facts: EntryFacts,
  { pulls, findings }: Pick<EntryResult, 'pulls' | 'findings'>,
  at: number,
): EntryResult {
  const still = {
    kind: 'standstill',
    from: 0,
    to: 65,
    fromTime: 0,
    toTime: 1.3,
    lowSpeed: 0,
    highSpeed: 0,
    reason: 'no speed',
  } as const;
  return {
    id: facts.id,
    alignment: smallRecord().alignment,
    segments: [still, ...pulls.map(({ segment }) => segment)],
    conditions: conditions(at),
    pulls,
    losses: [],
    findings,
  };
}

function conditions(at: number): Conditions {
  const none = {
    rule: 'none',
    factor: 1,
    standardUncertainty: 0,
    valid: true,
    why: 'control holds absolute manifold pressure',
  } as const;
  return {
    chosen: none,
    temperature: { value: 295 + 1.2 * at, standardUncertainty: 0.5 },
    pressure: { value: 85_300 - 20 * at, standardUncertainty: 30 },
    vapourPressure: { value: 1100, standardUncertainty: 60 },
    origin: { temperature: 'roller log', pressure: 'roller log', humidity: 'stated for the day' },
    factors: [
      none,
      {
        rule: 'SAE J1349',
        factor: 1.197 + 0.003 * at,
        standardUncertainty: 0.002,
        valid: false,
        why: 'outside 0.93–1.07',
      },
      {
        rule: 'ISO 1585 spark',
        factor: 1.188 + 0.003 * at,
        standardUncertainty: 0.002,
        valid: false,
        why: 'outside 0.93–1.07',
      },
      {
        rule: 'temperature only',
        factor: 0.995 + 0.002 * at,
        standardUncertainty: 0.001,
        valid: true,
        why: 'temperature known',
      },
      {
        rule: 'ISO 1585 compression',
        factor: undefined,
        standardUncertainty: undefined,
        valid: false,
        why: 'spark ignition',
      },
    ],
    findings: [],
  };
}

function loss(): LossFit {
  const value = (middle: number, standardUncertainty: number) => ({ value: middle, standardUncertainty });
  return {
    segment: {
      kind: 'coast-down',
      from: 0,
      to: 900,
      fromTime: 0,
      toTime: 18,
      lowSpeed: 15,
      highSpeed: 54,
      reason: 'speed falling, clutch open',
    },
    clutch: 'open',
    f0: value(180, 6),
    f1: value(3.2, 0.2),
    f2: value(0, 0.004),
    middle: { speed: 33, force: value(286, 3) },
    mass: value(450, 5),
    residual: 9,
    findings: [],
  };
}
