import type { MarkSign } from '../drawing/plot-spec.ts';

const OUTLINES: Readonly<Record<MarkSign, string>> = {
  disc: 'M8 3a5 5 0 1 0 0 10a5 5 0 1 0 0 -10Z',
  ring: 'M8 3a5 5 0 1 0 0 10a5 5 0 1 0 0 -10Z',
  square: 'M3 3h10v10h-10Z',
  wedge: 'M8 2L13.5 12H2.5Z',
  diamond: 'M8 1.5L14.5 8L8 14.5L1.5 8Z',
};

/** A mark of a drawing, in its legend. */
export function MarkSwatch({ sign, look }: { readonly sign: MarkSign; readonly look: number }) {
  return (
    <svg className={`mark-swatch look-${look}${sign === 'disc' ? ' full' : ''}`} viewBox="0 0 16 16" aria-hidden="true">
      <path d={OUTLINES[sign]} />
    </svg>
  );
}
