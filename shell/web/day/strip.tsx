import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import type { DriftView, StopView, StripEntry } from '../../contract/index.ts';
import { useWidth } from '../drawing/use-width.ts';
import { hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { STANDING_WORDS } from '../frame/wording.ts';
import { useWriting, type Writing } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { INSIDES, SHAPES } from '../verdicts/stop-plate.tsx';
import { type DriftRow, driftRow, type Mark, type StripLayout, stripLayout } from './strip-layout.ts';

interface StripProps {
  readonly day: string;
  readonly entries: readonly StripEntry[];
  readonly drift?: DriftView | undefined;
  readonly here?: string;
  readonly height?: number;
  readonly label?: string;
}

const DRIFT_HEIGHT = 30;
const DRIFT_LABEL = 20;
/** Strips with less room above their ground are low. */
const LOW = 120;
/** Blocks narrower than this get smaller numbers. */
const TIGHT = 30;
/** A strip lower than this writes the peak of one mark only: blocks stand too close. */
const WHOLE = 160;

/** The day from left to right: a mark per entry, thin lines of what drifts underneath. Arrow keys walk along it. */
export function Strip({ day, entries, drift, here, height = 272, label = 'The day as a strip' }: StripProps) {
  const holder = useRef<HTMLElement>(null);
  const width = useWidth(holder);
  // How far a long day is scrolled: what names a line stays in sight.
  const [scrolled, setScrolled] = useState(0);
  const writing = useWriting();
  const layout = useMemo(() => stripLayout(entries, { width, height }), [entries, width, height]);
  // One point does not drift.
  const drifting = drift?.lines.filter(({ points }) => points.length > 1) ?? [];
  const rows = drifting.map((line) => driftRow(line, layout.marks, DRIFT_HEIGHT));
  useEffect(() => {
    const mark = layout.marks.find(({ entry }) => entry.id === here);
    const element = holder.current;
    if (!element) return;
    // Without a place of its own a strip wider than its screen shows its newest end.
    element.scrollLeft = mark ? mark.x - element.clientWidth / 2 : layout.width;
  }, [here, layout]);
  const whole = height + rows.length * (DRIFT_HEIGHT + DRIFT_LABEL);
  return (
    <section
      className="strip scroll"
      ref={holder}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a long day scrolls sideways, so the keyboard must reach it
      tabIndex={0}
      aria-label={label}
      onScroll={(event) => setScrolled(event.currentTarget.scrollLeft)}
    >
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing cannot be a fieldset */}
      <svg
        width={layout.width}
        height={whole}
        viewBox={`0 0 ${layout.width} ${whole}`}
        onKeyDown={walk}
        role="group"
        aria-label="Entries in the order of time"
      >
        <Patterns />
        {layout.levels.map(({ value, y }) => (
          <g key={value} className="strip-level">
            <path d={`M0 ${y}H${layout.width}`} />
            <text x={4} y={y - 5}>
              {writing.text(value, 'power', { decimals: 0 })}
            </text>
          </g>
        ))}
        <path className="strip-ground" d={`M0 ${layout.ground}H${layout.width}`} />
        {layout.marks.map((mark) => (
          <EntryLink key={mark.entry.id} {...{ day, mark, layout, writing }} here={mark.entry.id === here} />
        ))}
        {layout.marks.map((mark) => (
          <EntryMark key={mark.entry.id} {...{ mark, layout }} told={height >= WHOLE || mark.entry.id === here} />
        ))}
        {rows.map((row, at) => (
          <g
            key={row.what}
            className="drift"
            transform={`translate(0 ${height + at * (DRIFT_HEIGHT + DRIFT_LABEL) + DRIFT_LABEL - 4})`}
          >
            <Drift row={row} from={scrolled} />
          </g>
        ))}
      </svg>
    </section>
  );
}

/** A thin line of what drifts, with its words at the left edge of what is in sight. */
function Drift({ row, from }: { readonly row: DriftRow; readonly from: number }) {
  const writing = useWriting();
  return (
    <>
      <text x={from + 4} y={-4}>
        {row.what}
        {row.at !== undefined && ` at ${writing.text(row.at, 'speed', { decimals: 0 })}`}:{' '}
        {writing.text(row.low, row.kind)}
        {row.high > row.low && ` … ${writing.text(row.high, row.kind)}`}
      </text>
      <path d={row.dots.map(({ x, y }, dot) => `${dot === 0 ? 'M' : 'L'}${x} ${y}`).join('')} />
      {row.dots.map(({ entry, value, x, y }, dot) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: two coast-downs of one entry share its name
        <circle key={dot} cx={x} cy={y} r={4}>
          <title>{`${entry}: ${writing.text(value, row.kind)}`}</title>
        </circle>
      ))}
    </>
  );
}

interface MarkProps {
  readonly mark: Mark;
  readonly layout: StripLayout;
}

/** told: the peak is written above its block. */
interface ToldProps extends MarkProps {
  readonly told: boolean;
}

interface LinkProps extends MarkProps {
  readonly day: string;
  readonly writing: Writing;
  readonly here: boolean;
}

/** The place of an entry from top to ground. All places lie under all drawings, so none hides a neighbour's clock. */
function EntryLink({ day, mark: { entry, x }, layout: { step, ground }, writing, here }: LinkProps) {
  const name = markName(entry, writing);
  return (
    <a
      className={here ? 'mark-place here' : 'mark-place'}
      href={hashOf({ page: 'entry', day, entry: entry.id, look: PLAIN_LOOK })}
      aria-label={name}
      aria-current={here ? 'page' : undefined}
    >
      <title>{name}</title>
      <rect className="mark-hit" x={x - step / 2} y={0} width={step} height={ground + 44} />
    </a>
  );
}

function EntryMark({ mark: { entry, x, block, clock, name }, layout: { ground, markWidth }, told }: ToldProps) {
  const stop = entry.stop && entry.stop.class >= 2 ? entry.stop : undefined;
  // In a low strip a block stands close to its ground: there the signs take the place of the clocks.
  const low = ground < LOW;
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of shapes takes no focus; its link stands before it
    <g className={`mark-of ${entry.standing} ${entry.kind}`} aria-hidden="true">
      {block ? <Block {...{ entry, x, block, ground, told }} width={markWidth} /> : <Sign {...{ entry, x, ground }} />}
      {stop && <Stop x={x} y={low ? ground + 4 : ground - 27} stop={stop} />}
      {!low && (
        <text className="mark-clock" x={x} y={ground + 20} textAnchor="middle">
          {clock}
        </text>
      )}
      <text className="mark-name" x={x} y={ground + 38} textAnchor="middle">
        {name}
      </text>
    </g>
  );
}

interface BlockProps extends Pick<Mark, 'entry' | 'x'> {
  readonly block: NonNullable<Mark['block']>;
  readonly width: number;
  readonly ground: number;
  readonly told: boolean;
}

/** Peak and its band on a stem: the block is as high as the band, its fill says how the pull stands. */
function Block({ entry, x, block: { top, peak, bottom }, width, ground, told }: BlockProps) {
  const writing = useWriting();
  const left = x - width / 2;
  return (
    <>
      <path className="mark-stem" d={`M${x} ${bottom}V${ground}`} />
      <rect className="mark-block" x={left} y={top} width={width} height={bottom - top} />
      <path className="mark-level" d={`M${left - 3} ${peak}h${width + 6}`} />
      {told && (
        <text className={width < TIGHT ? 'mark-peak tight' : 'mark-peak'} x={x} y={top - 6} textAnchor="middle">
          {writing.text(entry.peak?.value, 'power', { decimals: 0, unit: false })}
        </text>
      )}
    </>
  );
}

/** A hold or an end stands on the ground line under its pull: the same shapes as on the plates. */
function Stop({ x, y, stop }: { readonly x: number; readonly y: number; readonly stop: StopView }) {
  return (
    <g className={`stop-sign stop-${stop.class}`} transform={`translate(${x - 11} ${y}) scale(0.46)`}>
      <path className="stop-shape" d={SHAPES[stop.class]} />
      <path className="stop-inside" d={INSIDES[stop.class]} />
    </g>
  );
}

/** What has no height gets a sign on the ground line: a slope for a coast-down, a diamond for a change, a dot for a note, an open box for what gave no answer. */
function Sign({ entry, x, ground }: { readonly entry: StripEntry; readonly x: number; readonly ground: number }) {
  const path = {
    'coast-down': `M${x - 16} ${ground - 34}C${x - 6} ${ground - 10} ${x + 4} ${ground - 3} ${x + 16} ${ground - 2}`,
    change: `M${x} ${ground - 24}l12 12l-12 12l-12 -12Z`,
    note: `M${x - 5} ${ground - 12}h10v-10h-10Z`,
    pull: `M${x - 17} ${ground}v-60h34v60`,
  }[entry.kind];
  const letter = entry.kind !== 'pull' ? '' : entry.standing === 'waiting' ? '?' : '✕';
  return (
    <>
      <path className="mark-sign" d={path} />
      <text className="mark-letter" x={x} y={ground - 22} textAnchor="middle">
        {letter}
      </text>
    </>
  );
}

function markName(
  { clock, kind, id, title, peak, peakOf, standing, stop, stopOf }: StripEntry,
  writing: Writing,
): string {
  const power = peak
    ? `${writing.text(peak.value, 'power', { u: twice(peak.standardUncertainty) })} ${peakOf ?? ''}`
    : undefined;
  const asks =
    stop && stop.class >= 2 ? [stop.word, stopOf].filter((part) => part !== undefined).join(': ') : undefined;
  return [clock, kind, title ?? id, power, STANDING_WORDS[standing], asks]
    .filter((part) => part !== undefined && part !== '')
    .join(', ');
}

/** Fill patterns of the standings: none is told by colour alone. */
function Patterns() {
  return (
    <defs>
      <pattern id="fill-windows" width="10" height="10" patternUnits="userSpaceOnUse">
        <rect width="10" height="10" />
        <path d="M0 10L10 0" />
      </pattern>
      <pattern id="fill-doubtful" width="8" height="8" patternUnits="userSpaceOnUse">
        <rect width="8" height="8" />
        <circle cx="4" cy="4" r="1.8" />
      </pattern>
    </defs>
  );
}

function walk(event: KeyboardEvent<SVGSVGElement>): void {
  const sign = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
  if (sign === 0) return;
  const marks = [...event.currentTarget.querySelectorAll<SVGAElement>('a')];
  const at = marks.findIndex((mark) => mark.matches(':focus'));
  const next = marks[at + sign];
  if (!next) return;
  event.preventDefault();
  next.focus();
}
