import type { PlotLine } from './plot-spec.ts';

/** Names of lines, each with a piece of its own line: colour, dash and word. */
export function Legend({ lines }: { readonly lines: readonly PlotLine[] }) {
  return (
    <ul className="legend">
      {lines.map(({ label, look }, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: lines have no other name than their place
        <li key={at}>
          <svg className={`swatch look-${((look - 1) % 6) + 1}`} viewBox="0 0 40 10" aria-hidden="true">
            <path d="M0 5H40" />
          </svg>
          {label}
        </li>
      ))}
    </ul>
  );
}
