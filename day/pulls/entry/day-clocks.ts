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
import { withTracks } from './join-entry.ts';
import type { OpenEntry } from './open-entry.ts';

type Opened = ReadonlyMap<string, OpenEntry | undefined>;

/**
 * Clocks of a whole day. One car on one roller: how its tyres grow and creep is one thing, known better from all entries together than
 * from one, and with it every entry's offset and rate are. One pair of clocks: their rate is one number. So every entry is joined
 * again with the day's tyre, and then turned to the day's rate about the middle of each piece, where its time is known best. Entries
 * joined by hand, and entries whose rate is known better by themselves, stay.
 */
export function withDayClocks(opened: Opened): Opened {
  const joined = withDayTyre(opened);
  const combined = combineRates(alignmentsOf(joined), stampsOf(joined));
  if (!combined.ok) return joined;
  const { value: rate, standardUncertainty } = combined.value;
  const turned = changed(joined, (alignment) => ({
    ...alignment,
    pieces: alignment.pieces.map((piece) => aboutTheMiddle(piece, rate, standardUncertainty)),
  }));
  return withRateFindings(turned, combined.value);
}

/** Beyond this two clocks run further apart than crystals do [1]. @source common practice, no source: crystals within 200 ppm */
const FAR_APART = 500e-6;

/** What single entries thought of the rate is settled by the day's; only a day's rate that is far off and well known is worth a word. */
function withRateFindings(opened: Opened, { value, standardUncertainty }: Measured): Opened {
  const far = Math.abs(value) > FAR_APART && Math.abs(value) > 3 * standardUncertainty;
  const finding: Finding = {
    kind: 'clock-rate-high',
    weight: 'doubt',
    message: `the two clocks run ${(1e6 * value).toFixed(0)} ± ${(2e6 * standardUncertainty).toFixed(0)} ppm apart, further than crystal clocks do`,
    numbers: { rate: value, rateUncertainty: standardUncertainty, limit: FAR_APART },
    rule: 'common practice, no source',
  };
  return new Map(
    [...opened].map(([id, open]) => {
      if (open?.joined.alignment.by !== 'speed') return [id, open];
      const findings = open.findings.filter(({ kind }) => kind !== 'clock-rate-high' && kind !== 'rate-not-measured');
      return [id, { ...open, findings: far ? [...findings, finding] : findings }];
    }),
  );
}

/** Fewest entries that make a day's tyre. @source our default */
const FEWEST = 3;
/** Least that growth and creep change over a day, as a share of their value [1]. @source our default: tread temperature */
const CHANGE = 0.05;

function withDayTyre(opened: Opened): Opened {
  const tyres = [...opened.values()].flatMap((open) =>
    open?.joined.converter ? [] : (open?.joined.alignment.tyre ?? []),
  );
  if (tyres.length < FEWEST) return opened;
  const tyre = {
    growth: middle(tyres.map(({ growth }) => growth.value)),
    creep: middle(tyres.map(({ creep }) => creep.value)),
  };
  return changed(opened, (alignment, open) => {
    const { roller, engine } = open.joined.logs;
    const again =
      roller && engine && !open.joined.converter
        ? alignClocks(roller, engine, { ...knownOf(open), ...tyre })
        : undefined;
    if (!again?.ok) return alignment;
    return open.facts.nudge === undefined ? again.value : nudged(again.value, open.facts.nudge);
  });
}

/** What an entry's own facts say that makes its clocks surer. */
export function knownOf({ side }: Pick<OpenEntry, 'side'>): AlignOptions {
  return side.ok && side.value.forceKind !== 'whole' ? { rollMass: side.value.mass.value } : {};
}

/** Median, with the scatter of the entries' values about it over their root, and never surer than the change over a day. */
function middle(values: readonly number[]): { value: number; uncertainty: number } {
  const value = median(values, 'skip');
  const scatter =
    1.4826 *
    median(
      values.map((one) => Math.abs(one - value)),
      'skip',
    );
  return { value, uncertainty: Math.max(scatter / Math.sqrt(values.length), CHANGE * Math.abs(value)) };
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

/** The same entries with another alignment for those that were joined by their speeds. */
function changed(opened: Opened, change: (alignment: Alignment, open: OpenEntry) => Alignment): Opened {
  return new Map(
    [...opened].map(([id, open]) => {
      const { roller, engine } = open?.joined.logs ?? {};
      if (open?.joined.alignment.by !== 'speed' || !roller || !engine) return [id, open];
      const alignment = change(open.joined.alignment, open);
      const joined = { ...joinRecords({ roller, engine, alignment }), findings: open.joined.record.findings };
      const record = withTracks(joined, open.joined.sounds);
      return [id, { ...open, joined: { ...open.joined, alignment, record } }];
    }),
  );
}

function aboutTheMiddle(piece: ClockPiece, rate: number, spread: number): ClockPiece {
  if (!(spread < piece.rateUncertainty)) return piece;
  const middleTime = (piece.from + piece.to) / 2;
  return { ...piece, rate, rateUncertainty: spread, offset: piece.offset + (piece.rate - rate) * middleTime };
}
