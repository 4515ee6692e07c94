import type { FindingLine, Standing, StripEntry } from '../../contract/index.ts';
import type { PlotLine, PlotSpec } from '../drawing/plot-spec.ts';

const entry = (at: number, more: Partial<StripEntry> = {}): StripEntry => ({
  id: `pull-${at}`,
  kind: 'pull',
  clock: `${String(8 + Math.floor(at / 6)).padStart(2, '0')}:${(at % 6) * 10 || '00'}`,
  sentence: '',
  standing: 'valid',
  pulls: 1,
  peak: { value: 180_000 + 1200 * at, standardUncertainty: 2500 },
  peakOf: 'engine power',
  findings: { note: 0, doubt: 0, fault: 0 },
  ...more,
});

const STANDINGS: readonly Standing[] = ['valid', 'doubtful', 'windows', 'void', 'refused', 'waiting'];
const bare = (at: number, more: Partial<StripEntry>): StripEntry => {
  const { peak: _peak, peakOf: _peakOf, ...rest } = entry(at, more);
  return rest;
};

/** Strips at their borders. */
export const GALLERY_STRIPS: readonly { readonly title: string; readonly entries: readonly StripEntry[] }[] = [
  { title: 'no entry', entries: [] },
  { title: 'one entry', entries: [entry(0)] },
  { title: 'without any answer', entries: [bare(0, { standing: 'refused' }), bare(1, { standing: 'waiting' })] },
  {
    title: 'every kind and standing',
    entries: [
      ...STANDINGS.map((standing, at) => (at < 4 ? entry(at, { standing }) : bare(at, { standing }))),
      bare(6, { kind: 'coast-down' }),
      bare(7, { kind: 'change', standing: 'none', title: 'a very long title of a change' }),
      bare(8, { kind: 'note', standing: 'none' }),
    ],
  },
  { title: '60 entries', entries: Array.from({ length: 60 }, (_, at) => entry(at)) },
];

const RPM = Array.from({ length: 120 }, (_, at) => 2500 + at * 35);
const hump = (level: number) => RPM.map((_, at) => level * (100 + 80 * Math.sin((at / 119) * 2.4)));
const line = (label: string, look: number, y: readonly (number | null)[]): PlotLine => ({ label, look, x: RPM, y });
const plot = (lines: readonly PlotLine[], more: Partial<PlotSpec> = {}): PlotSpec => ({
  label: 'Example',
  xLabel: 'engine speed, rpm',
  yLabel: 'power, kW',
  hatches: [],
  height: 'middle',
  lines,
  ...more,
});

/** Marks and levels at their borders: at an edge, without a word, with a spread beyond the drawing. */
const MARKED: Partial<PlotSpec> = {
  marks: [
    { x: 2500, y: 100, sign: 'disc', look: 1, label: 'at the left edge' },
    { x: 6665, y: 160, sign: 'wedge', look: 2, label: 'a long word at the right edge' },
    { x: 4000, y: 120, sign: 'ring', look: 3, spreadX: 300, spreadY: 500 },
    { x: 4500, y: 130, sign: 'square', look: 4 },
    { x: 5000, y: 140, sign: 'diamond', look: 5, label: 'below its mark', below: true },
  ],
  levels: [
    { y: 190, label: 'a limit with a spread', spread: 8 },
    { y: -20, label: 'a limit below everything' },
  ],
};

/** Drawings at their borders. */
export const GALLERY_PLOTS: readonly { readonly title: string; readonly spec: PlotSpec }[] = [
  { title: 'no line', spec: plot([]) },
  { title: 'marks and levels', spec: plot([line('a', 1, hump(1))], MARKED) },
  {
    title: 'all missing',
    spec: plot([
      line(
        'a',
        1,
        RPM.map(() => null),
      ),
    ]),
  },
  { title: 'one point', spec: plot([{ label: 'a', look: 1, x: [4000], y: [150] }]) },
  {
    title: 'level',
    spec: plot([
      line(
        'a',
        1,
        RPM.map(() => 100),
      ),
    ]),
  },
  {
    title: 'band, gap, hatched window',
    spec: plot(
      [
        {
          ...line(
            'engine ±2u',
            1,
            hump(1).map((value, at) => (at > 50 && at < 60 ? null : value)),
          ),
          spread: RPM.map(() => 6),
        },
        line('wheel', 2, hump(0.9)),
        line('roll', 3, hump(0.85)),
      ],
      { hatches: [{ from: 4250, to: 4600 }], floor: 0 },
    ),
  },
  {
    title: 'six looks',
    spec: plot(Array.from({ length: 6 }, (_, at) => line(`look ${at + 1}`, at + 1, hump(1 - at * 0.08)))),
  },
  {
    title: '60 curves',
    spec: plot(Array.from({ length: 60 }, (_, at) => line(String(at), at + 1, hump(1 - at * 0.01)))),
  },
];

export const GALLERY_SKETCHES: readonly { readonly title: string; readonly values: readonly (number | null)[] }[] = [
  { title: 'nothing', values: [] },
  { title: 'all missing', values: [null, null, null] },
  { title: 'one value', values: [4] },
  { title: 'level', values: [3, 3, 3] },
  { title: 'a gap', values: Array.from({ length: 120 }, (_, at) => (at > 40 && at < 60 ? null : Math.sin(at / 9))) },
];

export const GALLERY_FINDINGS: readonly FindingLine[] = [
  { kind: 'a', weight: 'note', message: 'good to know' },
  { kind: 'b', weight: 'doubt', message: 'lowers confidence', rule: 'our default' },
  {
    kind: 'c',
    weight: 'fault',
    message: 'must not be used',
    place: { file: 'engine.csv', channel: 'lambda', from: 2, to: 4.5 },
  },
];
