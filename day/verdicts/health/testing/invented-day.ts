import { measured, refused } from '../../../../core/quantities/index.ts';
import type { Channel, Meaning } from '../../../channels/index.ts';
import type { DayFacts, EntryFacts, EntryResult, LossFit, OpenEntry, Segment, Track } from '../../../pulls/index.ts';
import type { PullScene } from '../../scene/scene.ts';
import { type Invented, inventedPull } from '../../testing/invented-pull.ts';
import type { HealthInput } from '../day-health.ts';

/** One invented entry: its facts, and what its logs say. */
export interface InventedEntry {
  readonly facts: Partial<EntryFacts> & Pick<EntryFacts, 'id'>;
  readonly pull?: Invented;
  readonly losses?: readonly LossFit[];
  readonly tracks?: readonly Track[];
  readonly segments?: readonly Segment[];
}

/** What `dayHealth` is asked, from invented entries. */
export function inventedDay(
  entries: readonly InventedEntry[],
  facts: Partial<Pick<DayFacts, 'engine' | 'vehicle' | 'roller'>> = {},
): HealthInput {
  const made = entries.map((entry) => ({ facts: entryFacts(entry), entry }));
  const opened = new Map(made.map(({ facts: own, entry }) => [own.id, opened_(own, entry)]));
  const results = new Map(made.map(({ facts: own, entry }) => [own.id, resultOf(own, entry)]));
  return {
    facts: {
      ...{ title: 'invented', place: {}, ambient: {}, mappings: [], vehicle: {}, engine: {}, roller: {} },
      ...facts,
      entries: made.map((one) => one.facts),
    },
    opened,
    results,
  };
}

function entryFacts({ facts, pull }: InventedEntry): EntryFacts {
  return { kind: pull ? 'pull' : 'coast-down', files: [], settings: {}, ...facts };
}

const scenes = new Map<string, PullScene>();

/** Scenes are slow to make and never changed. */
function sceneOf(invented: Invented): PullScene {
  const key = `${JSON.stringify(invented)} ${Object.values(invented.change ?? {}).join()} ${invented.power}`;
  const scene = scenes.get(key) ?? inventedPull(invented);
  scenes.set(key, scene);
  return scene;
}

function opened_(
  facts: EntryFacts,
  { pull, losses = [], tracks = [], segments = [] }: InventedEntry,
): OpenEntry | undefined {
  if (facts.kind === 'change' || facts.kind === 'note') return undefined;
  const scene = pull && inventedPull(pull);
  const record = scene?.record ?? { ...sceneOf({ rate: 20 }).record, tracks };
  return {
    facts,
    joined: {
      logs: { roller: undefined, engine: undefined, findings: [] },
      record,
      alignment: record.alignment,
      findings: [],
    },
    segments: scene?.segments ?? segments,
    side: refused({ kind: 'test', message: 'not needed' }),
    zero: undefined,
    losses,
    findings: [],
  };
}

function resultOf(facts: EntryFacts, { pull, losses = [] }: InventedEntry): EntryResult | undefined {
  if (facts.kind === 'change' || facts.kind === 'note') return undefined;
  const factor = { rule: 'none', factor: 1, standardUncertainty: 0, valid: true, why: 'test' } as const;
  return {
    id: facts.id,
    alignment: undefined,
    segments: [],
    conditions: {
      temperature: measured(295, 1),
      pressure: measured(95e3, 100),
      vapourPressure: undefined,
      origin: { temperature: 'test', pressure: 'test', humidity: 'test' },
      factors: [factor],
      chosen: factor,
      findings: [],
    },
    pulls: pull ? [inventedPull(pull).pull] : [],
    losses,
    findings: [],
  };
}

/** A coast-down from 54 to 15 m/s with these losses [N, N·s/m]; spread: standard uncertainty of the force at the middle [N]. */
export function inventedLoss(
  [f0, f1]: readonly [number, number],
  { clutch = 'open', spread = 2, ratio }: { clutch?: LossFit['clutch']; spread?: number; ratio?: number } = {},
): LossFit {
  const speed = 33;
  return {
    segment: {
      ...{
        kind: 'coast-down',
        from: 0,
        to: 100,
        fromTime: 0,
        toTime: 60,
        lowSpeed: 15,
        highSpeed: 54,
        reason: 'invented',
      },
      ...(ratio === undefined ? {} : { ratio }),
    },
    clutch,
    f0: measured(f0, 3 * spread),
    f1: measured(f1, 0.08 * spread),
    f2: measured(0, 0),
    middle: { speed, force: measured(f0 + f1 * speed, spread) },
    mass: measured(480, 5),
    residual: 14,
    findings: [],
  };
}

/** A track of an invented record. */
export function inventedTrack(
  meaning: Meaning,
  kind: Channel['kind'],
  [from, to, rate, value]: readonly [number, number, number, (time: number) => number],
): Track {
  const count = Math.round((to - from) * rate) + 1;
  const times = Float64Array.from({ length: count }, (_, i) => from + i / rate);
  return {
    channel: {
      name: meaning,
      meaning,
      kind,
      samples: times.map(value),
      mask: new Uint8Array(count),
      refreshRate: rate,
      origin: 'measured',
    },
    times,
    pieces: [{ from: 0, to: count }],
    file: 'invented',
  };
}
