import type { ReactNode } from 'react';
import type { StopView } from '../../contract/index.ts';

/** What a stop class asks for, told by word, by shape and by colour. A hold and an end are as large as the page allows; a note needs no plate. */
export function StopPlate({ stop, children }: { readonly stop: StopView; readonly children?: ReactNode }) {
  if (stop.class === 0) return null;
  return (
    <div className={`plate plate-${stop.class}`}>
      <StopSign stop={stop} />
      <div>
        <p className="plate-word">{stop.word}</p>
        <p className="plate-meaning">{stop.meaning}</p>
        {children}
      </div>
    </div>
  );
}

/** The shape of a stop class: a ring that comes round again, a square with a bar, an eight-sided plate with a bar. */
export function StopSign({ stop }: { readonly stop: StopView }) {
  return (
    <svg className={`stop-sign stop-${stop.class}`} viewBox="0 0 48 48" aria-hidden="true">
      <path className="stop-shape" d={SHAPES[stop.class]} />
      <path className="stop-inside" d={INSIDES[stop.class]} />
    </svg>
  );
}

/** Paths in a field of 48 by 48. */
export const SHAPES = {
  0: '',
  1: 'M24 4L44 24L24 44L4 24Z',
  2: 'M5 5H43V43H5Z',
  3: 'M16 3H32L45 16V32L32 45H16L3 32V16Z',
} as const;

export const INSIDES = {
  0: '',
  1: 'M32 20A9 9 0 1 0 33 26M33 15V21H27',
  2: 'M18 14V34M30 14V34',
  3: 'M12 24H36',
} as const;

/** The same as a word in a line of text. */
export function StopTag({ stop }: { readonly stop: StopView }) {
  if (stop.class === 0) return null;
  return (
    <span className={`stop-tag stop-tag-${stop.class}`}>
      <StopSign stop={stop} />
      {stop.word}
    </span>
  );
}
