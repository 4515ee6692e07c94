import { median } from '../../../core/numerics/index.ts';
import type { Finding, Measured } from '../../../core/quantities/index.ts';
import {
  type Alignment,
  type AlignOptions,
  alignClocks,
  type ClockPiece,
  combineRates,
  joinRecords,
  nudged,
} from '../../channels/index.ts';
import { keptStep, type StepMemory } from '../steps.ts';
import { steppedRate, steppedSpread, steppedTyre } from './day-steps.ts';
import { withTracks } from './join-entry.ts';
import type { OpenEntry } from './open-entry.ts';

type Opened = ReadonlyMap<string, OpenEntry | undefined>;

/**
 * Clocks of a whole day. One car on one roller: how its tyres grow and creep is one thing, known better from all entries together than
 * from one, and with it every entry's offset and rate are. One pair of clocks: their rate is one number. So every entry is joined
 * again with the day's tyre, and then turned to the day's rate about the middle of each piece, where its time is known best. Entries
 * joined by hand, and entries whose rate is known better by themselves, stay.
 *
 * @param memory keeps each entry on its clocks for as long as nothing of it changed
 */
export function withDayClocks(opened: Opened, memory?: StepMemory): Opened {
  const steps = dayClockSteps(opened, memory);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** The same, entry by entry, for whoever must give way to others in between. Yields the entry that was joined again. */
export function* dayClockSteps(opened: Opened, memory?: StepMemory): Generator<string, Opened> {
  const tyre = dayTyre(opened);
  const joined = new Map<string, OpenEntry | undefined>();
  for (const [id, open] of opened) {
    joined.set(id, tyre && open ? onDayTyre({ open, tyre }, memory) : open);
    yield id;
  }
  const combined = combineRates(alignmentsOf(joined), stampsOf(joined));
  if (!combined.ok) return joined;
  const rate = steppedRate(combined.value);
  return new Map([...joined].map(([id, open]) => [id, open && onDayRate({ open, rate }, memory)]));
}

/** One entry joined again with the day's tyre. */
const onDayTyre = keptStep(
  ({ open, tyre }: { readonly open: OpenEntry; readonly tyre: DayTyre }): OpenEntry => {
    const { logs, converter, alignment } = open.joined;
    if (alignment.by !== 'speed' || !logs.roller || !logs.engine || converter) return open;
    const again = alignClocks(logs.roller, logs.engine, { ...knownOf(open), ...tyre });
    if (!again.ok) return open;
    return joinedAnew(open, open.facts.nudge === undefined ? again.value : nudged(again.value, open.facts.nudge));
  },
  ({ open, tyre }, nameOf) => `${nameOf(open)} ${JSON.stringify(tyre)}`,
);

/** One entry turned to the day's rate. What single entries thought of the rate is settled by it. */
const onDayRate = keptStep(
  ({ open, rate }: { readonly open: OpenEntry; readonly rate: Measured }): OpenEntry => {
    const { logs, alignment } = open.joined;
    if (alignment.by !== 'speed') return open;
    const pieces = alignment.pieces.map((piece) => aboutTheMiddle(piece, rate));
    const turned = logs.roller && logs.engine ? joinedAnew(open, { ...alignment, pieces }) : open;
    const findings = open.findings.filter(({ kind }) => kind !== 'clock-rate-high' && kind !== 'rate-not-measured');
    return { ...turned, findings: [...findings, ...rateFindings(rate)] };
  },
  ({ open, rate }, nameOf) => `${nameOf(open)} ${JSON.stringify(rate)}`,
);

/** The same entry with another alignment. */
function joinedAnew(open: OpenEntry, alignment: Alignment): OpenEntry {
  const { roller, engine } = open.joined.logs;
  if (!roller || !engine) return open;
  const joined = { ...joinRecords({ roller, engine, alignment }), findings: open.joined.record.findings };
  const record = withTracks(joined, open.joined.sounds);
  return { ...open, joined: { ...open.joined, alignment, record } };
}

/** Beyond this two clocks run further apart than crystals do [1]. @source common practice, no source: crystals within 200 ppm */
const FAR_APART = 500e-6;

/** Only a day's rate that is far off and well known is worth a word. */
function rateFindings({ value, standardUncertainty }: Measured): readonly Finding[] {
  if (!(Math.abs(value) > FAR_APART && Math.abs(value) > 3 * standardUncertainty)) return [];
  return [
    {
      kind: 'clock-rate-high',
      weight: 'doubt',
      message: `the two clocks run ${(1e6 * value).toFixed(0)} ± ${(2e6 * standardUncertainty).toFixed(0)} ppm apart, further than crystal clocks do`,
      numbers: { rate: value, rateUncertainty: standardUncertainty, limit: FAR_APART },
      rule: 'common practice, no source',
    },
  ];
}

/** Fewest entries that make a day's tyre. @source our default */
const FEWEST = 3;
/** Least that growth and creep change over a day, as a share of their value [1]. @source our default: tread temperature */
const CHANGE = 0.05;

/** How the tyres of a day grow and creep; undefined where too few entries tell it. */
type DayTyre = Required<Pick<AlignOptions, 'growth' | 'creep'>>;

function dayTyre(opened: Opened): DayTyre | undefined {
  const tyres = [...opened.values()].flatMap((open) =>
    open?.joined.converter ? [] : (open?.joined.alignment.tyre ?? []),
  );
  if (tyres.length < FEWEST) return undefined;
  return {
    growth: middle(tyres.map(({ growth }) => growth.value)),
    creep: middle(tyres.map(({ creep }) => creep.value)),
  };
}

/** What an entry's own facts say that makes its clocks surer. */
export function knownOf({ side }: Pick<OpenEntry, 'side'>): AlignOptions {
  return side.ok && side.value.forceKind !== 'whole' ? { rollMass: side.value.mass.value } : {};
}

/** Median, with the scatter of the entries' values about it over their root, and never surer than the change over a day. Both in steps. */
function middle(values: readonly number[]): { value: number; uncertainty: number } {
  const value = steppedTyre(median(values, 'skip'));
  const scatter =
    1.4826 *
    median(
      values.map((one) => Math.abs(one - value)),
      'skip',
    );
  const uncertainty = Math.max(scatter / Math.sqrt(values.length), CHANGE * Math.abs(value));
  return { value, uncertainty: steppedSpread(uncertainty) };
}

function alignmentsOf(opened: Opened): Alignment[] {
  return [...opened.values()].flatMap((open) => (open ? [open.joined.alignment] : []));
}

/** Start stamps of both logs, in the order of {@link alignmentsOf}. */
function stampsOf(opened: Opened): Parameters<typeof combineRates>[1] {
  return [...opened.values()].flatMap((open) => {
    if (!open) return [];
    const own = open.joined.logs.roller?.clock.started;
    const other = open.joined.logs.engine?.clock.started;
    return [own && other ? { own, other } : undefined];
  });
}

function aboutTheMiddle(piece: ClockPiece, { value: rate, standardUncertainty: spread }: Measured): ClockPiece {
  if (!(spread < piece.rateUncertainty)) return piece;
  const middleTime = (piece.from + piece.to) / 2;
  return { ...piece, rate, rateUncertainty: spread, offset: piece.offset + (piece.rate - rate) * middleTime };
}
