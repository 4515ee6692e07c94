/** Colours and widths of the theme, read where the plot stands. */
export interface Ink {
  readonly text: string;
  readonly rule: string;
  readonly faint: string;
  readonly hatch: string;
  readonly shade: string;
  readonly sheet: string;
  readonly lines: readonly string[];
  readonly bands: readonly string[];
  readonly width: number;
  readonly font: string;
}

/** Colours of lines that a theme has. */
export const LOOKS = 6;

export function readInk(element: Element): Ink {
  const style = getComputedStyle(element);
  const read = (name: string) => style.getPropertyValue(name).trim();
  const numbered = (prefix: string) => Array.from({ length: LOOKS }, (_, at) => read(`${prefix}${at + 1}`));
  return {
    text: read('--ink'),
    rule: read('--grid'),
    faint: read('--rule'),
    hatch: read('--hatch'),
    shade: read('--shade'),
    sheet: read('--ground'),
    lines: numbered('--line-'),
    bands: numbered('--band-'),
    width: Number.parseFloat(read('--line-width')) || 2,
    font: `${read('--plot-font-size') || '14px'} ${style.fontFamily}`,
  };
}
